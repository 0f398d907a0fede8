package probing

import (
	"errors"
	"math"

	"lampblack/patch"
	"lampblack/scope/predict"
	"lampblack/scope/sounding"
)

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
