// Package gram keeps spectra in a row, so that they can be seen over time.
//
//	samples -> overlapping spectra -> frames of levels on a frequency axis
//
// Each frame bears the clock, in samples, of the middle of what it was taken from:
// movements of controls, which have the same clock, can be drawn over it. It knows
// no colour and no screen.
//
// Held by tests: frames stand where the sound is, blocks make no difference, and
// nothing allocates once a spectrogram is made.
package gram

import (
	"math"

	"lampblack/scope"
)

// Settings are those of a spectrogram.
type Settings struct {
	Rate    float64      // samples a second
	Samples int          // of each spectrum, 16 or more
	Hop     int          // samples from one spectrum to the next, 1 or more
	Window  scope.Window // Hann and a hop of a quarter or an eighth are usual
	Axis    scope.Axis   // frequencies from the first level of a frame to its last
	Height  int          // levels in a frame, 1 or more
	Frames  int          // that are remembered, 1 or more
}

// Gram is a spectrogram: the newest frames of a signal. It is used by one
// goroutine; only New allocates.
type Gram struct {
	settings Settings
	spectrum *scope.Spectrum
	queue    []float64 // samples of the next spectrum, and what came after them
	held     int
	skip     int   // samples to be passed over before the queue, for a hop beyond a spectrum
	start    int64 // clock of queue[0]
	levels   []float64
	ring     []float32
	clocks   []int64
	count    int64 // frames since the start
}

// New returns an empty spectrogram.
func New(s Settings) *Gram {
	if s.Hop < 1 || s.Height < 1 || s.Frames < 1 || !(s.Rate > 0) {
		panic("gram: hop, height, frames and rate must be positive")
	}
	return &Gram{
		settings: s, spectrum: scope.NewSpectrum(s.Samples, s.Window),
		queue: make([]float64, s.Samples), levels: make([]float64, s.Height),
		ring: make([]float32, s.Height*s.Frames), clocks: make([]int64, s.Frames),
	}
}

// Settings returns what New was given.
func (g *Gram) Settings() Settings { return g.settings }

// Reset forgets all frames and what waits for the next; what is written then
// begins at that clock.
func (g *Gram) Reset(clock int64) {
	g.held, g.skip, g.start, g.count = 0, 0, clock, 0
}

// Write feeds the next samples of the signal and returns how many frames they
// completed.
func (g *Gram) Write(samples []float64) int { return write(g, samples) }

// Write32 is Write for the samples of a tap.
func (g *Gram) Write32(samples []float32) int { return write(g, samples) }

func write[S scope.Sample](g *Gram, samples []S) (frames int) {
	for len(samples) > 0 {
		if g.skip > 0 {
			n := min(g.skip, len(samples))
			g.skip -= n
			g.start += int64(n)
			samples = samples[n:]
			continue
		}
		n := min(len(g.queue)-g.held, len(samples))
		for i, x := range samples[:n] {
			g.queue[g.held+i] = float64(x)
		}
		g.held += n
		samples = samples[n:]
		if g.held == len(g.queue) {
			g.frame()
			frames++
		}
	}
	return frames
}

// frame takes a spectrum and goes on by a hop.
func (g *Gram) frame() {
	g.spectrum.Transform(g.queue)
	g.spectrum.Columns(g.levels, g.settings.Rate, g.settings.Axis)
	at := int(g.count % int64(g.settings.Frames))
	row := g.ring[at*g.settings.Height:][:g.settings.Height]
	for i, db := range g.levels {
		row[i] = float32(db)
	}
	g.clocks[at] = g.start + int64(len(g.queue)/2)
	g.count++
	hop := min(g.settings.Hop, len(g.queue))
	g.held = copy(g.queue, g.queue[hop:])
	g.start += int64(hop)
	g.skip = g.settings.Hop - hop
}

// Len returns how many frames are remembered.
func (g *Gram) Len() int { return int(min(g.count, int64(g.settings.Frames))) }

// Count returns how many frames there have been since the start or Reset, so that
// a screen can tell how many are new.
func (g *Gram) Count() int64 { return g.count }

// Frame returns the levels of a frame in dBFS, from the low end of the axis to the
// high one, and the clock of its middle: 0 is the newest, Len-1 the oldest. The
// levels are valid until the frame is forgotten.
func (g *Gram) Frame(back int) (levels []float32, clock int64) {
	if back < 0 || back >= g.Len() {
		panic("gram: there is no such frame")
	}
	at := int((g.count - 1 - int64(back)) % int64(g.settings.Frames))
	return g.ring[at*g.settings.Height:][:g.settings.Height:g.settings.Height], g.clocks[at]
}

// At returns the frame (see Frame) whose middle is nearest to a clock, and false
// if that is further away than a hop.
func (g *Gram) At(clock int64) (back int, ok bool) {
	if g.Len() == 0 {
		return 0, false
	}
	_, newest := g.Frame(0)
	hops := math.Round(float64(newest-clock) / float64(g.settings.Hop))
	back = int(min(max(hops, 0), float64(g.Len()-1)))
	_, at := g.Frame(back)
	return back, max(at-clock, clock-at) <= int64(g.settings.Hop)
}
