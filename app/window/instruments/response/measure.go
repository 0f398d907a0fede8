package response

import (
	"math"
	"math/cmplx"
	"slices"

	"lampblack/app/probing"
	"lampblack/scope/sounding"
)

func decibels(gains []complex128) []float64 {
	all := make([]float64, len(gains))
	for i, g := range gains {
		all[i] = sounding.DB(g)
	}
	return all
}

func degrees(g complex128) float64 { return cmplx.Phase(g) * 180 / math.Pi }

// measure adds to an answer what a run gives.
func (r result) measure() result {
	if r.form == probing.Response && r.by == notMeasured {
		return r
	}
	var err error
	switch r.form {
	case probing.Response:
		err = r.measureResponse()
	case probing.Shape:
		err = r.measureShape()
	case probing.Wave:
		if r.uncurved != "" {
			return r // without its frequency it can't be folded
		}
		if r.cycle, err = r.way.Measure(r.cycle); err == nil {
			r.rings = r.cycle.Measured
			r.compareHarmonics()
		}
	case probing.Transfer:
		err = r.measureTransfer()
	}
	r.unmeasured = words(err)
	r.measured = err == nil
	return r
}

func (r *result) measureResponse() error {
	answers, err := r.answers()
	if err != nil {
		return err
	}
	straight := answers[0]
	r.seconds = float64(len(straight.Samples)) / straight.Rate
	r.rings, r.phaseRings, r.delayRings = read(straight, r.places())
	for n := range min(len(answers)-1, len(r.harmonics)) {
		for _, f := range sounding.Steps(r.lowest, math.Min(r.highest, 0.45*straight.Rate/float64(n+2)), ringCount) {
			g, _ := answers[n+1].At(f * float64(n+2))
			r.harmonics[n] = append(r.harmonics[n], sounding.Point{X: f, Y: sounding.DB(g)})
		}
	}
	if len(r.curve) == 0 {
		r.traceMeasured(straight)
		return nil
	}
	r.compareResponse()
	return nil
}

// places are the frequencies at which it is measured: evenly over the axis, and
// where something is read in the line.
func (r *result) places() []float64 {
	hz := sounding.Steps(r.lowest, r.highest, ringCount)
	if len(r.curve) == 0 {
		return hz
	}
	f := r.figures
	if f.Band {
		hz = append(hz, f.Highest.X, f.Low, f.High)
	}
	hz = slices.DeleteFunc(append(hz, f.Edges[0], f.Edges[1]), func(v float64) bool { return !(v >= r.lowest && v <= r.highest) })
	slices.Sort(hz)
	return slices.Compact(hz)
}

func (r *result) answers() ([]sounding.Answer, error) {
	if r.by == byImpulse {
		a, err := r.way.Impulse()
		return []sounding.Answer{a}, err
	}
	return r.way.Sweep(r.by.level(), 1+len(r.harmonics))
}

// longAnswer is from how many samples on an answer is read at all places at once.
const longAnswer = 4096

// read reads an answer at frequencies, or as near to them as a long one is read.
func read(a sounding.Answer, hz []float64) (level, phase, delay []sounding.Point) {
	var gains []complex128
	var delays []float64
	if len(a.Samples) > longAnswer {
		hz, gains, delays = a.Near(hz)
	} else {
		for _, f := range hz {
			g, d := a.At(f)
			gains, delays = append(gains, g), append(delays, d)
		}
	}
	for i, f := range hz {
		level = append(level, sounding.Point{X: f, Y: sounding.DB(gains[i])})
		phase = append(phase, sounding.Point{X: f, Y: degrees(gains[i])})
		delay = append(delay, sounding.Point{X: f, Y: delays[i]})
	}
	return level, phase, delay
}

// measuredCount is how many points make a line of what was measured.
const measuredCount = 700

