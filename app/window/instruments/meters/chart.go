package meters

import (
	"image"
	"math"

	"lampblack/app/window/look"
)

// chartSeconds is how much of the loudness is drawn.
const chartSeconds = 60

// drawChart is called by the toolkit with the size in pixels of the screen:
// short-term loudness as a full line, momentary as a thin dashed one.
func (p *Plate) drawChart(w, h int) image.Image {
	picture := look.Canvas(w, h)
	p.drawn = p.shown.entries
	list := p.gauges.newest(p.shown.entries, chartSeconds*entriesEachSecond)
	if len(list) < 2 || w < 2 || h < 2 {
		return picture
	}
	hair := look.HairlineFor(p.chart, w)
	step := float64(w) / (chartSeconds * entriesEachSecond)
	course := func(of func(e entry) float32) []dot {
		line := make([]dot, 0, len(list))
		for i, e := range list {
			at := loudAt(float64(of(e)))
			line = append(line, dot{
				float64(w) - step*float64(len(list)-1-i), (1 - at) * (float64(h) - float64(hair)),
				at > 0 && !math.IsInf(float64(of(e)), -1),
			})
		}
		return line
	}
	pen := look.NewPen(picture, look.Now().Quiet)
	pen.Width = hair
	strokes(pen, course(func(e entry) float32 { return e.momentary }), 4*float64(hair), 3*float64(hair))
	pen = look.NewPen(picture, look.Now().Drawn)
	pen.Width = 1.5 * hair
	strokes(pen, course(func(e entry) float32 { return e.short }), math.Inf(1), 0)
	return picture
}

// dot is a point of a line, in pixels; what is not there leaves a gap.
type dot struct {
	x, y  float64
	there bool
}

// strokes draws a line in dashes of that length, so long apart.
func strokes(pen *look.Pen, line []dot, on, off float64) {
	left, drawn, down := on, true, false
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		if !a.there || !b.there {
			down = false
			continue
		}
		long := math.Hypot(b.x-a.x, b.y-a.y)
		for at := 0.0; at < long; {
			to := min(at+left, long)
			if drawn {
				if !down {
					pen.Move(float32(a.x+(b.x-a.x)*at/long), float32(a.y+(b.y-a.y)*at/long))
					down = true
				}
				pen.Line(float32(a.x+(b.x-a.x)*to/long), float32(a.y+(b.y-a.y)*to/long))
			}
			if left -= to - at; left < 1e-3 { // a thousandth of a pixel: so little left would not move at
				drawn, down = !drawn, false
				left = off
				if drawn {
					left = on
				}
			}
			at = to
		}
	}
	pen.Ink()
}
