package instruments

import (
	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
	"lampblack/app/window/plate"
)

// rule rules 10 by 8 divisions with their values.
func (s *scopePlate) rule(p *leaf.Pen, b plate.Box) {
	w := &s.t.measure.switches
	if w.plane {
		s.rulePlane(p, b)
		return
	}
	zero := int(w.before*10 + 0.5)
	free := float32(0)
	for i := 0; i <= 10; i++ {
		x := b.X + b.Width*float32(i)/10
		c := p.Ink.Faint
		if i == zero && !w.rolls() {
			c = p.Ink.Line
		}
		p.Upright(x, b.Y, b.Height, c)
		if i%2 != zero%2 {
			continue
		}
		at := float64(i-zero) * w.time
		if w.rolls() {
			at = float64(i-10) * w.time
		}
		label := plate.SignedTime(at)
		half := p.Wide(look.Small, label) / 2
		if from := min(x, b.X+b.Width-half) - half; from > free {
			free = p.Text(look.Small, from, b.Y+b.Height+p.Em*1.05, label) + p.Em*0.5
		}
	}
	for i := 0; i <= 8; i++ {
		c := p.Ink.Faint
		if i == 4 {
			c = p.Ink.Line
		}
		y := b.Y + b.Height*float32(i)/8
		p.Level(b.X, y, b.Width, c)
		if i%2 == 0 {
			label := look.Shown(plate.Number(float64(4-i) * w.value[0]))
			p.RightTinted(look.Small, p.Ink.ProbeA, b.X-p.Em*0.4, y+p.Em*0.28, label)
			if w.value[1] != w.value[0] {
				label = look.Shown(plate.Number(float64(4-i) * w.value[1]))
				below := p.Em * 0.9
				if i == 8 { // above the figures of the time
					below = -p.Em * 0.3
				}
				p.RightTinted(look.Small, p.Ink.ProbeB, b.X+b.Width-p.Em*0.3, y+below, label)
			}
		}
	}
}

// rulePlane rules square divisions round 0, A to the right and B up.
func (s *scopePlate) rulePlane(p *leaf.Pen, b plate.Box) {
	w := &s.t.measure.switches
	side := b.Height / 8
	middle := b.X + b.Width/2
	reach := int(b.Width / 2 / side)
	for i := -reach; i <= reach; i++ {
		c := p.Ink.Faint
		if i == 0 {
			c = p.Ink.Line
		}
		x := middle + float32(i)*side
		p.Upright(x, b.Y, b.Height, c)
		if i%2 == 0 && x < b.X+b.Width-p.Em {
			label := look.Shown(plate.Number(float64(i) * w.value[0]))
			p.Tinted(look.Small, p.Ink.ProbeA, x-p.Wide(look.Small, label)/2, b.Y+b.Height+p.Em*1.05, label)
		}
	}
	for i := -4; i <= 4; i++ {
		c := p.Ink.Faint
		if i == 0 {
			c = p.Ink.Line
		}
		y := b.Y + b.Height/2 - float32(i)*side
		p.Level(b.X, y, b.Width, c)
		if i%2 == 0 {
			p.RightTinted(look.Small, p.Ink.ProbeB, b.X-p.Em*0.4, y+p.Em*0.28, look.Shown(plate.Number(float64(i)*w.value[1])))
		}
	}
	p.RightTinted(look.Caps, p.Ink.ProbeA, b.X+b.Width-p.Em*0.3, b.Y+b.Height/2-p.Em*0.4, "A")
	p.Tinted(look.Caps, p.Ink.ProbeB, middle+p.Em*0.5, b.Y+p.Em*1.1, "B")
}

// writeLevelMark marks the level at which the picture begins, to be dragged.
func (s *scopePlate) writeLevelMark(p *leaf.Pen, b plate.Box) {
	t := s.t
	w := &t.measure.switches
	if !w.levelled() {
		return
	}
	division := w.value[w.channel()]
	y := b.Y + float32(place(w.level, division, 1000)/1000)*b.Height
	if w.level != 0 {
		p.Dashes(b.X, y, b.Width, 2, p.Ink.Line)
	}
	p.Text(look.Small, p.Em*0.9, y+p.Em*0.28, "▷")
	mark := p.Place("level mark", p.Em*0.4, y-p.Em, p.Em*2, p.Em*2)
	mark.Unlisted, mark.Unmarked, mark.Step = true, true, t.stepLevel
	mark.Drag = func(_, y float32) {
		v := float64((b.Y+b.Height/2-y)/b.Height) * 8 * division
		t.set(func(w *switches) { w.level = roundTo(min(max(v, -4*division), 4*division), division/20) })
	}
}
