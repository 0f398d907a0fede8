package predict

import (
	"fmt"
	"math"

	"lampblack/patch/kind/control"
)

// gain returns what a level makes of its control: the factor itself, but off at the
// lowest mark.
func (n *node) gain(name string) signal {
	level := n.control(name).signal
	if !level.known() {
		return level
	}
	floor := math.Pow(10, control.LevelMin/20.0)
	if low, _ := n.extremes(level); low >= 2*floor {
		return level
	}
	if level.still() {
		late := level.late
		level = steady(control.Gain(level.mean()))
		level.late = late
		return level
	}
	bent, ok := n.bend(level, control.Gain)
	if !ok {
		return unknown(fmt.Sprintf("%s of %s is driven below its lowest mark by tones that have no common cycle", name, n.module.Name))
	}
	return bent
}

// ring is the kind of that name: carrier x (leak + signal).
func (n *node) ring() []signal {
	return []signal{n.product(n.input(1), n.add(n.control("leak").signal, n.input(0)))}
}

// amplifier is the kind of that name: in x level x (1 + depth x modulation).
func (n *node) amplifier() []signal {
	out := n.product(n.input(0), n.gain("level"))
	if n.joined("modulation") {
		out = n.product(out, n.add(steady(1), n.product(n.control("depth").signal, n.input(1))))
	}
	return []signal{out}
}

// mixer is the kind of that name.
func (n *node) mixer() []signal {
	var parts []signal
	for i, in := range n.kind.Inputs {
		if n.joined(in.Name) {
			parts = append(parts, n.product(n.input(i), n.gain(n.kind.Controls[i].Name)))
		}
	}
	return []signal{n.add(parts...)}
}

// speaker is the kind output.
func (n *node) speaker() []signal {
	level := n.gain("level")
	left := n.product(n.input(0), level)
	if !n.joined("right") {
		return []signal{left, left}
	}
	return []signal{left, n.product(n.input(1), level)}
}

// pan is the kind of that name.
func (n *node) pan() []signal {
	law, position := n.control("law"), n.control("position").signal
	if !law.still() {
		return n.why("changes its law while it sounds")
	}
	if !position.known() {
		return n.each(n.kind, n.product(n.input(0), position))
	}
	out := make([]signal, 2)
	for side := range out {
		toward := float64(2*side - 1)
		gain, ok := n.bend(position, func(p float64) float64 { return panGain((1+toward*p)/2, int(law.mean())) })
		if !ok {
			return n.why("is moved by tones that have no common cycle")
		}
		out[side] = n.product(n.input(0), gain)
	}
	return out
}

// panGain is that of the side to which a part x, 0 to 1, of the way has been gone.
func panGain(x float64, law int) float64 {
	x = math.Min(math.Max(x, 0), 1)
	switch law {
	case 0:
		return math.Sin(math.Pi / 2 * x)
	case 1:
		return math.Sqrt(x * math.Sin(math.Pi/2*x))
	}
	return x
}
