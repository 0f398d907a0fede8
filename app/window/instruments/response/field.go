package response

import (
	"math"

	"lampblack/app/probing"
	"lampblack/app/window/plate"
	"lampblack/scope/sounding"
)

// field is one ruled field of the picture, on the screen and in print.
type field struct {
	name, unit string // over its left corner; the unit of the upright axis
	x, y       axis
	share      float32 // of the height
	lines      []line
	rings      []sounding.Point
	bars       []sounding.Point // hairlines from the foot up
	marks      []mark
	gate       float64 // how long a note is held, drawn along the foot; 0: none
}

// axis is one side of a field.
type axis struct {
	low, high float64
	log       bool
	bare      bool // no figures: those of the field below hold
	unit      string
	step      float64 // between two rules
	label     func(v float64) string
	shown     float64 // by what a value is multiplied for the figures in unit; 0 is 1
	of        string  // the unit of the values themselves, where that is another
}

// stroke is how a line is drawn.
type stroke int

const (
	full stroke = iota
	dashed
	chained // dashes and dots
	grey    // what was kept: dotted, and in the ink of rules
)

// patterns are how much of a line is drawn and left out by turns, in the toolkit's
// units: lines are told apart in black and white.
var patterns = [...][]float32{dashed: {7, 4}, chained: {7, 3, 2, 3}, grey: {3, 2}}

type line struct {
	name   string
	points []sounding.Point
	stroke stroke
}

// mark is a place on a line with a word beside it.
type mark struct {
	x, y float64
	text string
}

// at returns where v stands on the axis, 0 to 1 within it.
func (a axis) at(v float64) float64 {
	if a.log {
		return math.Log(v/a.low) / math.Log(a.high/a.low)
	}
	return (v - a.low) / (a.high - a.low)
}

func (a axis) times() float64 {
	if a.shown == 0 {
		return 1
	}
	return a.shown
}

// figure writes a value of the axis.
func (a axis) figure(v float64) string {
	if a.label != nil {
		return a.label(v)
	}
	return plate.Number(v * a.times())
}

// fields are what is drawn now.
func (p *Plate) fields() []field {
	r := &p.shown
	var kept *result
	if p.kept != nil && p.kept.form == r.form {
		kept = p.kept
	}
	switch r.form {
	case probing.Response:
		return p.responseFields(r, kept)
	case probing.Shape:
		return shapeFields(r, kept)
	case probing.Wave:
		return waveFields(r, kept)
	case probing.Transfer:
		return transferFields(r, kept)
	}
	return nil
}

// drawn are the lines of a result: what is computed, and what was kept beneath.
func drawn(r *result, now, kept []sounding.Point) []line {
	var all []line
	if len(kept) > 0 {
		all = append(all, line{"kept", kept, grey})
	}
	name := "computed"
	if r.noFormula {
		name = "measured"
	}
	if len(now) > 0 {
		all = append(all, line{name, now, full})
	}
	return all
}

func (p *Plate) responseFields(r, kept *result) []field {
	if kept == nil {
		kept = &result{}
	}
	x := axis{low: lowestHz, high: math.Max(r.highest, 2*lowestHz), log: true, unit: "Hz", label: plate.HertzLabel}
	top := p.top(r)
	step := p.set.span / 6
	if step > 6 {
		step = math.Round(step/6) * 6
	}
	level := field{name: "level", unit: "dB", x: x, y: axis{low: top - p.set.span, high: top, step: step}, share: 1,
		lines: drawn(r, r.curve, kept.curve), rings: r.rings}
	for i, h := range r.harmonics {
		if len(h) > 0 {
			level.lines = append(level.lines, line{[...]string{"2nd harmonic", "3rd harmonic"}[i], h, [...]stroke{dashed, chained}[i]})
		}
	}
	if p.set.beside == levelAlone {
		return []field{level}
	}
	level.x.bare, level.share = true, 1.6
	under := field{name: "phase", unit: "°", x: x, y: axis{low: -180, high: 180, step: 90}, share: 1,
		lines: drawn(r, wrapped(r.phase), wrapped(kept.phase)), rings: r.phaseRings}
	if p.set.beside == withDelay {
		under.name, under.unit = "delay", "ms"
		under.lines, under.rings = drawn(r, scaled(r.delay, 1e3), scaled(kept.delay, 1e3)), scaled(r.delayRings, 1e3)
		under.y = delayAxis(scaled(r.delay, 1e3), r.curve)
	}
	return []field{level, under}
}

// top is the upper end of the level axis: a whole number of 12 dB, so that a drag
// does not move it all the time.
func (p *Plate) top(r *result) float64 {
	highest := math.Inf(-1)
	for _, c := range r.curve {
		highest = math.Max(highest, c.Y)
	}
	if !(highest > -200) {
		return 12
	}
	return math.Min(12*math.Ceil((highest+1.5)/12), 96)
}

func scaled(points []sounding.Point, by float64) []sounding.Point {
	all := make([]sounding.Point, len(points))
	for i, p := range points {
		all[i] = sounding.Point{X: p.X, Y: by * p.Y}
	}
	return all
}

// wrapped breaks a line of phases where it goes round.
func wrapped(points []sounding.Point) []sounding.Point {
	var all []sounding.Point
	for i, p := range points {
		if i > 0 && math.Abs(p.Y-points[i-1].Y) > 180 {
			all = append(all, sounding.Point{X: p.X, Y: math.NaN()})
		}
		all = append(all, p)
	}
	return all
}

