package engine

import (
	"math"
	"sync/atomic"

	"lampblack/patch"
	"lampblack/patch/module"
)

// TapSamples is how many samples a Tap remembers.
const TapSamples = 65536

// tapPairs: two float32 samples lie in one word, since an atomic store costs far
// more than the arithmetic around it.
const tapPairs = TapSamples / 2

// tapRetries is how often Read tries again when the sound side overtook it.
const tapRetries = 4

// tapName is an output, or a control.
type tapName struct{ module, output, control string }

// Tap remembers the newest TapSamples samples of one output or control: one
// writer (the sound side), any number of readers, no locks. Samples are float32,
// which is 144 dB. It stays on its output by name through every Swap; while no
// such output sounds it hears silence. Of a module that is there once for every
// voice it hears the voice that was started last. Its memory is 256 kB: tap what
// is seen.
type Tap struct {
	end  atomic.Int64 // the engine's clock after the newest sample, rounded down to even
	half uint32       // the sound side's: an even sample whose odd one has not come
	ring [tapPairs]atomic.Uint64
	uses int // the desk's
}

// Tap begins to listen to an output, or shares the tap that does so already.
// The module need not exist yet. Untap as often as you Tap.
func (e *Engine) Tap(module, output string) *Tap {
	return e.tap(tapName{module: module, output: output})
}

// TapControl is Tap for the values of a control, sample by sample: its setting,
// smoothed, moved by cords and held within its range. They are in the engine's
// unit; InUnit gives that in which the control is written. While nobody listens
// it costs nothing.
func (e *Engine) TapControl(module, control string) *Tap {
	return e.tap(tapName{module: module, control: control})
}

// InUnit returns a value of a control that is written in a unit, out of that
// which the engine computes with: a level in dB is a factor there, a percentage
// 0 to 1.
func InUnit(unit string, v float64) float64 { return toDisplay(unit, v) }

func (e *Engine) tap(name tapName) *Tap {
	e.desk.Lock()
	defer e.desk.Unlock()
	t := e.taps[name]
	if t == nil {
		t = &Tap{}
		e.taps[name] = t
		e.route()
	}
	t.uses++
	return t
}

// Untap ends what one call of Tap began. When nobody listens any more the tap
// stands still; it can still be read.
func (e *Engine) Untap(t *Tap) {
	e.desk.Lock()
	defer e.desk.Unlock()
	if t.uses--; t.uses > 0 {
		return
	}
	for name, other := range e.taps {
		if other == t {
			delete(e.taps, name)
		}
	}
	e.route()
}

// End returns the engine's clock after the newest sample that can be read.
func (t *Tap) End() int64 { return t.end.Load() }

// Read fills dst with the newest len(dst) samples and returns the engine's clock
// after the last of them; samples from before the tap are 0. It is not ok, and
// dst holds nothing of use, if len(dst) is over TapSamples/2 or the sound side
// kept overtaking.
func (t *Tap) Read(dst []float32) (end int64, ok bool) {
	for range tapRetries {
		if end = t.end.Load(); t.ReadAt(end, dst) {
			return end, true
		}
	}
	return 0, false
}

// ReadAt fills dst with the samples that end at clock end, so that two taps can
// be read over the same time. It is not ok, and dst holds nothing of use, if
// they have not come yet or are remembered no more.
func (t *Tap) ReadAt(end int64, dst []float32) bool {
	n := int64(len(dst))
	if n > TapSamples/2 || end > t.end.Load() {
		return false
	}
	for i := range dst {
		if at := end - n + int64(i); at < 0 {
			dst[i] = 0
		} else {
			dst[i] = t.sample(at)
		}
	}
	// While dst was read, the writer may have gone on by one block more than it
	// has told; what it wrote over must lie before what was read.
	newest := t.end.Load() + 2*module.MaxBlock
	return end-n > newest-TapSamples
}

// sample returns the sample at a clock.
func (t *Tap) sample(at int64) float32 {
	w := t.ring[(at/2)%tapPairs].Load()
	return math.Float32frombits(uint32(w >> (32 * uint(at&1))))
}

// write appends samples whose first has that clock; sound side.
func (t *Tap) write(clock int64, samples []float64) {
	for i, x := range samples {
		bits := math.Float32bits(float32(x))
		at := clock + int64(i)
		if at&1 == 0 {
			t.half = bits
			continue
		}
		t.ring[(at/2)%tapPairs].Store(uint64(bits)<<32 | uint64(t.half))
	}
	t.end.Store((clock + int64(len(samples))) &^ 1)
}

// route says which buffer a tap is filled from.
type route struct {
	tap    *Tap
	voices [][]float64 // module.MaxBlock samples of the output, in every voice or once
	held   bool        // within bounds already, and not to be written to: a control's
}

// route tells the sounding graph and the waiting one what the taps listen to;
// desk side.
func (e *Engine) route() {
	for _, g := range []*Graph{e.running, e.newest} {
		routes := make([]route, 0, len(e.taps))
		for name, t := range e.taps {
			routes = append(routes, route{t, g.tapped(name), name.control != ""})
		}
		g.routes.Store(&routes)
	}
}

// tapped returns the samples of an output or a control in every voice, or silence.
func (g *Graph) tapped(name tapName) (voices [][]float64) {
	if name.control != "" {
		if g.each(name.module, name.control, func(c *control, _ *patch.Control) { voices = append(voices, c.v) }) {
			return voices
		}
		return [][]float64{g.silence}
	}
	if at, ok := g.byName[name.module]; ok {
		if k := g.nodes[at.first].kind.Output(name.output); k >= 0 {
			for v := range at.count {
				voices = append(voices, g.nodes[at.of(v)].outs[k][1:])
			}
			return voices
		}
	}
	return [][]float64{g.silence}
}

// writeTaps fills every tap with this block, for each sample of which leads names
// the place of the note that was started last.
func (g *Graph) writeTaps(clock int64, leads []uint8) {
	routes := g.routes.Load()
	if routes == nil {
		return
	}
	for _, r := range *routes {
		for i := 0; i < len(leads); {
			j := i + 1
			for j < len(leads) && leads[j] == leads[i] {
				j++
			}
			voice := min(int(leads[i])*g.voices.Unison, len(r.voices)-1)
			x := r.voices[voice][i:j]
			if !r.held {
				x = heeded(x)
			}
			r.tap.write(clock+int64(i), x)
			i = j
		}
	}
}

// heeded bounds the samples of an output that no cord reads: they have not been
// looked at.
func heeded(x []float64) []float64 {
	if beyond(x, MaxSignal) {
		limit(x, MaxSignal)
	}
	return x
}
