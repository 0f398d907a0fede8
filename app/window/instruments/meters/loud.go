package meters

import (
	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
)

// aimed is where the target and its tolerance lie on the ruler of loudness.
func (p *Plate) aimed() [2]float64 {
	aim, tolerance, none := p.set.aim()
	if none {
		return [2]float64{}
	}
	return [2]float64{loudAt(aim - tolerance), loudAt(aim + tolerance)}
}

// writeLoud lays momentary loudness above the line, short-term beneath, integrated
// across it, and the range along it.
func (p *Plate) writeLoud(pen *leaf.Pen, s stretch) {
	em := pen.Em
	at := func(of func(r *reading) float64) func(r *reading) (float64, bool) {
		return func(r *reading) (float64, bool) {
			at := loudAt(of(r))
			return at, at > 0
		}
	}
	pen.Right(look.Small, s.x-em*0.3, s.y-em*0.02, "M")
	pen.Right(look.Small, s.x-em*0.3, s.y+em*0.75, "S")
	n := needle{x: s.x, y: s.y - em*0.55, length: s.width, across: em * 0.55, thick: 2.5}
	n.at = at(func(r *reading) float64 { return r.loud.Momentary })
	p.needles.add(pen, n, pen.Ink.Drawn, true)
	n.y, n.at = s.y+1, at(func(r *reading) float64 { return r.loud.ShortTerm })
	p.needles.add(pen, n, pen.Ink.Drawn, true)
	n.y, n.across, n.thick, n.at = s.y-em*0.65, em*1.3, 4, at(func(r *reading) float64 { return r.loud.Integrated })
	p.needles.add(pen, n, pen.Ink.Drawn, false)
	n.y, n.across, n.thick = s.y+em*0.55, em*0.5, 1.5
	n.from = func(r *reading) float64 { return loudAt(r.loud.Low) }
	n.at = func(r *reading) (float64, bool) { return loudAt(r.loud.High), r.loud.Low != 0 }
	p.needles.add(pen, n, pen.Ink.Drawn, true)
}
