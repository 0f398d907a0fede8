package look

import (
	"sync/atomic"
	"time"

	"fyne.io/fyne/v2"
)

// Pulse calls what moves on the screen about 30 times a second, all of it in
// one turn of the user interface. Its methods are called on the UI goroutine.
// Until Start, only Beat calls anybody: tests beat by hand.
type Pulse struct {
	next    int
	watched map[int]func()
	order   []int
	pending atomic.Bool
	skipped int

	// Resting tells that nothing is to be heard or done, and that all that
	// moves may move slowly. It is asked before every beat; nil is never.
	Resting func() bool
	quit    chan struct{}
}

// Live is the pulse of the program's window.
var Live = &Pulse{}

// Watch calls fn at every beat until stop is called. fn returns at once if
// nothing is to be seen or nothing has changed.
func (p *Pulse) Watch(fn func()) (stop func()) {
	if p.watched == nil {
		p.watched = map[int]func(){}
	}
	p.next++
	id := p.next
	p.watched[id] = fn
	p.order = append(p.order, id)
	return func() { delete(p.watched, id) }
}

// Beat calls everybody who watches, in the order in which they began to.
func (p *Pulse) Beat() {
	kept := make([]int, 0, len(p.order))
	for _, id := range p.order {
		if fn := p.watched[id]; fn != nil {
			kept = append(kept, id)
			fn()
		}
	}
	// A watcher may have begun during the beat.
	for _, id := range p.order {
		if len(kept) == 0 || id > kept[len(kept)-1] {
			if p.watched[id] != nil {
				kept = append(kept, id)
			}
		}
	}
	p.order = kept
}

// Start begins to beat 30 times a second until Stop. A beat is left out while
// the one before it still waits, so that a slow machine is not buried.
func (p *Pulse) Start() {
	if p.quit != nil {
		return
	}
	quit := make(chan struct{})
	p.quit = quit
	go func() {
		clock := time.NewTicker(time.Second / 30)
		defer clock.Stop()
		for {
			select {
			case <-quit:
				return
			case <-clock.C:
				if p.pending.CompareAndSwap(false, true) {
					fyne.Do(func() {
						defer p.pending.Store(false)
						if p.due() {
							p.Beat()
						}
					})
				}
			}
		}
	}()
}

// restful is of how many beats one is made while resting.
const restful = 6

// due tells whether a beat is made now.
func (p *Pulse) due() bool {
	p.skipped++
	if p.skipped < restful && p.Resting != nil && p.Resting() {
		return false
	}
	p.skipped = 0
	return true
}

// Stop ends what Start began.
func (p *Pulse) Stop() {
	if p.quit != nil {
		close(p.quit)
		p.quit = nil
	}
}
