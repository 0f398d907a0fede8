package predict

import (
	"fmt"
	"math"
	"math/cmplx"

	"lampblack/patch"
)

// Response works out how the way from one output to another changes a sound: dst
// gets its level in dB and its phase in degrees at each hz (0 to half the rate).
// All ways between the two sockets are added. What on the way moves slowly is
// taken at its mean level over time; tremolo and ring modulation are no response
// and are an error.
func Response(p patch.Patch, from, at patch.Socket, c Conditions, hz []float64) (level, phase []float64, err error) {
	w := newWalk(p, c)
	w.inject = from
	s := w.output(at)
	if len(s.why) > 0 && w.injected {
		return nil, nil, fmt.Errorf("from %s to %s: %s", from, at, s.why[0])
	}
	var ways []branch
	for _, b := range s.hiss {
		if b.source != -1 {
			continue
		}
		if math.Abs(b.shift) > same {
			return nil, nil, fmt.Errorf("on the way from %s to %s the sound is multiplied by a tone, which is no response", from, at)
		}
		ways = append(ways, b)
	}
	if len(ways) == 0 {
		return nil, nil, fmt.Errorf("no way leads from %s to %s", from, at)
	}
	for _, f := range hz {
		var g complex128
		for _, b := range ways {
			g += b.gain(f)
		}
		level = append(level, 20*math.Log10(cmplx.Abs(g)))
		phase = append(phase, cmplx.Phase(g)*180/math.Pi)
	}
	return level, phase, nil
}

// Cycle returns n points of what an output gives in one cycle of its lowest tone,
// from the start of the sound on as if it had settled: X in cycles, 0 to 1. Lines
// that are no multiples of that tone stand where the first cycle has them. ok is
// false if nothing sounds there.
func Cycle(p patch.Patch, at patch.Socket, c Conditions, n int) (points []Point, ok bool) {
	w := newWalk(p, c)
	s := w.output(at)
	root := 0.0
	for _, g := range w.common(s.swing()) {
		if root == 0 || g.hz < root {
			root = g.hz
		}
	}
	if root == 0 || n < 2 {
		return nil, false
	}
	for i := range n {
		x := float64(i) / float64(n-1)
		y := s.mean()
		for _, l := range s.swing() {
			sin, cos := math.Sincos(2 * math.Pi * x * l.hz / root)
			y += real(l.a)*cos - imag(l.a)*sin
		}
		points = append(points, Point{x, y})
	}
	return points, true
}
