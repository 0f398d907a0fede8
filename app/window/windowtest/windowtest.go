// Package windowtest sets up a bench for the tests of the window's parts.
//
//	New -> app, theme, notebook in a folder of the test -> session
//
// Slow work comes back through Until, so that a test is one goroutine as the
// window is. It is for tests only.
package windowtest

import (
	"context"
	"path/filepath"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"lampblack/app/desk"
	"lampblack/app/window/look"
	"lampblack/assets"
	"lampblack/notebook"
	"lampblack/patch"
	"lampblack/patch/memory"
)

// Bench is a session with what its slow work has brought back.
type Bench struct {
	*desk.Session
	Book  *notebook.Book
	Path  string // of the notebook
	posts chan func()
	t     testing.TB
	left  bool
}

// New returns a bench on an empty notebook, in a theme ("soot", "paper").
func New(t testing.TB, theme string) *Bench {
	t.Helper()
	return Open(t, theme, filepath.Join(t.TempDir(), "test.lampblack"), desk.Options{Draft: true})
}

// Open returns a bench on the notebook at a path.
func Open(t testing.TB, theme, path string, o desk.Options) *Bench {
	t.Helper()
	app := test.NewTempApp(t)
	app.Settings().SetTheme(look.Theme(theme))
	book, err := notebook.Open(path, notebook.Options{})
	if err != nil {
		t.Fatal(err)
	}
	b := &Bench{Book: book, Path: path, posts: make(chan func(), 1000), t: t}
	o.Book, o.Post = book, func(fn func()) { b.posts <- fn }
	b.Session = desk.New(o)
	t.Cleanup(b.Leave)
	return b
}

// Leave closes the session and its notebook, as closing the window does.
func (b *Bench) Leave() {
	if b.left {
		return
	}
	b.left = true
	b.Session.Close()
	b.Book.Close()
}

// Until runs what slow work brings back until done holds; it fails the test
// after half a minute.
func (b *Bench) Until(what string, done func() bool) {
	b.t.Helper()
	limit := time.After(30 * time.Second)
	for !done() {
		select {
		case fn := <-b.posts:
			fn()
		case <-limit:
			b.t.Fatalf("waited half a minute: %s", what)
		}
	}
}

// Fill puts a job, two cues and two takes into the notebook, and the second
// take on the bench.
func (b *Bench) Fill() {
	b.t.Helper()
	job, _ := b.AddJob("The Glasshouse")
	moths, _ := b.AddCue(notebook.Cue{Job: job, Number: "1M4", Name: "Moths at the lamp", Timecode: "10:02:14:05"})
	b.AddCue(notebook.Cue{Job: job, Number: "1M5", Name: "Roof vent opens", Timecode: "10:03:40:12"})
	p := b.patch("hiss")
	m := memory.Memory{Length: 2, Notes: []memory.Note{
		{At: 0, For: 0.4, Pitch: -7.0 / 12, Velocity: 0.8},
		{At: 0.5, For: 0.4, Pitch: -2.0 / 12, Velocity: 0.8},
		{At: 1, For: 0.9, Pitch: 0, Velocity: 0.6},
	}}
	first := b.keep(notebook.NewTake{Cue: moths, Patch: p, Memory: m, Note: "too dry; narrow the band", Tags: []string{"wings"}, Seconds: 0.25})
	second := b.keep(notebook.NewTake{Cue: moths, From: first, Patch: p, Memory: m, Note: "wings at 25 Hz. Keep.\nThe moth should seem heavy.", Tags: []string{"wings", "night"}, Seconds: 0.25})
	b.AddCue(notebook.Cue{Job: job, Number: "2M1", Name: "Drip clock", Timecode: "10:07:00:00"})
	b.Recall(second)
}

func (b *Bench) patch(name string) patch.Patch {
	b.t.Helper()
	file, err := assets.Patch(name)
	if err != nil {
		b.t.Fatal(err)
	}
	p, err := patch.Read(file)
	if err != nil {
		b.t.Fatal(err)
	}
	return p
}

func (b *Bench) keep(n notebook.NewTake) notebook.TakeID {
	b.t.Helper()
	take, err := b.Book.Keep(context.Background(), n, nil)
	if err != nil {
		b.t.Fatal(err)
	}
	return take.ID
}

// Listen lets time pass: the engine gives that many seconds of sound.
func (b *Bench) Listen(seconds float64) {
	n := int(seconds * float64(b.Rate()))
	left, right := make([]float64, 480), make([]float64, 480)
	for done := 0; done < n; done += len(left) {
		b.Engine().Block(left, right)
	}
}

// Show puts an object into a window of that size.
func (b *Bench) Show(o fyne.CanvasObject, width, height float32) fyne.Window {
	b.t.Helper()
	w := test.NewTempWindow(b.t, o)
	w.SetPadded(false)
	w.Resize(fyne.NewSize(width, height))
	return w
}

// Themes are the names of both themes.
var Themes = []string{"soot", "paper"}
