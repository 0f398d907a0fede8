package engine

import (
	"sync"
	"sync/atomic"

	"lampblack/patch/module"
)

// FadeSeconds is how long Swap takes to pass from one graph to the next.
const FadeSeconds = 0.010

// MaxOutput bounds the absolute value of every sample that Block gives: +18 dB
// over full scale. What lies above is cut off there.
const MaxOutput = 8.0

// Engine sounds one graph at a time. Make it with New.
//
// Block belongs to the sound side (one goroutine); all other methods are the
// desk's and may be called from any goroutine.
type Engine struct {
	rate int

	// Between the sides.
	next     atomic.Pointer[Graph] // compiled, waiting for the sound side
	commands ring                  // notes and transport, desk to sound
	lost     atomic.Bool           // a command found no room
	clock    atomic.Int64
	place    where
	lead     atomic.Int32 // the voice that was started last

	// The sound side's own.
	now, old *Graph
	fade     int // samples of the fade already done
	fadeLen  int
	keys     keys
	line     transport
	leads    [module.MaxBlock]uint8 // for each sample of the block the place of the note that was started last
	leading  int                    // that place, if it is the same throughout leads, or -1
	mix      [2][module.MaxBlock]float64

	// The desk's own.
	desk    sync.Mutex
	newest  *Graph // the last graph swapped in, sounding or waiting
	running *Graph // the one that sounds until newest is picked up
	taps    map[tapName]*Tap
}

// New returns an engine at rate samples a second (8,000 to 384,000) that gives
// silence until a graph is swapped in.
func New(rate int) *Engine {
	e := &Engine{rate: rate, taps: map[tapName]*Tap{}}
	e.fadeLen = max(1, int(FadeSeconds*float64(rate)))
	e.newest = emptyGraph(rate, Voices{Count: 1, Unison: 1})
	e.running = e.newest
	e.now = e.newest
	e.keys.reset(float64(rate))
	return e
}

// Rate returns the samples a second that the engine was made for.
func (e *Engine) Rate() int { return e.rate }

// Clock returns the number of samples given since New.
func (e *Engine) Clock() int64 { return e.clock.Load() }

// Swap makes g the sounding graph; nil means silence. The sound passes to it
// within FadeSeconds, both graphs sounding meanwhile (equal gain, for the two
// are mostly alike). A module of the same name, kind, seed and recording goes
// on from where it stood, voice by voice, and so do its smoothed controls; taps
// stay on their outputs by name, and notes on their voices as long as there are
// as many. Before the first Block there is nothing to fade from and g
// begins at once.
//
// A graph belongs to one engine: swapping the same graph in again, or using it
// in two engines, panics. The graph left behind is let go of when its fade is
// over, and collected as any other memory, away from the sound side.
func (e *Engine) Swap(g *Graph) {
	e.desk.Lock()
	defer e.desk.Unlock()
	if g == nil {
		g = emptyGraph(e.rate, e.newest.voices)
	}
	if g.rate != float64(e.rate) {
		panic("engine: the graph was compiled for another rate than the engine's")
	}
	if g.used {
		panic("engine: a graph can be swapped in only once; compile the patch again")
	}
	g.used = true
	// Taken back, so that the sound side cannot pick it up while g is matched
	// with the graph that really sounds.
	if e.next.Swap(nil) == nil {
		e.running = e.newest
	}
	g.follow(e.running)
	e.newest = g
	e.route()
	e.next.Store(g)
}

// Block fills left and right, of equal length, with the next samples; +-1.0 is
// full scale, nothing is beyond MaxOutput, and nothing is infinite or not a
// number. A patch without a right side gives the left on both.
func (e *Engine) Block(left, right []float64) {
	if len(left) != len(right) {
		panic("engine: left and right differ in length")
	}
	for len(left) > 0 {
		n := min(len(left), module.MaxBlock)
		e.chunk(left[:n], right[:n])
		left, right = left[n:], right[n:]
	}
	e.line.publish(&e.place)
	e.lead.Store(int32(e.keys.newest * e.now.voices.Unison))
}

// chunk gives up to module.MaxBlock samples.
func (e *Engine) chunk(left, right []float64) {
	n := len(left)
	e.pickUp()
	e.now.takeEdits()
	e.play(n)
	e.now.run(n)
	e.now.output(left, right)
	if e.old != nil {
		e.crossFade(left, right)
	}
	bound(left)
	bound(right)
	clock := e.clock.Load()
	e.now.writeTaps(clock, e.leads[:n])
	e.clock.Store(clock + int64(n))
}

// pickUp begins the fade to the graph that waits, if the last fade is over.
func (e *Engine) pickUp() {
	if e.old != nil || e.next.Load() == nil {
		return
	}
	next := e.next.Swap(nil)
	if next == nil {
		return // the desk took it back a moment ago
	}
	if e.clock.Load() > 0 {
		next.resume(e.now)
		e.old = e.now
		e.fade = 0
	}
	e.now = next
	e.keys.use(len(next.notes), next.voices.steal)
}

// crossFade runs the old graph beside the new one, whose samples are in left
// and right, and mixes the two. The gains are 1-w and w, w rising smoothly.
func (e *Engine) crossFade(left, right []float64) {
	n := len(left)
	e.old.hear(e.now, n)
	e.old.run(n)
	oldLeft, oldRight := e.mix[0][:n], e.mix[1][:n]
	e.old.output(oldLeft, oldRight)
	for i := range left {
		if e.fade >= e.fadeLen {
			break
		}
		e.fade++
		t := float64(e.fade) / float64(e.fadeLen)
		w := float64(t*t) * (3 - float64(2*t))
		left[i] = oldLeft[i] + float64(w*(left[i]-oldLeft[i]))
		right[i] = oldRight[i] + float64(w*(right[i]-oldRight[i]))
	}
	if e.fade >= e.fadeLen {
		e.old = nil
	}
}

// bound cuts off what lies beyond MaxOutput.
func bound(x []float64) {
	if beyond(x, MaxOutput) {
		limit(x, MaxOutput)
	}
}