// traceMeasured makes a line of what was measured, where there is no formula.
func (r *result) traceMeasured(a sounding.Answer) {
	r.noFormula = true
	hz := sounding.Steps(r.lowest, r.highest, measuredCount)
	if len(a.Samples) <= longAnswer { // closer where it bends
		hz = hz[:0]
		for _, at := range sounding.Trace(r.lowest, r.highest, r.way.Near(), func(hz []float64) []float64 { return decibels(a.Gains(hz)) }) {
			hz = append(hz, at.X)
		}
	}
	r.curve, r.phase, r.delay = read(a, hz)
	r.figures = sounding.Read(r.curve)
	r.rings, r.phaseRings, r.delayRings = nil, nil, nil
}

// downTo is how far under the highest level a difference still counts, in dB: in
// the depth of a notch the last digit is many dB.
const downTo = 80

func (r *result) compareResponse() {
	var hz []float64
	var rings []complex128
	for _, p := range r.rings {
		if p.X <= comparedHz {
			hz = append(hz, p.X)
			rings = append(rings, complex(math.Pow(10, p.Y/20), 0))
		}
	}
	computed, err := r.way.Computed(hz)
	if err != nil {
		return
	}
	db, at := sounding.Worst(computed, rings, downTo)
	if at >= 0 {
		r.worst, r.worstAt, r.compared = db, hz[at], true
	}
}

func (r *result) measureShape() error {
	y, rate, err := r.way.Gate(r.gate, r.seconds)
	if err != nil {
		return err
	}
	gate := r.gate
	if r.way.Patch.Module(r.way.To.Module).Kind == "ahd" {
		gate = 0 // it heeds no end of a note
	}
	r.shape = sounding.ReadShape(y, rate, gate)
	const rings = 90
	top := 0.0
	var measured []sounding.Point
	for i := range rings {
		k := i * (len(y) - 1) / (rings - 1)
		measured = append(measured, sounding.Point{X: float64(k) / rate, Y: y[k]})
		top = math.Max(top, math.Abs(y[k]))
	}
	r.rings = measured
	if len(r.curve) == 0 {
		r.noFormula, r.rings = true, nil
		for k := 0; k < len(y); k += max(len(y)/3000, 1) {
			r.curve = append(r.curve, sounding.Point{X: float64(k) / rate, Y: y[k]})
		}
		return nil
	}
	var times []float64
	for _, p := range measured {
		times = append(times, p.X)
	}
	computed, err := r.way.Shape(r.gate, times)
	if err != nil {
		computed = computed[:min(len(computed), len(measured))]
	}
	for i, c := range computed {
		if math.Abs(c) < 1e-2*top {
			continue
		}
		if d := math.Abs(20 * math.Log10(measured[i].Y/c)); !r.compared || d > r.worst {
			r.worst, r.worstAt, r.compared = d, measured[i].X, true
		}
	}
	return nil
}

// compareHarmonics holds the levels of the harmonics against each other, down to
// 60 dB under the strongest.
func (r *result) compareHarmonics() {
	top := math.Inf(-1)
	for _, h := range r.cycle.Harmonics {
		top = math.Max(top, h.Computed)
	}
	for _, h := range r.cycle.Harmonics {
		if d := math.Abs(h.Measured - h.Computed); h.Computed > top-60 && (!r.compared || d > r.worst) {
			r.worst, r.worstAt, r.compared = d, float64(h.N)*r.cycle.Hz, true
		}
	}
}

func (r *result) measureTransfer() error {
	const points = 401
	up, down, err := r.way.Curve(r.reach, points)
	if err != nil {
		return err
	}
	differ, top := 0.0, 0.0
	for i := range up {
		differ = math.Max(differ, math.Abs(up[i].Y-down[points-1-i].Y))
		top = math.Max(top, math.Abs(up[i].Y))
	}
	if differ > 0.01*math.Max(top, 1e-3) {
		r.back = down
	}
	if len(r.curve) == 0 {
		r.noFormula, r.curve = true, up
		return nil
	}
	worst := 0.0
	for i := range up {
		d := math.Abs(up[i].Y - r.curve[i].Y)
		if d >= worst {
			worst, r.worstAt = d, up[i].X
		}
		if i%8 == 0 {
			r.rings = append(r.rings, up[i])
		}
	}
	r.worst, r.compared = 20*math.Log10(worst), true // re full scale
	return nil
}
