package lesson

import (
	"context"
	"fmt"
	"math"
	"strconv"
	"strings"

	"lampblack/patch"
	"lampblack/patch/engine"
	"lampblack/patch/kind"
	"lampblack/patch/memory"
	"lampblack/scope"
	"lampblack/scope/predict"
)

// Answered is what a question comes to for one patch.
type Answered struct {
	Value   float64  // measured, in the question's unit
	Text    string   // Value with its unit
	Theory  *float64 // what it should be; nil if no formula says it for this patch
	Formula string   // where Theory comes from
	Source  string
	Why     string // why there is no Theory
}

// Answer measures the answer of a question from a patch as the learner has set
// it, and works out what it should be. It renders a few seconds at 48 kHz; ctx
// ends that early. An error says what could not be measured and why.
func Answer(ctx context.Context, p patch.Patch, m memory.Memory, q Question) (Answered, error) {
	known, ok := measures[q.Measure.What]
	if !ok {
		return Answered{}, fmt.Errorf("%q can't be measured", q.Measure.What)
	}
	for _, at := range []patch.Socket{q.Measure.At, q.Measure.Beside} {
		if at != (patch.Socket{}) && !isOutput(p, at) {
			return Answered{}, fmt.Errorf("the patch has no output %s any more; it is what the question is about", at)
		}
	}
	s := stretch{Measure: q.Measure}
	of, wrong := q.values(p)
	var err error
	if q.Measure.Line != "" {
		if wrong != nil {
			return Answered{}, wrong
		}
		if s.line, s.re, err = q.places(of); err != nil {
			return Answered{}, err
		}
	}
	if s.samples, err = heard(ctx, p, m, q.Measure.At, q.Measure); err != nil {
		return Answered{}, err
	}
	if q.Measure.Beside != (patch.Socket{}) {
		if s.beside, err = heard(ctx, p, m, q.Measure.Beside, q.Measure); err != nil {
			return Answered{}, err
		}
	}
	var a Answered
	if a.Value, err = known.of(s); err != nil {
		return Answered{}, fmt.Errorf("%s at %s: %w", q.Measure.What, q.Measure.At, err)
	}
	a.Text = Words(a.Value, q.Unit)
	a.theory(p, q, s, of, wrong)
	return a, nil
}

// Words writes a value with its unit, to four digits; a whole number without a
// unit, as a count is, without decimals.
func Words(v float64, unit string) string {
	if math.Abs(v) < 5e-4 {
		v = 0 // never "-0.000"
	}
	if unit == "" && v == math.Trunc(v) {
		return strconv.FormatFloat(v, 'f', -1, 64)
	}
	digits := 3 - int(math.Floor(math.Log10(max(math.Abs(v), 1e-3))))
	return strings.TrimSpace(fmt.Sprintf("%.*f %s", min(max(digits, 0), 3), v, unit))
}

// places works out where the lines of a question stand, in Hz.
func (q Question) places(of map[string]float64) (at, re float64, err error) {
	if at, err = q.expression(q.Measure.Line, of); err == nil && q.Measure.Re != "" {
		re, err = q.expression(q.Measure.Re, of)
	}
	return math.Abs(at), math.Abs(re), err // a line below 0 Hz is heard as far above
}

func (q Question) expression(text string, of map[string]float64) (float64, error) {
	f, err := readFormula(text, q.Where)
	if err != nil {
		return 0, err
	}
	return f.value(of)
}

// heard renders what an output gives during a measure. Nothing is lost at an
// output inside the patch: it is joined to an output module of its own.
func heard(ctx context.Context, p patch.Patch, m memory.Memory, at patch.Socket, when Measure) ([]float64, error) {
	r, err := engine.Render(Probed(p, at), m, engine.RenderOptions{
		Rate: Rate, Seconds: when.From + when.For, Kinds: kind.Catalogue, Context: ctx,
	})
	if err != nil {
		return nil, err
	}
	samples := r.Left
	if at.Name == "right" {
		samples = r.Right
	}
	return samples[min(len(samples), int(math.Round(when.From*Rate))):], nil
}

// Probed returns a patch in which nothing is heard but that output, at 0 dB. For
// an output of an output module it is the patch itself.
func Probed(p patch.Patch, at patch.Socket) patch.Patch {
	if m := p.Module(at.Module); m == nil || m.Kind == engine.OutputKind {
		return p
	}
	name := "probe"
	for p.Module(name) != nil {
		name += "'"
	}
	q := p.Clone()
	q.Modules, q.Cords = nil, nil
	for _, m := range p.Modules {
		if m.Kind != engine.OutputKind {
			q.Modules = append(q.Modules, m)
		}
	}
	for _, c := range p.Cords {
		if q.Module(c.To.Module) != nil && q.Module(c.From.Module) != nil {
			q.Cords = append(q.Cords, c)
		}
	}
	q.Modules = append(q.Modules, patch.Module{
		Name: name, Kind: engine.OutputKind,
		Settings: map[string]patch.Setting{"level": {Unit: "dB"}},
	})
	q.Cords = append(q.Cords, patch.Cord{From: at, To: patch.Socket{Module: name, Name: "left"}})
	return q
}

// theory says what the lesson's formula gives, or else package predict.
func (a *Answered) theory(p patch.Patch, q Question, s stretch, of map[string]float64, wrong error) {
	if q.Theory.Value == "" {
		a.predict(p, q, s)
		return
	}
	a.Formula, a.Source = q.Theory.Formula, q.Theory.Source
	v, err := 0.0, wrong
	if err == nil {
		v, err = q.expression(q.Theory.Value, of)
	}
	if err != nil {
		a.Why = err.Error()
		return
	}
	a.Theory = &v
}

func (a *Answered) predict(p patch.Patch, q Question, s stretch) {
	r := predict.Predict(p, q.Measure.At, predict.Conditions{Rate: Rate, Velocity: 1, Held: true})
	if len(r.Why) > 0 {
		a.Why = strings.Join(r.Why, " ")
		return
	}
	a.Source = "the spectrum that follows from the patch, line by line"
	if q.Measure.What == "lines" {
		a.counted(r, q.Measure)
		return
	}
	top, ok := nearest(r.Lines, s.line)
	if !ok {
		a.Why = fmt.Sprintf("no line is predicted at %s", Words(s.line, "Hz"))
		return
	}
	v := top.Level
	a.Formula = top.Name + ": " + top.Formula
	if s.re != 0 {
		base, ok := nearest(r.Lines, s.re)
		if !ok {
			a.Why = fmt.Sprintf("no line is predicted at %s", Words(s.re, "Hz"))
			return
		}
		v -= base.Level
		a.Formula += "; " + base.Name + ": " + base.Formula
	}
	a.Theory = &v
}

func (a *Answered) counted(r predict.Prediction, m Measure) {
	n, strongest := 0.0, scope.Floor
	for _, l := range r.Lines {
		if l.Hz > 0 {
			strongest = max(strongest, l.Level)
		}
	}
	for _, l := range r.Lines {
		if l.Hz > 0 && l.Hz <= m.Below && l.Level >= strongest-m.Down {
			n++
		}
	}
	a.Theory = &n
	a.Formula = fmt.Sprintf("lines up to %s, at most %s under the strongest", Words(m.Below, "Hz"), Words(m.Down, "dB"))
}

func nearest(lines []predict.Line, hz float64) (found predict.Line, ok bool) {
	for _, l := range lines {
		if d := math.Abs(l.Hz - hz); d < 0.05 && (!ok || d < math.Abs(found.Hz-hz)) {
			found, ok = l, true
		}
	}
	return found, ok
}
