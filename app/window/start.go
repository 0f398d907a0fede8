package window

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/signal"
	"sync"
	"syscall"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/app"

	"lampblack/app/demo"
	"lampblack/app/desk"
	"lampblack/app/sound"
	"lampblack/app/window/look"
	"lampblack/notebook"
)

// Options say what is opened.
type Options struct {
	Notebook string        // the notebook's file; "" is the one in the desktop's folder for data
	Program  string        // the program's version, written into takes
	Silent   bool          // open no sound device
	Buffer   time.Duration // between the sound and the loudspeaker; see sound.Options
	Timings  string        // the file into which its speed is written at the end, "" for none
}

// id is the program's name for the desktop: it finds its preferences by it.
const id = "lampblack"

// Open shows the window and returns when it is closed, or at once with an error
// if there is no display. A notebook that can't be opened is told on the page;
// a new one gets the demo job. It must be called on the first goroutine of the
// program.
func Open(ctx context.Context, o Options) error {
	if err := display(); err != nil {
		return err
	}
	if o.Notebook == "" {
		o.Notebook = notebook.DefaultPath()
	}
	spare()
	book, why := notebook.Open(o.Notebook, notebook.Options{Program: o.Program})
	later := &errands{do: fyne.Do}
	s := desk.New(desk.Options{Book: book, NoBook: why, Post: later.post, Draft: true, Program: o.Program})
	w := New(app.NewWithID(id), s)
	w.later = later
	report, err := w.time(o.Timings)
	if err != nil {
		return err
	}
	if larger := desktopText(); larger != 1 {
		w.EnlargeText(larger)
	}
	done, stop := context.WithCancel(ctx)
	deaf := func() {}
	var closing error
	end := sync.OnceFunc(func() { // while the toolkit still runs: nobody must call it afterwards
		w.deafen()
		deaf()
		stop()
		look.Live.Stop()
		w.keepSize()
		w.Stop()
		closing = s.Close()
	})
	// A window that is closed by the toolkit (fyne v2.7.1) still gets the mouse for a
	// few turns, and ends in a panic there: the loop is left with the window open.
	w.leave = func() {
		end()
		fyne.CurrentApp().Driver().Quit()
	}
	w.SetCloseIntercept(w.leave)
	early := make(chan os.Signal, 1)
	signal.Notify(early, os.Interrupt, syscall.SIGTERM)
	fyne.CurrentApp().Lifecycle().SetOnStarted(func() {
		deaf = closeWhenAsked(ctx, w.leave)
		select {
		case <-early: // while the window came up
			w.leave()
			return
		default:
		}
		w.begin(done, book, o)
	})
	defer hushLog()()
	w.ShowAndRun()
	end() // if the toolkit left its loop by itself
	if book == nil {
		return errors.Join(closing, report())
	}
	return errors.Join(closing, report(), book.Close())
}

// closeWhenAsked calls leave when ctx ends or the system asks the program to end,
// until deaf is called. A second signal ends the program at once.
func closeWhenAsked(ctx context.Context, leave func()) (deaf func()) {
	// The toolkit (fyne v2.7.1) leaves its loop on these signals without another
	// word, so that nothing would be stored and the pulse would go on. It asks for
	// them in a goroutine that has only just been started: without a pause it may do
	// so after this.
	time.Sleep(2 * time.Millisecond)
	signal.Reset(os.Interrupt, syscall.SIGTERM)
	asked, stop := signal.NotifyContext(ctx, os.Interrupt, syscall.SIGTERM)
	forget := context.AfterFunc(asked, func() {
		stop()
		fyne.Do(leave)
	})
	return func() {
		forget()
		stop()
	}
}

// begin does what is slow once the window is to be seen.
func (w *Window) begin(ctx context.Context, book *notebook.Book, o Options) {
	look.Live.Resting = w.resting
	look.Live.Start()
	go func() {
		out := sound.Open(w.session.Engine(), sound.Options{Rate: w.session.Rate(), Buffer: o.Buffer, Silent: o.Silent, Timings: w.counts})
		fyne.Do(func() {
			if ctx.Err() != nil {
				out.Close() // the window was closed meanwhile
				return
			}
			w.session.Attach(out)
		})
	}()
	fresh := w.untouched(book)
	if book == nil || !fresh && !w.begun() {
		w.start()
		return
	}
	if fresh {
		w.building(ctx, 0)
	}
	go func() {
		err := demo.Build(ctx, book, func(done float64) { w.later.post(func() { w.building(ctx, done) }) })
		w.later.post(func() {
			if ctx.Err() != nil {
				return // the window was closed meanwhile: the next start goes on
			}
			w.built = true
			w.session.Withdraw(w.progress)
			if err != nil {
				w.session.Notify(desk.Notice{Place: desk.AtContents, Text: err.Error(), Fault: true})
			}
			w.session.Reload()
			w.start()
		})
	}()
}

// building tells how far the demo job has come.
func (w *Window) building(ctx context.Context, done float64) {
	if w.built || ctx.Err() != nil {
		return
	}
	w.session.Withdraw(w.progress)
	w.progress = desk.Notice{Place: desk.AtContents, Text: fmt.Sprintf(
		"a new notebook: the demo job is being made for it, a film about a night greenhouse (%.0f %%)", done*100)}
	w.session.Notify(w.progress)
	w.session.Reload()
}

// untouched tells whether a notebook is new, or was left before anything came into
// it, by a person or as the demo job.
func (w *Window) untouched(book *notebook.Book) bool {
	if _, found := w.session.Draft(); book == nil || found {
		return false
	}
	fresh, err := book.Untouched()
	return err == nil && fresh
}

// begun tells whether the demo job is in the notebook: the program may have
// been closed while it was being made. One that is complete is left alone.
func (w *Window) begun() bool {
	for _, job := range w.session.Contents() {
		if job.Job.Name == demo.Job {
			return true
		}
	}
	return false
}

// start puts something on an empty bench: the chosen take of the first job, if
// there is no work from last time.
func (w *Window) start() {
	if _, found := w.session.Draft(); found || len(w.session.Patch().Modules) > 0 {
		return
	}
	var first notebook.TakeID
	for _, job := range w.session.Contents() {
		for _, cue := range job.Cues {
			for _, take := range cue.Takes {
				if take.Star {
					w.session.Recall(take.ID)
					return
				}
				if first == 0 {
					first = take.ID
				}
			}
		}
	}
	if first != 0 {
		w.session.Recall(first)
	}
}
