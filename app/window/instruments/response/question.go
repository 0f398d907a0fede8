package response

import (
	"fmt"
	"math"

	"lampblack/app/desk"
	"lampblack/app/probing"
	"lampblack/patch"
	"lampblack/scope/sounding"
)

type patchModule = patch.Module

// question is all that an answer hangs on. It is a value of its own: it may be
// answered on any goroutine.
type question struct {
	form  probing.Form
	way   probing.Way
	title string // what is shown: "reed: in to band"
	why   string // of Words: why nothing is shown
	by    method
	gate  float64 // s that a note is long
	reach float64 // of a transfer curve
}

func (q question) same(r question) bool {
	return q.form == r.form && q.title == r.title && q.why == r.why && q.by == r.by && q.gate == r.gate && q.reach == r.reach &&
		q.way.To == r.way.To && q.way.Rate == r.way.Rate && q.way.Patch.SameSound(r.way.Patch)
}

// method is how a response is measured.
type method int

const (
	byImpulse method = iota
	bySweep40
	bySweep20
	bySweep0
	notMeasured
	methods
)

// level is that of a sweep, in dB re full scale.
func (m method) level() float64 {
	return map[method]float64{bySweep40: -40, bySweep20: -20, bySweep0: 0}[m]
}

// question reads the bench.
func (p *Plate) question() question {
	name := p.module()
	k := p.session.Kind(name)
	q := question{by: p.set.by, gate: p.set.gate, reach: p.set.reach}
	if k == nil {
		q.why = "there is no module on the sheet whose response could be shown"
		return q
	}
	var now func(module, control string) (float64, bool)
	if p.set.live {
		now = func(module, control string) (float64, bool) {
			_, v, _, ok := p.session.Swept(module, control)
			return v, ok
		}
	}
	still := probing.Still(p.session.Patch(), now)
	var err error
	if p.set.whole {
		q.form = probing.Response
		from, to := p.ends(name)
		q.title = fmt.Sprintf("%s to %s", from, to)
		if from == (patch.Socket{}) {
			q.title, err = "the whole path", fmt.Errorf("no source is heard at %s", to)
			if to == (patch.Socket{}) {
				err = fmt.Errorf("no probe A and no output hears anything yet")
			}
		} else {
			q.way, err = probing.Through(&still, from, to, p.session.Rate())
		}
	} else {
		var reason string
		q.form, reason = p.form(k)
		in, out := p.sockets(k)
		q.title = name
		switch {
		case reason != "":
			err = fmt.Errorf("%s %s", name, reason)
		case in == "":
			q.title = fmt.Sprintf("%s: %s", name, out)
			q.way, err = probing.Alone(&still, name, "", out, p.session.Rate())
		default:
			q.title = fmt.Sprintf("%s: %s to %s", name, in, out)
			q.way, err = probing.Alone(&still, name, in, out, p.session.Rate())
		}
	}
	if err != nil {
		q.form, q.why = probing.Words, err.Error()
	}
	return q
}

// form is what is shown of a kind.
func (p *Plate) form(k *patch.Kind) (probing.Form, string) {
	all, reason := probing.FormsOf(k)
	return all[p.set.form%len(all)], reason
}

// sockets are the input and the output between which a module is looked at; in is
// "" where it sounds by itself or by its gate.
func (p *Plate) sockets(k *patch.Kind) (in, out string) {
	form, _ := p.form(k)
	if form == probing.Response || form == probing.Transfer || form == probing.Shape && probing.AudioIn(k) != "" && k.Family != patch.Envelopes {
		in = p.set.in
		if k.Input(in) < 0 || in == "" {
			in = probing.AudioIn(k)
		}
	}
	at := p.session.Probe(desk.ProbeA)
	switch {
	case p.set.out != "" && k.Output(p.set.out) >= 0:
		out = p.set.out
	case at.Module == p.last && k.Output(at.Name) >= 0:
		out = at.Name
	default:
		out = p.joined(k)
	}
	return in, out
}

// joined is the first output of the module that a cord leads from, or the first
// that is meant for hearing.
func (p *Plate) joined(k *patch.Kind) string {
	for _, o := range k.Outputs {
		for _, c := range p.session.Patch().Cords {
			if c.From == (patch.Socket{Module: p.last, Name: o.Name}) {
				return o.Name
			}
		}
	}
	return probing.AudioOut(k)
}

