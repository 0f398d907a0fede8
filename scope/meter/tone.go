package meter

import (
	"math"
	"math/bits"
)

// What a Tone looks at.
const (
	toneSeconds = 0.5     // a window is the next power of 2 of samples
	toneLowest  = 20.0    // Hz
	toneHighest = 20000.0 // Hz, for THD+N: the band of AES17
	toneLines   = 64      // the strongest lines
	toneFaint   = 1e-5    // of the strongest line: fainter ones do not count
	toneDivisor = 32      // the strongest line may be that harmonic of the pitch
	toneShare   = 0.1     // of the power that must be in the harmonics
	toneClear   = 30.0    // times the mean of what is beside the strongest line; noise reaches some 10
)

// Tone finds the pitch of a steady tone and what is beside it. It looks at one
// stretch of 0.5 to 1 s after the other, in the channel that is the loudest there,
// and remembers the strongest tone. Make it with NewTone.
//
// A steady tone is found within 0.1 cent from 40 Hz on. THD+N is made as AES17
// does, but with a spectrum in place of the notch filter: what is left in the band
// of 20 Hz to 20 kHz beside the strongest line, re all of it.
type Tone struct {
	clean  cleaner
	lines  *lines
	past   [][]float64
	filled int
	frame  int64
	peaks  []line
	// strongest: nobody asks for Now.
	strongest bool
	now       ToneReading
	best      ToneReading
	feeding   func([][]float64)
}

// ToneReading is what a Tone found in one stretch.
type ToneReading struct {
	Found   bool
	Hz      float64 // the pitch; its root may be missing
	Share   float64 // of the power that is in its harmonics, 0 to 1
	Line    float64 // Hz of the strongest line
	Level   float64 // of that line, dBFS
	THDN    float64 // THD+N beside that line, dB
	At      float64 // where the stretch begins, s
	Seconds float64 // how long it is
	Channel int     // in which channel, from 0
	power   float64
}

// NewTone returns a tuner for that many channels, at 8,000 to 384,000 Hz.
func NewTone(rate float64, channels int) *Tone {
	mustRate(rate)
	return newTone(rate, channels, 1<<bits.Len(uint(rate*toneSeconds)))
}

func newTone(rate float64, channels, n int) *Tone {
	t := &Tone{clean: newCleaner(channels), lines: newLines(rate, n), peaks: make([]line, 0, toneLines)}
	for range channels {
		t.past = append(t.past, make([]float64, n))
	}
	t.feeding = t.take
	return t
}

// Write feeds the next samples of all channels, equally many of each.
func (t *Tone) Write(channels [][]float64) { feed(&t.clean, channels, t.feeding) }

// Write32 is Write for the samples of taps.
func (t *Tone) Write32(channels [][]float32) { feed(&t.clean, channels, t.feeding) }

func (t *Tone) take(channels [][]float64) {
	n := len(t.lines.window)
	for at, end := 0, len(channels[0]); at < end; {
		got := 0
		for c, ch := range channels {
			got = copy(t.past[c][t.filled:], ch[at:])
		}
		at += got
		t.filled += got
		if t.frame += int64(got); t.filled == n {
			t.look()
			t.filled = 0
		}
	}
}

// Now returns what the last stretch holds.
func (t *Tone) Now() ToneReading { return t.now }

// Strongest returns the strongest tone so far. If no stretch is complete it looks
// at what is there, if that is 1024 samples.
func (t *Tone) Strongest() ToneReading {
	if t.frame > int64(t.filled) || t.filled < 1024 {
		return t.best
	}
	short := newTone(t.lines.rate, len(t.past), 1<<(bits.Len(uint(t.filled))-1))
	parts := make([][]float64, len(t.past))
	for c := range parts {
		parts[c] = t.past[c][:t.filled]
	}
	short.Write(parts)
	return short.best
}

// look finds the tone of a complete stretch.
func (t *Tone) look() {
	channel, loudest := 0, 0.0
	for c, samples := range t.past {
		sum := 0.0
		for _, x := range samples {
			sum += x * x
		}
		if sum > loudest {
			channel, loudest = c, sum
		}
	}
	n := len(t.lines.window)
	t.now = ToneReading{
		Channel: channel, Seconds: float64(n) / t.lines.rate,
		At: float64(t.frame-int64(n)) / t.lines.rate,
	}
	if loudest/float64(n) < 1e-14 { // -140 dB: the last bit of 24
		return
	}
	if power := t.lines.fade(t.past[channel]); t.strongest && power <= t.best.power {
		return // no tone in it can be stronger than all of it
	}
	t.lines.transform()
	t.now.find(t)
	if t.now.Found && t.now.power > t.best.power {
		t.best = t.now
	}
}

