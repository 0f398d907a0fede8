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

// How long shapes may be, in s, and from where on they are run at the lowest rate.
const (
	mostShape = 300.0
	longShape = 10.0
	slowRate  = 8000
)

// value returns where a control of the way's module stands, in the engine's unit:
// a level as a factor, % as 0 to 1.
func (w Way) value(control string) float64 {
	m, k := moduleOf(&w.Patch, w.To.Module)
	s, ok := m.Settings[control]
	if !ok {
		s = k.Control(control).Default()
	}
	switch s.Unit {
	case "dB":
		return math.Pow(10, s.Value/20)
	case "%":
		return s.Value / 100
	}
	return s.Value
}

// kind is that of the module at the way's end.
func (w Way) kind() string { return w.Patch.Module(w.To.Module).Kind }

// tails is for how many time constants a curve is followed: 43 dB.
const tails = 5

// ShapeSeconds is how long the shape of an envelope is for a note of gate seconds
// until hardly anything is left of it, in s.
func (w Way) ShapeSeconds(gate float64) float64 {
	end := gate + 1
	switch w.kind() {
	case "envelope":
		end = gate + tails*w.value("release")
	case "ahd":
		end = w.value("attack") + w.value("hold") + w.value("decay")
		if w.value("curve") != 1 {
			end += (tails - 1) * w.value("decay")
		}
	case "contour":
		end = math.Max(w.drawnSeconds(), gate+0.2*w.drawnSeconds())
	case "slew":
		end = gate + w.value("fall")
		if w.value("curve") == 1 {
			end += (tails - 1) * w.value("fall")
		}
	}
	return math.Min(end, mostShape)
}

// drawnSeconds is how long the table of a contour takes.
func (w Way) drawnSeconds() float64 {
	if length := w.value("length"); length > 0 {
		return length
	}
	sum := 0.0
	m, k := moduleOf(&w.Patch, w.To.Module)
	for _, row := range m.RowsFor(k) {
		sum += row[0]
	}
	return sum
}

// Gate runs the module at the way's end for a note of gate seconds, and returns
// what it gives for that many seconds, from the start of the note, with the rate
// at which it was run: the way's own, or for a long shape the lowest. A way with a
// test signal is sent a voltage of 1 for as long as the note.
func (w Way) Gate(gate, seconds float64) (y []float64, rate float64, err error) {
	if seconds > longShape {
		w.Rate = slowRate
	}
	rate = float64(w.Rate)
	held, all := int(gate*rate+0.5), int(seconds*rate+0.5)
	var signal []float64
	late := 0
	if w.Patch.Module(sender) != nil { // a slew takes the first value at once: it is 0
		signal = make([]float64, held+2)
		for i := range held {
			signal[i+1] = 1
		}
		late = 1
	}
	r, err := w.start(signal)
	if err != nil {
		return nil, 0, err
	}
	r.engine.NoteOn(0, 1)
	r.on(min(held, all))
	r.engine.NoteOff(0)
	r.on(max(all-held, 0) + late + 1)
	return r.heard[late:], rate, nil
}

// Shape returns by its formula what the module at the way's end gives at each of
// the times, in s from the start of a note of gate seconds. The error says in
// words why there is no formula.
func (w Way) Shape(gate float64, times []float64) ([]float64, error) {
	var at func(t float64) float64
	switch w.kind() {
	case "envelope":
		e := predict.Envelope{Attack: w.value("attack"), Decay: w.value("decay"), Sustain: w.value("sustain"), Release: w.value("release")}
		at = func(t float64) float64 { return e.At(t, gate) }
	case "ahd":
		e := predict.Envelope{Attack: w.value("attack"), Hold: w.value("hold"), Decay: w.value("decay"), Even: w.value("curve") == 1}
		at = e.Held
	case "slew":
		at = func(t float64) float64 { return w.slew(t, gate) }
	case "contour":
		return w.contour(gate, times)
	default:
		return nil, errors.New("no formula is kept for this kind")
	}
	y := make([]float64, len(times))
	for i, t := range times {
		y[i] = at(t)
	}
	return y, nil
}

