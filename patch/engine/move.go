package engine

import (
	"sync/atomic"

	"lampblack/patch"
	"lampblack/patch/dsp/lanes"
)

// move is a cord that ends in a control.
type move struct {
	from    patch.Socket
	samples []float64 // module.MaxBlock samples of the source
	kind    patch.MoveKind
	goal    atomic.Pointer[patch.Setting] // the depth the desk asked for last, or nil
	seen    *patch.Setting                // the goal that was taken up last
	glide   glide                         // of the depth; octaves for decibels too, % as 0 to 1
	kept    float64                       // the sample for which the control's values were kept

	deskUnit string // the desk's: of the depth it asked for last
}

// addMove lets the cord move the control.
func (c *control) addMove(cord patch.Cord, samples []float64) {
	c.cords = append(c.cords, move{from: cord.From, samples: samples, deskUnit: cord.Depth.Unit})
	m := &c.cords[len(c.cords)-1]
	c.takeDepth(m, cord.Depth)
	m.glide.settle()
}

// takeDepth makes d the depth to go to. A depth in another unit than before is
// there at once.
func (c *control) takeDepth(m *move, d patch.Setting) {
	was := m.kind
	depth := d.Value
	if how, ok := c.spec.Scales[c.scale].Move(d.Unit); ok {
		m.kind = how.Kind
	}
	switch {
	case m.kind == patch.MoveDecibels:
		depth *= log2Of10 / 20
	case m.kind == patch.MoveLinear && d.Unit == "%":
		depth /= 100
	}
	c.kept = false
	m.glide.aim(depth, c.rate)
	if m.kind != was {
		m.glide.settle()
	}
}

// exponent reports whether the move multiplies by a power of two.
func (m *move) exponent() bool {
	return m.kind == patch.MoveOctaves || m.kind == patch.MoveDecibels
}

// still reports whether samples i to j are equal and so is the depth.
func (m *move) still(i, j int) bool {
	return !m.glide.moving && lanes.Same(m.samples[i:j])
}

// addExponent adds depth times signal to v, or sets v to it if it is the first.
func (m *move) addExponent(v []float64, i int, first bool) {
	s := m.samples[i : i+len(v)]
	switch {
	case m.glide.moving:
		for k := range v {
			depth, _ := m.glide.next()
			e := float64(depth * s[k])
			if !first {
				e += v[k]
			}
			v[k] = e
		}
	case first:
		lanes.Scale(v, s, m.glide.y)
	default:
		lanes.AddScaled(v, s, m.glide.y)
	}
}

// multiply multiplies v by the move's factor.
func (m *move) multiply(v []float64, i int) {
	s := m.samples[i : i+len(v)]
	if !m.glide.moving {
		lanes.Swing(v, s, rest(m.glide.y), m.glide.y)
		return
	}
	for k := range v {
		depth, _ := m.glide.next()
		v[k] *= rest(depth) + float64(depth*s[k])
	}
}

// rest is what a factor of that depth is where the signal is 0.
func rest(depth float64) float64 {
	if depth >= 0 {
		return 1 - depth
	}
	return 1
}

// add adds depth times signal to v.
func (m *move) add(v []float64, i int) {
	s := m.samples[i : i+len(v)]
	if !m.glide.moving {
		lanes.AddScaled(v, s, m.glide.y)
		return
	}
	for k := range v {
		depth, _ := m.glide.next()
		v[k] += float64(depth * s[k])
	}
}
