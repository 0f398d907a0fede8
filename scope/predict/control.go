package predict

import (
	"fmt"
	"math"
	"slices"

	"lampblack/patch"
)

// setting is where a control stands: a voltage, moved or not, in the engine's
// unit (a level as a factor, % as 0 to 1), and the number of the scale in which it
// was written.
type setting struct {
	signal
	scale int
}

// engineUnit turns a value of a scale into the engine's unit.
func engineUnit(unit string, v float64) float64 {
	switch unit {
	case "dB":
		return math.Pow(10, v/20)
	case "%":
		return v / 100
	}
	return v
}

// written returns the setting of a control, and the number of its scale.
func written(m *patch.Module, c *patch.Control) (patch.Setting, int) {
	s, ok := m.Settings[c.Name]
	if !ok {
		s = c.Default()
	}
	return s, max(c.Scale(s.Unit), 0)
}

// control returns where a control stands, by the formula at patch.Move.
func (n *node) control(name string) setting {
	c := n.kind.Control(name)
	s, at := written(n.module, c)
	scale := &c.Scales[at]
	lo, hi := engineUnit(scale.Unit, scale.Min), engineUnit(scale.Unit, scale.Max)
	base := math.Min(math.Max(engineUnit(s.Unit, s.Value), lo), hi)
	octaves, factor, linear := signal{}, steady(base), signal{}
	moved := false
	for _, cord := range n.patch.Cords {
		if cord.To.Module != n.module.Name || cord.To.Name != name {
			continue
		}
		x := n.output(cord.From)
		how, _ := scale.Move(cord.Depth.Unit)
		d := cord.Depth.Value
		moved = true
		switch how.Kind {
		case patch.MoveOctaves:
			octaves = n.add(octaves, times(x, d))
		case patch.MoveDecibels:
			octaves = n.add(octaves, times(x, d*math.Log2(10)/20))
		case patch.MoveFactor:
			factor = n.product(factor, n.add(steady(1-math.Max(d, 0)), times(x, d)))
		case patch.MoveLinear:
			linear = n.add(linear, times(x, engineUnit(cord.Depth.Unit, d)))
		}
	}
	if !moved {
		return setting{steady(base), at}
	}
	if !octaves.known() {
		return setting{unknown(n.by(name, octaves)), at}
	}
	v := n.add(n.product(n.raise(octaves, math.Ln2), factor), linear)
	if !v.known() {
		return setting{unknown(n.by(name, v)), at}
	}
	v = n.within(name, scale, v, lo, hi)
	if len(v.swing()) > 0 {
		n.tell(name, scale, v)
	}
	return setting{v, at}
}

// by says why a control's movement is not known.
func (n *node) by(name string, s signal) string {
	if len(s.why) > 0 {
		return fmt.Sprintf("%s of %s moves: %s", name, n.module.Name, s.why[0])
	}
	return fmt.Sprintf("%s of %s is moved by noise", name, n.module.Name)
}

// within holds a control in its range, and a stepped one on whole numbers.
func (n *node) within(name string, scale *patch.Scale, v signal, lo, hi float64) signal {
	mean, reach := v.mean(), v.reach()
	stepped := scale.Choices != nil || scale.Taper == patch.Stepped
	limit := func(x float64) float64 {
		if stepped {
			x = math.Floor(x + 0.5)
		}
		return math.Min(math.Max(x, lo), hi)
	}
	if reach == 0 {
		late := v.late
		v = steady(limit(mean))
		v.late = late
		return v
	}
	if !stepped && mean-reach >= lo && mean+reach <= hi {
		return v
	}
	out, ok := n.bend(v, limit)
	if !ok {
		return unknown(fmt.Sprintf("%s of %s is driven past the end of its range, %s", name, n.module.Name, n.kind.Control(name).Allowed()))
	}
	return out
}

// slowest is the highest rate in Hz at which a movement is told as one. Above it
// it is a matter of sidebands.
const slowest = 20

// tell notes down a slow movement of a control.
func (n *node) tell(name string, scale *patch.Scale, v signal) {
	hz := 0.0
	for _, l := range v.swing() {
		if hz == 0 || l.hz < hz {
			hz = l.hz
		}
	}
	if hz > slowest {
		return
	}
	low, high := n.extremes(v)
	n.move(Movement{Socket: patch.Socket{Module: n.module.Name, Name: name}, Unit: scale.Unit,
		Least: fromEngineUnit(scale.Unit, low), Most: fromEngineUnit(scale.Unit, high), Hz: hz})
}

// fromEngineUnit undoes engineUnit.
func fromEngineUnit(unit string, v float64) float64 {
	switch unit {
	case "dB":
		return 20 * math.Log10(math.Max(v, 1e-99))
	case "%":
		return v * 100
	}
	return v
}

// extremes returns the lowest and the highest value of a known signal.
func (w *walk) extremes(v signal) (low, high float64) {
	mean, reach := v.mean(), v.reach()
	g := w.common(v.swing())
	if len(g) != 1 {
		return mean - reach, mean + reach // each at its end at once: some day they are
	}
	points := 512
	for points < 16*g[0].highest() {
		points *= 2
	}
	values := g[0].samples(points)
	return mean + slices.Min(values), mean + slices.Max(values)
}