// find fills in all but the stretch.
func (r *ToneReading) find(t *Tone) {
	l := t.lines
	all := l.sum(toneLowest, l.rate/2)
	top := t.listPeaks()
	if top.power == 0 || all == 0 {
		return
	}
	r.Hz, r.Share = t.pitch(top, all)
	r.power = r.Share * all
	r.Found = r.Share >= toneShare && l.clear(top)
	r.Line, r.Level = top.hz, powerDB(2*top.power)
	// The notch takes the line's lobe, and a bin more for what is not quite steady.
	notch := float64(lobe+1) * l.width()
	band := min(toneHighest, l.rate/2)
	rest := l.sum(toneLowest, min(top.hz-notch, band)) + l.sum(max(top.hz+notch, toneLowest), band)
	r.THDN = powerDB(rest / max(l.sum(toneLowest, band), 1e-300))
}

// listPeaks lists the lines that stand out, and returns the strongest.
func (t *Tone) listPeaks() (top line) {
	l := t.lines
	t.peaks = t.peaks[:0]
	floor := 30 * l.median() // noise stays below: its highest bin is some 20 times its median
	first := max(2, int(toneLowest/l.width()))
	highest := 0.0
	for _, p := range l.power[first : len(l.power)-2] {
		highest = max(highest, p)
	}
	floor = max(floor, toneFaint*highest)
	for k := first; k < len(l.power)-2; k++ {
		p := l.power[k]
		if p < floor || p < l.power[k-1] || p <= l.power[k+1] {
			continue
		}
		found := l.at(k)
		if p == highest {
			top = found
		}
		t.keep(found)
	}
	return top
}

// keep puts a line into the list; of a full one the weakest goes.
func (t *Tone) keep(found line) {
	if len(t.peaks) < cap(t.peaks) {
		t.peaks = append(t.peaks, found)
		return
	}
	weakest := 0
	for i, p := range t.peaks {
		if p.power < t.peaks[weakest].power {
			weakest = i
		}
	}
	if found.power > t.peaks[weakest].power {
		t.peaks[weakest] = found
	}
}

// pitch returns the frequency of which the lines are harmonics: the strongest line
// or a whole part of it, the highest that explains nearly as much as any other. The
// roots of the amplitudes are counted, so that a weak root has its say; what a comb
// as dense would catch by chance is taken off.
func (t *Tone) pitch(top line, all float64) (hz, share float64) {
	var scores [toneDivisor + 1]float64
	scores[1] = t.score(top.hz)
	best := scores[1]
	for n := 2; n <= toneDivisor && top.hz/float64(n) >= toneLowest; n++ {
		scores[n] = t.score(top.hz / float64(n))
		best = max(best, scores[n])
	}
	n := 1
	for scores[n] < 0.85*best {
		n++
	}
	root := top.hz / float64(n)
	// Least squares over the harmonics, weighed by their power.
	var up, down, sum float64
	for _, p := range t.peaks {
		if k := math.Round(p.hz / root); k >= 1 && math.Abs(p.hz-k*root) < t.tolerance(p.hz) {
			up += p.power * k * p.hz
			down += p.power * k * k
			sum += p.power
		}
	}
	if down == 0 {
		return top.hz, 0
	}
	return up / down, min(sum/all, 1)
}

func (t *Tone) tolerance(hz float64) float64 { return t.lines.width() + 0.002*hz }

func (t *Tone) score(root float64) float64 {
	var caught, most float64
	for _, p := range t.peaks {
		weight := math.Sqrt(math.Sqrt(p.power))
		tolerance := t.tolerance(p.hz)
		chance := min(2*tolerance/root, 1)
		most += weight * (1 - chance)
		caught -= weight * chance
		if k := math.Round(p.hz / root); k >= 1 && math.Abs(p.hz-k*root) < tolerance {
			caught += weight
		}
	}
	if most <= 0 {
		return 0
	}
	return caught / most
}
