package engine

import (
	"math"
	"sync/atomic"

	"lampblack/patch"
	"lampblack/patch/dsp/approx"
	"lampblack/patch/dsp/lanes"
)

// SmoothSeconds is the time constant with which a setting or a depth goes to
// its new value. A setting ends exactly on it, within about 16 of these.
const SmoothSeconds = 0.005

// log2Of10 is log2(10); a decibel is a twentieth of it in octaves.
const log2Of10 = 3.321928094887362347870319429489390175864831

// control is one control as it runs: its setting, smoothed in the way the ear or
// the ruler divides it, then moved by cords and clamped.
type control struct {
	spec  *patch.Control
	rate  float64
	scale int       // of the setting
	now   shape     // of that scale
	v     []float64 // module.MaxBlock values in the engine's unit

	goal    atomic.Pointer[patch.Setting] // what the desk asked for last, or nil
	seen    *patch.Setting                // the goal that was taken up last
	setting float64                       // in the engine's unit, exactly
	glide   glide                         // of the setting, in the shape's coordinate
	cords   []move

	steady bool // all values of this block are equal
	filled bool // every value of v stands at setting
	kept   bool // every value of v is what the setting, moved by what cords held still, gives
	swept  swept

	deskScale int // the desk's: of the setting it asked for last
}

// shape is a scale in the engine's units: dB as a factor, % as 0 to 1.
type shape struct {
	lo, hi  float64
	octaves bool // smoothed as a logarithm (frequencies, times); a level is smoothed as a factor, which clicks least
	stepped bool // never smoothed, always whole
	off     bool // the low end stands for nothing at all, so it is no limit
}

func shapeOf(s *patch.Scale) shape {
	h := shape{lo: toEngine(s.Unit, s.Min), hi: toEngine(s.Unit, s.Max)}
	h.stepped = s.Taper == patch.Stepped || s.Choices != nil
	h.octaves = !h.stepped && s.Taper == patch.Logarithmic && h.lo > 0
	h.off = s.Unit == "dB"
	return h
}

// coordinate is where the setting v is smoothed: log2(v) or v itself.
func (h *shape) coordinate(v float64) float64 {
	if h.octaves {
		return math.Log2(v) // by the desk or on an edit, never for every sample
	}
	return v
}

// at undoes coordinate.
func (h *shape) at(y float64) float64 {
	if h.octaves {
		return approx.Exp2(y)
	}
	return y
}

// toEngine converts a value from a scale's unit to the engine's.
func toEngine(unit string, v float64) float64 {
	switch unit {
	case "dB":
		return approx.Exp2(v * (log2Of10 / 20))
	case "%":
		return v / 100
	}
	return v
}

// toDisplay undoes toEngine; desk side.
func toDisplay(unit string, v float64) float64 {
	switch unit {
	case "dB":
		return 20 * math.Log10(v)
	case "%":
		return v * 100
	}
	return v
}

// init sets the control up to stand at s.
func (c *control) init(spec *patch.Control, s patch.Setting, rate float64, v []float64) {
	c.spec, c.rate, c.v = spec, rate, v
	c.take(s)
	c.glide.settle()
	c.deskScale = c.scale
	c.swept.least, c.swept.most = math.Inf(1), math.Inf(-1)
}

// take makes s the setting to go to. A choice, and a setting written in another
// scale than before, are there at once.
func (c *control) take(s patch.Setting) {
	scale := max(0, c.spec.Scale(s.Unit))
	jump := scale != c.scale || c.now.hi == c.now.lo
	if c.scale = scale; jump {
		c.now = shapeOf(&c.spec.Scales[scale])
	}
	c.setting = clamp(toEngine(s.Unit, s.Value), c.now.lo, c.now.hi)
	if c.now.stepped {
		c.setting = math.Floor(c.setting + 0.5)
	}
	c.glide.aim(c.now.coordinate(c.setting), c.rate)
	if jump || c.now.stepped {
		c.glide.settle()
	}
	c.filled, c.kept = false, false
}

// moves reports whether the control may change within a block.
func (c *control) moves() bool { return len(c.cords) > 0 || c.glide.moving }

// run computes values i to j of the block.
func (c *control) run(i, j int) {
	if !c.moves() {
		c.stand()
		return
	}
	c.steady = false
	if j-i > 1 && !c.glide.moving && c.still(i, j) {
		c.keep(i, j)
		return
	}
	c.evaluate(i, j)
}

// keep is evaluate where nothing changes from i to j: one value stands for all.
// In a block like the one before, nothing has to be done.
func (c *control) keep(i, j int) {
	c.steady = true
	if c.kept && c.asKept(i) {
		return
	}
	c.evaluate(i, i+1)
	fill(c.v, c.v[i])
	c.kept = true
	for k := range c.cords {
		c.cords[k].kept = c.cords[k].samples[i]
	}
}

// asKept reports whether sample i of every cord is what v was filled for.
func (c *control) asKept(i int) bool {
	for k := range c.cords {
		if m := &c.cords[k]; m.kept != m.samples[i] {
			return false
		}
	}
	return true
}

// still reports whether nothing that moves the control changes from i to j.
func (c *control) still(i, j int) bool {
	for k := range c.cords {
		if !c.cords[k].still(i, j) {
			return false
		}
	}
	return true
}

// stand holds every value at the setting.
func (c *control) stand() {
	if !c.filled {
		fill(c.v, c.setting)
		c.filled = true
		c.swept.stand(c.setting)
	}
	c.steady = true
}

// evaluate computes values i to j by the formula at patch.Move.
func (c *control) evaluate(i, j int) {
	v := c.v[i:j]
	c.filled, c.kept = false, false
	exponents := 0
	for k := range c.cords {
		if m := &c.cords[k]; m.exponent() {
			m.addExponent(v, i, exponents == 0)
			exponents++
		}
	}
	c.base(v, exponents > 0)
	for k := range c.cords {
		if m := &c.cords[k]; m.kind == patch.MoveFactor {
			m.multiply(v, i)
		}
	}
	for k := range c.cords {
		if m := &c.cords[k]; m.kind == patch.MoveLinear {
			m.add(v, i)
		}
	}
	c.clamp(v)
}

// base turns the exponents in v (if moved) into the setting times 2^exponent, or
// sets v to the setting.
func (c *control) base(v []float64, moved bool) {
	switch {
	case !c.glide.moving && !moved:
		fill(v, c.setting)
	case !c.glide.moving:
		approx.Powers(v, c.setting)
	default:
		for k, e := range v {
			x := c.setting
			if y, moving := c.glide.next(); moving {
				x = c.now.at(y)
			}
			if moved {
				x *= approx.Exp2(e)
			}
			v[k] = x
		}
	}
}

// clamp holds v within the range, and keeps account of where it went.
func (c *control) clamp(v []float64) {
	if c.now.stepped {
		for k, x := range v {
			v[k] = math.Floor(x + 0.5)
		}
	}
	r := lanes.Reach{Least: c.swept.least, Most: c.swept.most}
	lanes.Clamp(v, c.now.lo, c.now.hi, &r)
	c.swept.least, c.swept.most = r.Least, r.Most
	c.swept.last = v[len(v)-1]
	c.swept.limited = c.swept.limited || r.Over || r.Under && !c.now.off
	c.swept.fresh = true
}

// fill sets every value of dst to x.
func fill(dst []float64, x float64) { lanes.Fill(dst, x) }

func clamp(x, lo, hi float64) float64 { return min(max(x, lo), hi) }
