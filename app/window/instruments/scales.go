package instruments

import (
	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
)

// writePicture rules the instrument's scales and lays its picture on them.
func (l *Large) writePicture(p *leaf.Pen) {
	b := l.picture
	switch l.shown {
	case ofScope:
		l.ruleScope(p, b)
		p.Put(l.scope.raster, b.x, b.y, b.width, b.height)
		l.writeLevelMark(p, b)
		l.writeCursors(p, b)
	case ofSpectrum:
		l.panel.ruleLevels(p, b)
		l.panel.ruleFrequencies(p, b)
		p.Put(l.spectrum.raster, b.x, b.y, b.width, b.height)
	case ofGram:
		l.ruleGram(p, b)
		p.Put(l.panel.measure.gram.raster, b.x, b.y, b.width, b.height)
	}
}

// ruleScope rules 10 by 8 divisions with their values.
func (l *Large) ruleScope(p *leaf.Pen, b box) {
	w := &l.panel.measure.switches
	if w.plane {
		l.rulePlane(p, b)
		return
	}
	zero := int(w.before*10 + 0.5)
	free := float32(0)
	for i := 0; i <= 10; i++ {
		x := b.x + b.width*float32(i)/10
		c := p.Ink.Faint
		if i == zero && !w.rolls() {
			c = p.Ink.Line
		}
		p.Upright(x, b.y, b.height, c)
		if i%2 != zero%2 {
			continue
		}
		at := float64(i-zero) * w.time
		if w.rolls() {
			at = float64(i-10) * w.time
		}
		label := signedTime(at)
		half := p.Wide(look.Small, label) / 2
		if from := min(x, b.x+b.width-half) - half; from > free {
			free = p.Text(look.Small, from, b.y+b.height+p.Em*1.05, label) + p.Em*0.5
		}
	}
	for i := 0; i <= 8; i++ {
		c := p.Ink.Faint
		if i == 4 {
			c = p.Ink.Line
		}
		y := b.y + b.height*float32(i)/8
		p.Level(b.x, y, b.width, c)
		if i%2 == 0 {
			label := look.Shown(number(float64(4-i) * w.value[0]))
			p.RightTinted(look.Small, p.Ink.ProbeA, b.x-p.Em*0.4, y+p.Em*0.28, label)
			if w.value[1] != w.value[0] {
				label = look.Shown(number(float64(4-i) * w.value[1]))
				below := p.Em * 0.9
				if i == 8 { // above the figures of the time
					below = -p.Em * 0.3
				}
				p.RightTinted(look.Small, p.Ink.ProbeB, b.x+b.width-p.Em*0.3, y+below, label)
			}
		}
	}
}

// rulePlane rules square divisions round 0, A to the right and B up.
func (l *Large) rulePlane(p *leaf.Pen, b box) {
	w := &l.panel.measure.switches
	side := b.height / 8
	middle := b.x + b.width/2
	reach := int(b.width / 2 / side)
	for i := -reach; i <= reach; i++ {
		c := p.Ink.Faint
		if i == 0 {
			c = p.Ink.Line
		}
		x := middle + float32(i)*side
		p.Upright(x, b.y, b.height, c)
		if i%2 == 0 && x < b.x+b.width-p.Em {
			label := look.Shown(number(float64(i) * w.value[0]))
			p.Tinted(look.Small, p.Ink.ProbeA, x-p.Wide(look.Small, label)/2, b.y+b.height+p.Em*1.05, label)
		}
	}
	for i := -4; i <= 4; i++ {
		c := p.Ink.Faint
		if i == 0 {
			c = p.Ink.Line
		}
		y := b.y + b.height/2 - float32(i)*side
		p.Level(b.x, y, b.width, c)
		if i%2 == 0 {
			p.RightTinted(look.Small, p.Ink.ProbeB, b.x-p.Em*0.4, y+p.Em*0.28, look.Shown(number(float64(i)*w.value[1])))
		}
	}
	p.RightTinted(look.Caps, p.Ink.ProbeA, b.x+b.width-p.Em*0.3, b.y+b.height/2-p.Em*0.4, "A")
	p.Tinted(look.Caps, p.Ink.ProbeB, middle+p.Em*0.5, b.y+p.Em*1.1, "B")
}

// writeLevelMark marks the level at which the picture begins, to be dragged.
func (l *Large) writeLevelMark(p *leaf.Pen, b box) {
	t := l.panel
	w := &t.measure.switches
	if !w.levelled() {
		return
	}
	division := w.value[w.channel()]
	y := b.y + float32(place(w.level, division, 1000)/1000)*b.height
	if w.level != 0 {
		p.Dashes(b.x, y, b.width, 2, p.Ink.Line)
	}
	p.Text(look.Small, p.Em*0.9, y+p.Em*0.28, "▷")
	mark := p.Place("level mark", p.Em*0.4, y-p.Em, p.Em*2, p.Em*2)
	mark.Unlisted, mark.Unmarked, mark.Step = true, true, t.stepLevel
	mark.Drag = func(_, y float32) {
		v := float64((b.y+b.height/2-y)/b.height) * 8 * division
		t.set(func(w *switches) { w.level = roundTo(min(max(v, -4*division), 4*division), division/20) })
	}
}

// ruleGram rules time and frequency.
func (l *Large) ruleGram(p *leaf.Pen, b box) {
	m := l.panel.measure
	a := m.axis()
	p.Box(b.x-1, b.y-1, b.width+2, b.height+2, nil, p.Ink.Faint)
	free := b.y + b.height + p.Em
	for _, hz := range marks(a) {
		y := b.y + b.height*float32(1-a.Fraction(hz))
		p.Level(b.x-p.Em*0.3, y, p.Em*0.3, p.Ink.Line)
		if labelled(a, hz) && y < free-p.Em*0.9 {
			p.Right(look.Small, b.x-p.Em*0.45, y+p.Em*0.28, hertzLabel(hz))
			free = y
		}
	}
	for i := 0; i <= 5; i++ {
		x := b.x + b.width*float32(i)/5
		p.Upright(x, b.y+b.height, p.Em*0.3, p.Ink.Line)
		label := "now"
		if i < 5 {
			label = signedTime(-m.switches.gramTime * float64(5-i) / 5)
		}
		p.Middle(look.Small, min(x, b.x+b.width-p.Em), b.y+b.height+p.Em*1.25, label)
	}
}

// signedTime writes a time from the trigger: "−20 ms", "0", "500 µs".
func signedTime(seconds float64) string {
	switch {
	case seconds == 0:
		return "0"
	case seconds < 0:
		return "−" + timeText(-seconds)
	}
	return timeText(seconds)
}