// ends are those of the whole path: from the chosen module if it is a source, or
// from the nearest one, to probe A or to what the output hears.
func (p *Plate) ends(name string) (from, to patch.Socket) {
	to = p.session.Probe(desk.ProbeA)
	heard, ok := p.session.Heard()
	if p.set.toOutput && ok || to.Module == "" || p.session.Kind(to.Module) == nil {
		to = heard
	}
	if to.Module == "" {
		return from, to
	}
	all := probing.Sources(p.session.Patch(), to)
	for i, s := range all {
		if s == p.set.from || i == 0 && p.set.from == (patch.Socket{}) {
			from = s
		}
		if s.Module == name && p.set.from == (patch.Socket{}) {
			return s, to
		}
	}
	if from == (patch.Socket{}) && len(all) > 0 {
		from = all[0]
	}
	return from, to
}

// result is the answer to a question. Fields that its form does not have are
// empty.
type result struct {
	question

	curve    []sounding.Point // level in dB, shape, cycle or transfer curve, computed
	phase    []sounding.Point // degrees
	delay    []sounding.Point // s
	uncurved string           // why it is not computed

	rings      []sounding.Point // the same, measured
	phaseRings []sounding.Point
	delayRings []sounding.Point
	back       []sounding.Point    // of a transfer curve: on the way back
	harmonics  [2][]sounding.Point // levels of the second and the third, by a sweep
	measured   bool
	unmeasured string // why it is not measured

	figures   sounding.Figures
	shape     sounding.Shape
	cycle     probing.Cycle
	seconds   float64 // of a shape, or of an answer
	worst     float64 // by how much computed and measured differ, in dB
	worstAt   float64 // where
	compared  bool
	lowest    float64 // Hz
	highest   float64
	noFormula bool // figures and line are those of the measurement
}

// Between which frequencies a response is drawn and compared, in Hz.
const (
	lowestHz   = 20.0
	highestHz  = 20000.0
	comparedHz = 18000.0
	ringCount  = 61
	phaseStep  = 0.005 // Hz to both sides, for the slope of the phase
)

// compute answers by formulas.
func (q question) compute() result {
	r := result{question: q, lowest: lowestHz, highest: math.Min(highestHz, 0.45*float64(q.way.Rate))}
	switch q.form {
	case probing.Response:
		r.computeResponse()
	case probing.Shape:
		r.computeShape()
	case probing.Wave:
		c, err := q.way.ComputedCycle()
		r.cycle = c
		r.curve = c.Computed
		r.uncurved = words(err)
	case probing.Transfer:
		in := make([]float64, 401)
		for i := range in {
			in[i] = q.reach * (float64(i)/200 - 1)
		}
		out, err := q.way.CurveAt(in)
		r.uncurved = words(err)
		for i := range out {
			r.curve = append(r.curve, sounding.Point{X: in[i], Y: out[i]})
		}
	}
	return r
}

func words(err error) string {
	if err == nil {
		return ""
	}
	return err.Error()
}

func (r *result) computeResponse() {
	var fault error
	at := func(hz []float64) []float64 {
		gains, err := r.way.Computed(hz)
		if err != nil {
			fault = err
			return make([]float64, len(hz))
		}
		return decibels(gains)
	}
	if _, fault = r.way.Computed([]float64{1000}); fault != nil {
		r.uncurved = fault.Error()
		return
	}
	r.curve = sounding.Trace(r.lowest, r.highest, r.way.Near(), at)
	r.figures = sounding.Read(r.curve)
	var around []float64
	for _, p := range r.curve {
		around = append(around, p.X, p.X-phaseStep, p.X+phaseStep)
	}
	gains, err := r.way.Computed(around)
	if err != nil {
		return
	}
	for i, p := range r.curve {
		g, low, high := gains[3*i], gains[3*i+1], gains[3*i+2]
		r.phase = append(r.phase, sounding.Point{X: p.X, Y: degrees(g)})
		turn := math.Remainder(degrees(high)-degrees(low), 360)
		r.delay = append(r.delay, sounding.Point{X: p.X, Y: -turn / 360 / (2 * phaseStep)})
	}
}

func (r *result) computeShape() {
	r.seconds = r.way.ShapeSeconds(r.gate)
	const points = 1200
	times := make([]float64, points)
	for i := range times {
		times[i] = r.seconds * float64(i) / (points - 1)
	}
	y, err := r.way.Shape(r.gate, times)
	r.uncurved = words(err)
	for i := range y {
		r.curve = append(r.curve, sounding.Point{X: times[i], Y: y[i]})
	}
}
