package predict

import (
	"math"

	"lampblack/patch"
)

// chargeAim is where the attack of an RC envelope charges to, so that the top is
// reached after one time constant: 1/(1 - 1/e).
var chargeAim = 1 / (1 - math.Exp(-1))

// envelope is the kind of that name: its level at the moment that is looked at.
func (n *node) envelope() []signal {
	held, ok := n.held("gate")
	if !ok || n.joined("trigger") {
		return n.why("is started again and again by a cord: its level is never the same")
	}
	attack, decay, sustain, release := n.control("attack"), n.control("decay"), n.control("sustain"), n.control("release")
	if !attack.still() || !decay.still() || !sustain.still() || !release.still() {
		return n.why("moves its times or its level")
	}
	e := Envelope{Attack: attack.mean(), Decay: decay.mean(), Sustain: sustain.mean(), Release: release.mean()}
	after := n.conditions.After
	var level float64
	switch {
	case held && after == 0:
		level = e.Sustain
	case held:
		level = e.Held(after)
	case after > 0:
		level = e.Sustain * math.Exp(-after/e.Release)
	}
	return []signal{n.passingBy(0, level, 1)}
}

// ahd is the kind of that name.
func (n *node) ahd() []signal {
	if n.joined("trigger") {
		return n.why("is started again and again by a cord: its level is never the same")
	}
	attack, hold, decay, curve := n.control("attack"), n.control("hold"), n.control("decay"), n.control("curve")
	if !attack.still() || !hold.still() || !decay.still() || !curve.still() {
		return n.why("moves its times")
	}
	level, up := 0.0, 0.0
	if after := n.conditions.After; after > 0 {
		level = Envelope{Attack: attack.mean(), Hold: hold.mean(), Decay: decay.mean(), Even: curve.mean() == 1}.Held(after)
		if after < attack.mean()+hold.mean() {
			up = 1
		}
	}
	gate := steady(up)
	gate.late = true
	return []signal{n.passingBy(0, level, 1), gate}
}

// contour is the kind of that name, where it is gone through once.
func (n *node) contour() []signal {
	held, ok := n.held("gate")
	if !ok || n.joined("trigger") {
		return n.why("is started again and again by a cord: it is never the same voltage twice")
	}
	var v [4]float64
	for i, name := range []string{"length", "level", "sustain", "loop from"} {
		c := n.control(name)
		if !c.still() {
			return n.why("moves its %s", name)
		}
		v[i] = c.mean()
	}
	switch {
	case v[3] != 0:
		return n.why("goes round in a loop: it is never the same voltage twice")
	case !held && v[2] != 0 && n.conditions.After > 0:
		return n.why("is let go: from where depends on how long the note was")
	}
	rows := n.module.RowsFor(n.kind)
	stop := len(rows)
	if s := int(v[2]); held && s > 0 && s < stop {
		stop = s
	}
	least, most := 0.0, 0.0
	for _, row := range rows {
		least, most = math.Min(least, row[1]/100), math.Max(most, row[1]/100)
	}
	level := drawn(rows, stop, v[0], n.conditions.After)
	if v[1] < 0 {
		least, most = most, least
	}
	return []signal{n.passingBy(v[1]*least, v[1]*level, v[1]*most), {}}
}

// drawn is the level of a drawn contour of rows of seconds, % and curvature, t
// seconds after its start, or if t is 0 where it stops: at the end of row number
// stop. The whole table takes length seconds, or if that is 0 as long as drawn.
// Source: first-order circuit theory for the curvature.
func drawn(rows [][]float64, stop int, length, t float64) float64 {
	total := 0.0
	for _, row := range rows {
		total += row[0]
	}
	if length > 0 {
		t *= total / length
	}
	from := 0.0
	for _, row := range rows[:stop] {
		to := row[1] / 100
		if t > 0 && t < row[0] {
			part := t / row[0]
			if c := row[2]; c != 0 {
				part = math.Expm1(-c*part) / math.Expm1(-c)
			}
			return from + (to-from)*part
		}
		if t > 0 {
			t = math.Max(t-row[0], 1e-12)
		}
		from = to
	}
	return from
}