// slew is the kind of that name behind a gate. Source: first-order circuit theory.
func (w Way) slew(t, gate float64) float64 {
	rise, fall := w.value("rise"), w.value("fall")
	even := w.value("curve") != 1
	up := func(t float64) float64 {
		if even {
			return math.Min(t/rise, 1)
		}
		return 1 - math.Exp(-t/rise)
	}
	switch {
	case t <= gate:
		return up(t)
	case even:
		return math.Max(up(gate)-(t-gate)/fall, 0)
	}
	return up(gate) * math.Exp(-(t-gate)/fall)
}

// contour asks package predict for every moment.
func (w Way) contour(gate float64, times []float64) ([]float64, error) {
	y := make([]float64, len(times))
	for i, t := range times {
		if t <= 0 {
			continue
		}
		c := w.conditions()
		c.After = t
		if t > gate {
			if w.value("sustain") > 0 || w.value("release") == 1 {
				return y[:i], errors.New("where the contour is let go no formula is kept")
			}
		}
		p := predict.Predict(w.Patch, w.To, c)
		if len(p.Why) > 0 {
			return nil, errors.New(p.Why[0])
		}
		for _, l := range p.Lines {
			if l.Hz == 0 {
				y[i] = l.Amplitude
			}
		}
	}
	return y, nil
}

// Curve sends a voltage that rises slowly from -reach to reach, and falls again,
// and returns n points of each way: X is what went in at the moment from which
// what comes out stems. What is set to block a direct voltage is set to keep it.
func (w Way) Curve(reach float64, n int) (up, down []sounding.Point, err error) {
	w.Patch = w.Patch.Clone()
	m, k := moduleOf(&w.Patch, w.To.Module)
	if c := k.Control("direct voltage"); c != nil {
		if m.Settings == nil {
			m.Settings = map[string]patch.Setting{}
		}
		m.Settings[c.Name] = c.Choice(1)
	}
	late, err := w.late()
	if err != nil {
		return nil, nil, err
	}
	settle, ramp := w.Rate/5, w.Rate
	signal := make([]float64, settle+2*ramp+1)
	for i := range signal {
		at := float64(min(max(i-settle, 0), 2*ramp)) / float64(ramp)
		signal[i] = reach * (1 - 2*math.Abs(1-at))
	}
	r, err := w.start(signal)
	if err != nil {
		return nil, nil, err
	}
	r.engine.NoteOn(0, 1)
	r.on(len(signal) + late)
	for i := range n {
		k := settle + i*ramp/(n-1)
		up = append(up, sounding.Point{X: signal[k], Y: r.heard[k+late]})
		k += ramp
		down = append(down, sounding.Point{X: signal[k], Y: r.heard[k+late]})
	}
	return up, down, nil
}

// late is by how many samples what comes out is late.
func (w Way) late() (int, error) {
	a, err := w.Impulse()
	if err != nil {
		return 0, nil // it answers with something else than it was sent
	}
	_, delay := a.At(200)
	n := math.Round(delay * a.Rate)
	if !(n > 0 && n < 4800) {
		return 0, nil
	}
	return int(n), nil
}

// CurveAt returns by its formula what comes out for a voltage that stands still.
func (w Way) CurveAt(in []float64) ([]float64, error) {
	out := make([]float64, len(in))
	if w.kind() == "saturation" {
		for i, x := range in {
			out[i] = w.bent(x)
		}
		return out, nil
	}
	for i, x := range in {
		c := w.conditions()
		c.Levels = map[patch.Socket]float64{sent: x}
		p := predict.Predict(w.Patch, w.To, c)
		if len(p.Why) > 0 {
			return nil, errors.New(p.Why[0])
		}
		for _, l := range p.Lines {
			if l.Hz == 0 {
				out[i] = l.Amplitude
			}
		}
	}
	return out, nil
}

// bent is the curve of the kind saturation, with the direct voltage kept: drive,
// bias, curve, level and mix as its help says.
func (w Way) bent(x float64) float64 {
	curve := [...]func(float64) float64{math.Tanh,
		func(x float64) float64 { return math.Min(math.Max(x, -1), 1) },
		func(x float64) float64 { return math.Sin(math.Pi / 2 * x) }}[int(w.value("curve"))]
	bias := w.value("bias")
	wet := w.value("level") * (curve(w.value("drive")*x+bias) - curve(bias))
	return x + w.value("mix")*(wet-x)
}

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
