// Package yin finds the period of a signal while it arrives.
//
//	samples -> low-pass, about 12 kHz -> squared differences at every lag -> dips -> period
//
// The method is YIN: of all lags, the period is the first at which the signal
// differs little from itself. The work is spread over the samples: each that
// is kept adds its differences to those of its hop, and at the end of a hop the
// hops of one window are summed. Nothing is forgotten by subtraction, so no
// error piles up, and the bits do not depend on how the samples are grouped.
//
// It knows no note and no module. Held by tests against signals of known pitch.
//
// Source: de Cheveigne and Kawahara, YIN, a fundamental frequency estimator for
// speech and music, JASA 111(4), 2002.
package yin

// Lowest and Highest are the limits of what can be looked for, in Hz.
const (
	Lowest  = 40
	Highest = 2000
)

const (
	target  = 12000 // samples a second that are kept, about
	hop     = 16    // kept samples from one look to the next: 1.3 ms
	reach   = 6     // samples on either side from which a value in between is made
	margin  = reach + 3
	window  = 0.72  // periods of the lowest frequency in a window: with the lag, under two
	silence = 1e-20 // power below which there is nothing to be found (-200 dB)
)

// Finder looks for periods. It is made by New and used by one goroutine.
type Finder struct {
	keep      keeper
	rate      float64   // of the kept samples
	past      []float64 // kept samples, twice, so that the last len/2 always lie in a row
	newest    int       // place of the newest in the first half of past
	sums      []float64 // of squared differences in this hop; the lag is counted from the end
	energy    float64   // of the samples in this hop
	filled    int       // kept samples in this hop
	lags      int       // how many lags are summed in this hop
	hops      []hopSums // the last hops
	newestHop int
	kernel    *kernel
	d         []float64   // d[lag]: the mean squared difference in the window
	found     []candidate // in this look
	dip       []float64   // dip[lag]: d over the mean of d up to that lag
}

// hopSums are the sums of one hop.
type hopSums struct {
	sums   []float64
	energy float64
	lags   int // how many are valid
}

// Range is what to look for.
type Range struct {
	Lowest, Highest float64 // Hz, within the limits above
	Threshold       float64 // a dip below it is a period, 0 to 1; YIN's authors took 0.1
	Near            float64 // Hz: what was found last, which is a little likelier than the rest, or 0
}

// Found is what was seen.
type Found struct {
	Hz    float64 // the frequency of the deepest dip, or of the first below the threshold; 0 if there is none
	Dip   float64 // how deep: 0 for a periodic signal, about 1 for noise
	Below bool    // whether the dip is below the threshold
	Power float64 // mean square of the signal, below about 4 kHz, in the window
}

// New makes a finder for that many samples a second, 8,000 to 384,000.
func New(rate float64) *Finder {
	f := &Finder{keep: newKeeper(rate)}
	f.rate = rate / float64(f.keep.every)
	most := int(f.rate/Lowest) + 1 + margin
	hops := int(float64(f.rate*window)/Lowest)/hop + 1
	f.past = make([]float64, 2*(most+1))
	f.sums = make([]float64, most)
	f.hops = make([]hopSums, hops)
	for i := range f.hops {
		f.hops[i].sums = make([]float64, most)
	}
	f.kernel = newKernel()
	f.d, f.dip = make([]float64, most+1), make([]float64, most+1)
	f.found = make([]candidate, 0, candidates)
	f.lags = 2 * margin
	return f
}

// Hop returns the time from one look to the next, in seconds.
func (f *Finder) Hop() float64 { return hop / f.rate }

// Resume copies the state of from, a finder of the same rate.
func (f *Finder) Resume(from *Finder) {
	f.keep.resume(&from.keep)
	copy(f.past, from.past)
	copy(f.sums, from.sums)
	for i := range f.hops {
		h, g := &f.hops[i], &from.hops[i]
		copy(h.sums, g.sums)
		h.energy, h.lags = g.energy, g.lags
	}
	f.newest, f.energy, f.filled, f.lags, f.newestHop = from.newest, from.energy, from.filled, from.lags, from.newestHop
}

// Next takes a sample, finite, and reports whether a hop is over: then Look
// must be called before the next one.
func (f *Finder) Next(x float64) bool {
	y, kept := f.keep.next(x)
	return kept && f.take(y)
}

// take adds the squared differences of a kept sample to its hop.
func (f *Finder) take(y float64) bool {
	half := len(f.past) / 2
	before := f.past[f.newest+1 : f.newest+1+half] // the oldest first, the newest last
	before = before[half-f.lags:]
	sums := f.sums[len(f.sums)-f.lags:]
	sums = sums[:len(before)]
	for i, x := range before {
		e := y - x
		sums[i] += float64(e * e)
	}
	if f.newest++; f.newest == half {
		f.newest = 0
	}
	f.past[f.newest], f.past[f.newest+half] = y, y
	f.energy += float64(y * y)
	f.filled++
	return f.filled == hop
}

// Look ends a hop and says what there is to be found in the window behind it,
// which is one period of the lowest frequency long.
func (f *Finder) Look(r Range) Found {
	hops := min(int(float64(f.rate*window)/r.Lowest)/hop+1, len(f.hops))
	lags := f.endHop(hops)
	longest := min(int(f.rate/r.Lowest)+1+margin, len(f.sums))
	f.lags = longest
	power := f.sum(hops, lags)
	if power < silence {
		return Found{Dip: 1, Power: power}
	}
	f.normalise(lags)
	lag := f.choose(max(int(f.rate/r.Highest), 2), min(lags-margin, longest-margin), r)
	if lag == 0 {
		return Found{Dip: 1, Power: power}
	}
	period, dip := f.refine(lag, lags)
	return Found{Hz: f.rate / period, Dip: dip, Below: dip < r.Threshold, Power: power}
}

// endHop puts the sums of this hop by, and returns the number of lags which are
// valid in all hops of the window.
func (f *Finder) endHop(window int) (lags int) {
	if f.newestHop++; f.newestHop == len(f.hops) {
		f.newestHop = 0
	}
	h := &f.hops[f.newestHop]
	h.sums, f.sums = f.sums, h.sums
	h.energy, h.lags = f.energy, f.lags
	clear(f.sums)
	f.energy, f.filled = 0, 0
	lags = h.lags
	for k := range window {
		lags = min(lags, f.hop(k).lags)
	}
	return lags
}

// hop returns the hop that ended k hops before the newest.
func (f *Finder) hop(k int) *hopSums {
	k = f.newestHop - k
	if k < 0 {
		k += len(f.hops)
	}
	return &f.hops[k]
}

// sum fills d with the mean squared differences of the window, and returns the
// mean power.
func (f *Finder) sum(window, lags int) float64 {
	d := f.d[1 : lags+1]
	clear(d)
	var energy float64
	for k := range window {
		h := f.hop(k)
		energy += h.energy
		sums := h.sums[len(h.sums)-lags:]
		for i, s := range sums {
			d[i] += s
		}
	}
	for i, j := 0, lags-1; i < j; i, j = i+1, j-1 {
		d[i], d[j] = d[j], d[i]
	}
	return energy / float64(window*hop)
}

// normalise divides every difference by the mean of those up to its lag (the
// paper's eq. 8): the dip at lag 0, which every signal has, goes.
func (f *Finder) normalise(lags int) {
	f.d[0], f.dip[0] = 0, 1
	sum := 0.0
	for lag := 1; lag <= lags; lag++ {
		d := f.d[lag]
		sum += d
		if sum > 0 {
			f.dip[lag] = float64(d*float64(lag)) / sum
		} else {
			f.dip[lag] = 1
		}
	}
}
