package probing

import (
	"errors"
	"fmt"
	"math"
	"math/cmplx"
	"slices"

	"lampblack/patch"
	"lampblack/scope/predict"
	"lampblack/scope/sounding"
)

// Cycle is one cycle of a source.
type Cycle struct {
	Hz        float64          // how often it comes
	Computed  []sounding.Point // X in cycles, 0 to 1
	Measured  []sounding.Point // the same, of what was run
	Harmonics []Harmonic       // from the first on
}

// Harmonic is a multiple of a cycle's frequency. Levels are in dB of a peak of 1.
type Harmonic struct {
	N                  int
	Computed, Measured float64
}

// How many harmonics are told, and points of a cycle drawn.
const (
	mostHarmonics = 32
	cyclePoints   = 2400
	foldedPoints  = 64
	leastHz       = 0.01 // slower than that it is not run: two cycles take minutes
)

// cycleRate is at which rate a source is looked at: a slow one at the lowest.
func (w Way) cycleRate() Way {
	if _, k := moduleOf(&w.Patch, w.To.Module); k.Family != patch.Sources {
		w.Rate = slowRate
	}
	return w
}

// ComputedCycle returns one cycle of the lowest tone by its formulas, from the
// start of the sound on, with its harmonics. The error says in words why there is
// none.
func (w Way) ComputedCycle() (c Cycle, err error) {
	w = w.cycleRate()
	p := predict.Predict(w.Patch, w.To, w.conditions())
	if len(p.Why) > 0 && len(p.Lines) == 0 {
		return c, errors.New(p.Why[0])
	}
	strongest := 0.0
	for _, l := range p.Lines {
		if l.Hz > 0 {
			strongest = math.Max(strongest, math.Abs(l.Amplitude))
		}
	}
	for _, l := range p.Lines { // what has folded is no tone of its own
		if l.Hz > 1e-6 && !l.Folded && !l.Reflected && math.Abs(l.Amplitude) > 1e-4*strongest && (c.Hz == 0 || l.Hz < c.Hz) {
			c.Hz = l.Hz
		}
	}
	if c.Hz == 0 {
		return c, errors.New("nothing sounds there that comes back again and again")
	}
	for _, l := range p.Lines {
		if n := math.Round(l.Hz / c.Hz); n >= 1 && n <= mostHarmonics && math.Abs(l.Hz-n*c.Hz) < 1e-3*c.Hz {
			c.Harmonics = append(c.Harmonics, Harmonic{N: int(n), Computed: l.Level, Measured: math.NaN()})
		}
	}
	slices.SortFunc(c.Harmonics, func(a, b Harmonic) int { return a.N - b.N })
	c.Computed = sum(p.Lines, c.Hz)
	return c, nil
}

// sum adds lines up over one cycle of hz. Lines that are no multiples of it stand
// where the first cycle has them.
func sum(lines []predict.Line, hz float64) []sounding.Point {
	points := make([]sounding.Point, cyclePoints)
	for i := range points {
		points[i].X = float64(i) / (cyclePoints - 1)
	}
	for _, l := range lines {
		if l.Hz == 0 {
			for i := range points {
				points[i].Y += l.Amplitude
			}
			continue
		}
		turn := 2 * math.Pi * l.Hz / hz
		step := cmplx.Rect(1, turn/(cyclePoints-1))
		var z complex128
		for i := range points {
			if i%128 == 0 { // products of rounded numbers drift
				z = cmplx.Rect(l.Amplitude, turn*points[i].X+l.Phase*math.Pi/180)
			}
			points[i].Y += real(z)
			z *= step
		}
	}
	return points
}

// Measure runs the source and folds what it gives into one cycle; it adds what the
// harmonics measure.
func (w Way) Measure(c Cycle) (Cycle, error) {
	w = w.cycleRate()
	if !(c.Hz >= leastHz) {
		return c, fmt.Errorf("a cycle takes %.0f s: it is not run", 1/c.Hz)
	}
	r, err := w.start(nil)
	if err != nil {
		return c, err
	}
	rate := float64(w.Rate)
	settle := int(math.Min(1, 1/c.Hz) * rate)
	long := int(math.Max(1, 2/c.Hz) * rate)
	if c.Hz < 20 { // so many cycles that neighbours are parted
		long = int(math.Min(24/c.Hz, 120) * rate)
	}
	r.engine.NoteOn(0, 1)
	r.on(settle + long)
	x := r.heard[settle:]
	c.Measured = folded(x, settle, c.Hz/rate)
	c.Harmonics = append([]Harmonic(nil), c.Harmonics...)
	for i := range c.Harmonics {
		a, _ := sounding.Line(x, c.Hz*float64(c.Harmonics[i].N), rate)
		c.Harmonics[i].Measured = 20 * math.Log10(a)
	}
	return c, nil
}

// folded lays samples, the first of which is number first of the sound, over one
// cycle of so many turns a sample, and returns those that lie nearest to places
// evenly apart.
func folded(x []float64, first int, turns float64) []sounding.Point {
	var near [foldedPoints]sounding.Point
	var away [foldedPoints]float64
	for i := range away {
		away[i] = math.Inf(1)
	}
	for i, v := range x {
		at := math.Mod(float64(first+i)*turns, 1)
		k := min(int(at*foldedPoints), foldedPoints-1)
		if d := math.Abs(at*foldedPoints - float64(k) - 0.5); d < away[k] {
			away[k], near[k] = d, sounding.Point{X: at, Y: v}
		}
	}
	var all []sounding.Point
	for k := range near {
		if !math.IsInf(away[k], 1) {
			all = append(all, near[k])
		}
	}
	return all
}