// delayAxis reaches as far as the delays where anything is to be heard.
func delayAxis(delay, curve []sounding.Point) axis {
	top := math.Inf(-1)
	for _, c := range curve {
		top = math.Max(top, c.Y)
	}
	low, high := 0.0, 0.0
	for i, d := range delay {
		if i < len(curve) && curve[i].Y > top-40 && !math.IsNaN(d.Y) {
			low, high = math.Min(low, d.Y), math.Max(high, d.Y)
		}
	}
	a := nice(low, high, 4)
	return a
}

// nice is an even axis with steps of 1, 2 or 5 that holds low to high in about n
// steps.
func nice(low, high float64, n float64) axis {
	if !(high > low) {
		high = low + 1
	}
	step := math.Pow(10, math.Floor(math.Log10((high-low)/n)))
	for _, by := range []float64{2, 2.5, 2} {
		if (high-low)/step <= n {
			break
		}
		step *= by
	}
	return axis{low: step * math.Floor(low/step+1e-9), high: step * math.Ceil(high/step-1e-9), step: step}
}

func shapeFields(r, kept *result) []field {
	end := r.seconds
	var before []sounding.Point
	if kept != nil {
		before = kept.curve
	}
	low, high := 0.0, 1.0
	for _, c := range r.curve {
		low, high = math.Min(low, c.Y), math.Max(high, c.Y)
	}
	y := nice(low, high, 5)
	y.high += 0.08 * (y.high - y.low) // the top stands free
	x := nice(0, math.Max(end, 1e-4), 8)
	x.high, x.unit = math.Max(end, 1e-4), "s"
	if end < 1 {
		x.unit, x.shown, x.of = "ms", 1e3, "s"
	}
	f := field{name: "shape", x: x, y: y, share: 1, lines: drawn(r, r.curve, before), rings: r.rings, gate: math.Min(r.gate, end)}
	f.marks = shapeMarks(r)
	return []field{f}
}

// shapeMarks mark what is read in a shape: where the top is reached, and where
// 63.2 % of the way down is done.
func shapeMarks(r *result) []mark {
	var all []mark
	s := r.shape
	if !r.measured || !(s.Top.Y > 0) {
		return nil
	}
	all = append(all, mark{s.Top.X, s.Top.Y, "top " + plate.Time(rounded(s.Top.X))})
	if done := s.Top.X + s.DecayTau; s.DecayTau < r.seconds && s.Sustain < s.Top.Y {
		if r.gate == 0 || done < r.gate || math.IsNaN(s.ReleaseTau) {
			all = append(all, mark{done, s.Sustain + (s.Top.Y-s.Sustain)/math.E, "decay τ " + plate.Time(rounded(s.DecayTau))})
		}
	}
	if done := r.gate + s.ReleaseTau; done < r.seconds {
		all = append(all, mark{done, s.AtEnd / math.E, "release τ " + plate.Time(rounded(s.ReleaseTau))})
	}
	return all
}

// rounded rounds to four digits.
func rounded(v float64) float64 {
	if v == 0 || math.IsInf(v, 0) || v != v {
		return v
	}
	unit := math.Pow(10, math.Floor(math.Log10(math.Abs(v)))-3)
	return math.Round(v/unit) * unit
}

const (
	barsFrom = -80.0 // dB: the foot of the bars
	barsTo   = 6.0
)

func waveFields(r, kept *result) []field {
	var before []sounding.Point
	if kept != nil {
		before = kept.curve
	}
	most := 0.0
	for _, c := range r.curve {
		most = math.Max(most, math.Abs(c.Y))
	}
	y := nice(-math.Max(1.04*most, 1e-3), math.Max(1.04*most, 1e-3), 6)
	wave := field{name: "one cycle", x: axis{low: 0, high: 1, step: 0.25, unit: "°", shown: 360, of: "cycle"}, y: y, share: 1.6, lines: drawn(r, r.curve, before), rings: r.rings}
	highest := 16.0
	for _, h := range r.cycle.Harmonics {
		if h.Computed > barsFrom {
			highest = math.Max(highest, float64(h.N))
		}
	}
	bars := field{name: "harmonics", unit: "dB", x: axis{low: 0, high: highest + 1, step: math.Ceil(highest / 16), unit: "n"},
		y: axis{low: barsFrom, high: barsTo, step: 20}, share: 1}
	for _, h := range r.cycle.Harmonics {
		bars.bars = append(bars.bars, sounding.Point{X: float64(h.N), Y: h.Computed})
		if r.measured {
			bars.rings = append(bars.rings, sounding.Point{X: float64(h.N), Y: h.Measured})
		}
	}
	return []field{wave, bars}
}

func transferFields(r, kept *result) []field {
	var before []sounding.Point
	if kept != nil {
		before = kept.curve
	}
	most := 0.0
	for _, points := range [][]sounding.Point{r.curve, r.back} {
		for _, c := range points {
			most = math.Max(most, math.Abs(c.Y))
		}
	}
	x := nice(-r.reach, r.reach, 8)
	x.low, x.high, x.unit = -r.reach, r.reach, "in"
	y := nice(-math.Max(most, 1e-3), math.Max(most, 1e-3), 6)
	y.low, y.high = 1.05*y.low, 1.05*y.high
	f := field{name: "out over in", x: x, y: y, share: 1, lines: drawn(r, r.curve, before), rings: r.rings}
	if len(r.back) > 0 {
		f.lines = append(f.lines, line{"on the way back", r.back, dashed})
	}
	return []field{f}
}
