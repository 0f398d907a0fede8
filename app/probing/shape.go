package probing

import (
	"errors"
	"math"

	"lampblack/scope/predict"
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
