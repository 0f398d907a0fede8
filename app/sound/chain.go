package sound

import (
	"math"
	"sync/atomic"
)

// Source renders the next samples of a sound. It is called from the sound
// thread only; left and right have the same length.
type Source interface {
	Block(left, right []float64)
}

const (
	// SafeStart is the listening level in dB at every start: low enough that a
	// full-scale patch can't startle anyone who wears headphones.
	SafeStart = -24.0
	// MinLevel and MaxLevel bound the listening level in dB. MinLevel is silence.
	MinLevel, MaxLevel = -60.0, 0.0

	// ceiling is -1 dBFS. No sample passes it; between the samples a converter may
	// swing higher, by 3 dB for a tone at a quarter of the rate, 6 dB for noise.
	ceiling       = 0.891250938
	levelSeconds  = 0.1  // time constant of the listening level: no sudden jumps
	fadeSeconds   = 0.08 // a stop that is quick and yet no click
	meterSeconds  = 0.3  // integration of the RMS reading
	maxChainBlock = 512
)

// chain is everything between a source and a device. Process belongs to the
// sound thread; all else is atomic.
type chain struct {
	rate   float64
	source Source

	audition atomic.Pointer[audition] // what is to be played
	playing  *audition                // what is being played; sound thread only
	leaving  *audition                // what it took the place of, fading; sound thread only
	level    atomic.Uint64            // listening level as a factor, float64 bits
	silent   atomic.Bool              // fade out and stay silent

	limiter limiter
	gain    float64 // the level now
	fade    float64 // 0 silent .. 1 open, linear; shaped when used
	square  float64 // running mean square

	peak      atomic.Uint64 // highest magnitude since the last reading
	rms       atomic.Uint64
	reduction atomic.Uint64 // lowest limiter gain since the last reading
	clips     atomic.Int64  // blocks in which the limiter worked
	frames    atomic.Int64  // rendered since the start
}

func newChain(source Source, rate int) *chain {
	c := &chain{rate: float64(rate), source: source}
	c.limiter.init(rate)
	c.setLevel(SafeStart)
	c.reduction.Store(math.Float64bits(1))
	return c
}

// setLevel sets the listening level in dB, clamped to MinLevel..MaxLevel.
func (c *chain) setLevel(db float64) {
	factor := 0.0
	if db > MinLevel { // also turns NaN into silence
		factor = math.Pow(10, min(db, MaxLevel)/20)
	}
	c.level.Store(math.Float64bits(factor))
}

// Process renders the next samples, any number of them.
func (c *chain) Process(left, right []float64) {
	for len(left) > 0 {
		n := min(len(left), maxChainBlock)
		c.block(left[:n], right[:n])
		left, right = left[n:], right[n:]
	}
}

func (c *chain) block(left, right []float64) {
	c.source.Block(left, right)
	c.addAudition(left, right)
	target := math.Float64frombits(c.level.Load())
	k := 1 - math.Exp(-1/(levelSeconds*c.rate))
	step := 1 / (fadeSeconds * c.rate)
	if c.silent.Load() {
		step = -step
	}
	mean := 1 - math.Exp(-1/(meterSeconds*c.rate))
	peak, lowest := 0.0, 1.0
	for i := range left {
		c.gain += k * (target - c.gain)
		c.fade = min(max(c.fade+step, 0), 1)
		g := c.gain * c.fade * c.fade * (3 - 2*c.fade) // no corner at either end
		l, r, reduction := c.limiter.next(finite(left[i])*g, finite(right[i])*g)
		left[i], right[i] = l, r
		lowest = min(lowest, reduction)
		peak = max(peak, math.Abs(l), math.Abs(r))
		c.square += mean * ((l*l+r*r)/2 - c.square)
	}
	storeMax(&c.peak, peak)
	c.rms.Store(math.Float64bits(math.Sqrt(c.square)))
	if lowest < 0.999 {
		c.clips.Add(1)
	}
	storeMin(&c.reduction, lowest)
	c.frames.Add(int64(len(left)))
}

// addAudition mixes in what is to be played. What it takes the place of fades.
func (c *chain) addAudition(left, right []float64) {
	if a := c.audition.Load(); a != c.playing {
		if c.leaving = c.playing; c.leaving != nil {
			c.leaving.stop.Store(true)
		}
		c.playing = a
	}
	for _, a := range [...]*audition{c.leaving, c.playing} {
		if a != nil {
			a.addTo(left, right)
		}
	}
}

// finite keeps a broken source from reaching a loudspeaker.
func finite(x float64) float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return 0
	}
	return x
}

func storeMax(a *atomic.Uint64, x float64) {
	for old := a.Load(); x > math.Float64frombits(old); old = a.Load() {
		if a.CompareAndSwap(old, math.Float64bits(x)) {
			return
		}
	}
}

func storeMin(a *atomic.Uint64, x float64) {
	for old := a.Load(); x < math.Float64frombits(old); old = a.Load() {
		if a.CompareAndSwap(old, math.Float64bits(x)) {
			return
		}
	}
}
