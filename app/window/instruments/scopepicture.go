package instruments

import (
	"math"

	"lampblack/scope"
)

// oscillogram draws the scope: traces, what was kept of earlier ones, or one
// channel against the other.
type oscillogram struct {
	*picture
	m       *measure
	fading  [channels]*scope.Persistence
	size    [2]int            // the cells that fading has
	value   [channels]float64 // for which fading was made
	time    float64           // for which it was made
	shot    int64             // the last one that was added
	clock   int64             // when that was
	weight  float64           // traces that are still to be seen
	shades  []float32
	points  []scope.Point
	touched []float32
}

func newOscillogram(m *measure) *oscillogram {
	o := &oscillogram{m: m}
	o.picture = newPicture(o.scopeLine)
	o.paint = o.ground
	return o
}

// scopeLine places a channel: value 0 in the middle, 8 divisions from top to
// bottom. What lies beyond is drawn at the edge.
func (o *oscillogram) scopeLine(dst []scope.Column, i, h int) bool {
	m, w := o.m, &o.m.switches
	if w.plane || i >= beside {
		return false
	}
	channel := i % channels
	switch {
	case i >= under && (!m.hasKept[channel] || w.rolls()):
		return false
	case i >= under:
		length := m.length() / m.rate
		m.kept[channel].Trace(dst, w.before*length, length)
	case !m.connected[i]:
		return false
	case w.rolls():
		m.stripLine(dst, i)
	case len(m.samples[i]) == 0:
		return false
	default:
		scope.Trace(dst, m.samples[i], m.view)
	}
	for c, col := range dst {
		if !col.Empty() {
			dst[c] = scope.Column{Min: place(col.Max, w.value[channel], h), Max: place(col.Min, w.value[channel], h)}
		}
	}
	return true
}

// place returns how far from the top of a picture of h pixels a value lies.
func place(v, division float64, h int) float64 {
	return min(max(float64(h)/2-v/division*float64(h)/8, 0), float64(h))
}

// ground draws what lies below the traces.
func (o *oscillogram) ground(p *picture, unit float64) {
	w := &o.m.switches
	if w.plane {
		o.drawPlane(unit)
	} else if w.fade > 0 && !w.rolls() {
		o.drawFading()
	}
}

// drawFading adds the newest picture to those that are fading, and draws them:
// the more often the signal was at a place, the more ink.
func (o *oscillogram) drawFading() {
	width, height := o.image.Bounds().Dx(), o.image.Bounds().Dy()
	o.prepareFading(width, height)
	fresh := o.shot != o.m.shot
	if fresh {
		seconds := float64(o.m.shownEnd-o.clock) / o.m.rate
		keep := 1.0
		if !math.IsInf(o.m.switches.fade, 1) {
			keep = math.Exp(-max(seconds, 0) / o.m.switches.fade)
		}
		o.weight = o.weight*keep + 1
		for i := range o.fading {
			o.fading[i].Decay(keep)
			if o.m.connected[i] && len(o.m.samples[i]) > 0 {
				o.fading[i].Add32(o.m.samples[i], o.m.view)
			}
		}
		o.shot, o.clock = o.m.shot, o.m.shownEnd
	}
	for i := channels - 1; i >= 0; i-- {
		if !o.m.connected[i] {
			continue
		}
		o.fading[i].Intensities(o.shades, max(o.weight*0.5, 1))
		for at, shade := range o.shades {
			if shade > 0 {
				// The root lets rare events be seen beside what is always there.
				o.blend(at*4, o.inks[i], 0.75*math.Sqrt(float64(shade)))
			}
		}
	}
}

func (o *oscillogram) prepareFading(width, height int) {
	w := &o.m.switches
	if o.fading[0] != nil && o.size == [2]int{width, height} && o.value == w.value && o.time == w.time {
		return
	}
	o.size, o.value, o.time, o.weight = [2]int{width, height}, w.value, w.time, 0
	o.shades = make([]float32, width*height)
	for i := range o.fading {
		o.fading[i] = scope.NewPersistence(width, height, -4*w.value[i], 4*w.value[i])
	}
}

// planePoints is how many points draw one channel against the other, and
// planeSteps how many dabs of ink at most lead from one to the next: where the
// way is fast it is faint, as a beam would be.
const planePoints, planeSteps = 4096, 24

// drawPlane draws B over A, both in their own units a division, with as many
// divisions to the right as it is wide.
func (o *oscillogram) drawPlane(unit float64) {
	m, w := o.m, &o.m.switches
	if !m.connected[0] || !m.connected[1] || len(m.samples[0]) == 0 {
		return
	}
	width, height := o.image.Bounds().Dx(), o.image.Bounds().Dy()
	if len(o.points) == 0 {
		o.points = make([]scope.Point, planePoints)
	}
	if len(o.touched) != width*height {
		o.touched = make([]float32, width*height)
	}
	clear(o.touched)
	scope.Plane(o.points, m.samples[0], m.samples[1], m.view)
	division := float64(height) / 8
	at := func(p scope.Point) (x, y float64) {
		return float64(width)/2 + p.X/w.value[0]*division, float64(height)/2 - p.Y/w.value[1]*division
	}
	x0, y0 := at(o.points[0])
	for _, p := range o.points[1:] {
		x1, y1 := at(p)
		n := int(min(math.Hypot(x1-x0, y1-y0)*2/unit, planeSteps-1)) + 1
		for k := range n {
			part := float64(k) / float64(n)
			o.dab(x0+(x1-x0)*part, y0+(y1-y0)*part)
		}
		x0, y0 = x1, y1
	}
	for at, cover := range o.touched {
		if cover > 0 {
			o.blend(at*4, o.inks[beside], float64(min(cover, 1)))
		}
	}
}

// dab touches the four pixels round a point.
func (o *oscillogram) dab(x, y float64) {
	width, height := o.image.Bounds().Dx(), o.image.Bounds().Dy()
	if !(x > -2 && y > -2 && x < float64(width)+2 && y < float64(height)+2) {
		return
	}
	// What touches the edge is drawn at it.
	x, y = min(max(x-0.5, 0), float64(width)-1.01), min(max(y-0.5, 0), float64(height)-1.01)
	left, top := math.Floor(x), math.Floor(y)
	if left < 0 || top < 0 {
		return // a picture of one pixel
	}
	fx, fy := float32(x-left), float32(y-top)
	at := int(top)*width + int(left)
	for _, d := range [...]struct {
		at    int
		cover float32
	}{{at, (1 - fx) * (1 - fy)}, {at + 1, fx * (1 - fy)}, {at + width, (1 - fx) * fy}, {at + width + 1, fx * fy}} {
		o.touched[d.at] = max(o.touched[d.at], d.cover*1.5)
	}
}
