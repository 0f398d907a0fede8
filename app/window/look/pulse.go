package look

import (
	"path"
	"reflect"
	"runtime"
	"strings"
	"time"

	"fyne.io/fyne/v2"
)

// Pulse calls what moves on the screen before each frame that the toolkit draws,
// 60 times a second where the machine can: pictures at every beat, words and
// figures, which nobody reads that fast, at every other. Its methods are called on
// the UI goroutine. Until Start, only Beat calls anybody: tests beat by hand.
type Pulse struct {
	next    int
	watched map[int]watcher
	order   []int
	skipped int
	ticks   int
	rests   bool // at the last beat at which everybody was to be called
	clock   *fyne.Animation

	// Resting tells that nothing is to be heard or done, and that all that
	// moves may move slowly. It is asked 30 times a second; nil is never.
	Resting func() bool
	// Timed counts how long each part took within a beat, Beaten the whole beat.
	// They are nil unless somebody measures.
	Timed  func(part string, took time.Duration)
	Beaten func(took time.Duration)
	parts  map[int]string
}

// watcher is somebody who is called.
type watcher struct {
	call    func()
	closely bool // at every beat, not every other
}

// Live is the pulse of the program's window.
var Live = &Pulse{}

// Watch calls fn about 30 times a second until stop is called. fn returns at once
// if nothing is to be seen or nothing has changed.
func (p *Pulse) Watch(fn func()) (stop func()) { return p.watch(watcher{fn, false}) }

// WatchClosely is Watch with fn called before every frame: for pictures.
func (p *Pulse) WatchClosely(fn func()) (stop func()) { return p.watch(watcher{fn, true}) }

func (p *Pulse) watch(w watcher) (stop func()) {
	if p.watched == nil {
		p.watched = map[int]watcher{}
	}
	p.next++
	id := p.next
	p.watched[id] = w
	p.order = append(p.order, id)
	return func() { delete(p.watched, id); delete(p.parts, id) }
}

// Beat calls everybody who watches, in the order in which they began to.
func (p *Pulse) Beat() { p.beat(true) }

// beat calls everybody, or only those who watch closely.
func (p *Pulse) beat(all bool) {
	if p.Timed != nil {
		defer func(began time.Time) { p.Beaten(time.Since(began)) }(time.Now())
	}
	order := p.order
	p.order = p.order[len(p.order):] // who comes during the beat is called at the next
	kept := order[:0]
	for _, id := range order {
		w, ok := p.watched[id]
		if !ok {
			continue
		}
		kept = append(kept, id)
		if all || w.closely {
			p.call(id, w.call)
		}
	}
	p.order = append(kept, p.order...)
}

// call calls one who watches.
func (p *Pulse) call(id int, fn func()) {
	if p.Timed == nil {
		fn()
		return
	}
	began := time.Now()
	fn()
	p.Timed(p.part(id, fn), time.Since(began))
}

// part returns the name of the type whose method watches.
func (p *Pulse) part(id int, fn func()) string {
	if name, known := p.parts[id]; known {
		return name
	}
	if p.parts == nil {
		p.parts = map[int]string{}
	}
	name := path.Base(runtime.FuncForPC(reflect.ValueOf(fn).Pointer()).Name()) // sheet.(*Sheet).beat-fm
	p.parts[id] = strings.TrimSuffix(name, "-fm")
	return p.parts[id]
}

// Start begins to beat until Stop. The toolkit calls the pulse right before it
// looks whether there is something to draw, so that no frame waits for its beat and
// no beat for its frame; a slow machine beats more slowly.
func (p *Pulse) Start() {
	if p.clock == nil {
		p.clock = &fyne.Animation{Duration: time.Hour, RepeatCount: fyne.AnimationRepeatForever, Curve: fyne.AnimationLinear, Tick: p.tick}
		p.clock.Start()
	}
}

// Stop ends what Start began.
func (p *Pulse) Stop() {
	if p.clock != nil {
		p.clock.Stop()
		p.clock = nil
	}
}

// restful is of how many of the beats at which everybody is called one is made
// while resting.
const restful = 6

// tick is the toolkit's call before a frame.
func (p *Pulse) tick(float32) {
	p.ticks++
	switch all := p.ticks%2 == 0; {
	case all && p.due():
		p.beat(true)
	case !all && !p.rests:
		p.beat(false)
	}
}

// due tells whether everybody is called now.
func (p *Pulse) due() bool {
	p.skipped++
	p.rests = p.Resting != nil && p.Resting()
	if p.rests && p.skipped < restful {
		return false
	}
	p.skipped = 0
	return true
}