// held reports whether a gate input is up; ok is false if that is not known.
func (n *node) held(name string) (up, ok bool) {
	s := n.input(n.kind.Input(name))
	return s.mean() > 0.5, s.still()
}

// passingBy is a level that is taken as if it stood still, between least and most.
func (n *node) passingBy(least, level, most float64) signal {
	n.move(Movement{Socket: patch.Socket{Module: n.module.Name, Name: "out"}, Least: least, Most: most, Now: level})
	s := steady(level)
	s.late = true
	return s
}

// Envelope is the curve of an envelope that rises from 0 to 1, holds, and falls to
// Sustain. Times are in seconds.
type Envelope struct {
	Attack  float64 // from 0 to the top
	Hold    float64 // at the top
	Decay   float64 // time constant of the fall, or if Even the whole time
	Sustain float64 // 0 to 1
	Release float64 // time constant of the fall to 0 after the gate
	Even    bool    // straight lines instead of the curves of a resistor and a capacitor
}

// Held returns the level t seconds after the start of a note that is held.
// Source: first-order circuit theory, y = aim x (1 - e^(-t/tau)).
func (e Envelope) Held(t float64) float64 {
	switch {
	case t <= 0:
		return 0
	case t < e.Attack && e.Even:
		return t / e.Attack
	case t < e.Attack:
		return chargeAim * (1 - math.Exp(-t/e.Attack))
	case t < e.Attack+e.Hold:
		return 1
	}
	t -= e.Attack + e.Hold
	if e.Even {
		return math.Max(1-t/e.Decay, e.Sustain)
	}
	return e.Sustain + (1-e.Sustain)*math.Exp(-t/e.Decay)
}

// At returns the level t seconds after the start of a note that is held for gate
// seconds.
func (e Envelope) At(t, gate float64) float64 {
	if t <= gate {
		return e.Held(t)
	}
	return e.Held(gate) * math.Exp(-(t-gate)/e.Release)
}

// Point is one point of a curve: at X seconds, cycles or Hz.
type Point struct{ X, Y float64 }

// EnvelopeShape returns the curve of the envelope module of that name, if it is
// one whose curve follows from its settings (envelope, ahd), in n points, for a
// note of gate seconds: from its start until it is 40 dB down, or of a sustained
// one its release. ok is false for any other module.
func EnvelopeShape(p patch.Patch, module string, gate float64, n int) (points []Point, ok bool) {
	w := newWalk(p, Conditions{Rate: 48000, Held: true})
	m := w.patch.Module(module)
	if m == nil || m.Kind != "envelope" && m.Kind != "ahd" || n < 2 {
		return nil, false
	}
	e, end := w.shapeOf(m, gate)
	for i := range n {
		t := end * float64(i) / float64(n-1)
		y := e.At(t, gate)
		if m.Kind == "ahd" {
			y = e.Held(t)
		}
		points = append(points, Point{t, y})
	}
	return points, true
}

// fortyDown is how many time constants make 40 dB.
const fortyDown = 4.6

// shapeOf returns the envelope as its settings are written, and how long it is.
func (w *walk) shapeOf(m *patch.Module, gate float64) (e Envelope, end float64) {
	k := kindOf(m)
	v := func(name string) float64 {
		s, _ := written(m, k.Control(name))
		return engineUnit(s.Unit, s.Value)
	}
	if m.Kind == "ahd" {
		e = Envelope{Attack: v("attack"), Hold: v("hold"), Decay: v("decay"), Even: v("curve") == 1}
		end = e.Attack + e.Hold + e.Decay
		if !e.Even {
			end += (fortyDown - 1) * e.Decay
		}
		return e, end
	}
	e = Envelope{Attack: v("attack"), Decay: v("decay"), Sustain: v("sustain"), Release: v("release")}
	return e, gate + fortyDown*e.Release
}
