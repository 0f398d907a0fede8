package instruments

import (
	"fmt"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
	"lampblack/app/window/plate"
)

// A cursor moves by a hundredth of a division, or by a whole one.
const cursorStep, cursorLeap = 0.001, 0.1

// writeCursors draws the two cursors over the scope's picture.
func (s *scopePlate) writeCursors(p *leaf.Pen, b plate.Box) {
	m := s.t.measure
	if m.switches.cursors == 0 || m.switches.plane {
		return
	}
	for k, at := range m.cursors {
		x := b.X + b.Width*float32(at)
		p.Upright(x, b.Y, b.Height, p.Ink.Drawn)
		p.Tinted(look.Small, p.Ink.Drawn, x+p.Em*0.25, b.Y+p.Em*0.9, fmt.Sprint(k+1))
		place := p.Place(fmt.Sprintf("cursor %d", k+1), x-p.Em*0.4, b.Y, p.Em*0.8, b.Height)
		place.Unmarked = true
		place.Cursor = desktop.HResizeCursor
		place.Drag = func(x, _ float32) { s.moveCursor(k, float64((x-b.X)/b.Width)) }
		place.Step = func(n int) { s.moveCursor(k, m.cursors[k]+float64(n)*cursorStep) }
		place.Keys = map[fyne.KeyName]func(){
			fyne.KeyPageUp:   func() { s.moveCursor(k, m.cursors[k]+cursorLeap) },
			fyne.KeyPageDown: func() { s.moveCursor(k, m.cursors[k]-cursorLeap) },
			fyne.KeyHome:     func() { s.moveCursor(k, m.switches.before) },
		}
	}
}

// moveCursor puts a cursor at a fraction of the picture's width.
func (s *scopePlate) moveCursor(k int, at float64) {
	s.t.measure.cursors[k] = min(max(at, 0), 1)
	s.l.waits = 0
	s.l.Refresh()
}

// cursorText tells what lies between the cursors.
func (s *scopePlate) cursorText() string {
	m := s.t.measure
	r, ok := m.readCursors()
	if !ok {
		return "the cursors are on a probe that is nowhere"
	}
	text := fmt.Sprintf("1 to 2: %s", plate.ExactTime(r.Seconds))
	if !math.IsInf(r.Hz, 0) {
		text += fmt.Sprintf("   1/t %s", plate.ExactHertz(r.Hz))
	}
	if m.switches.rolls() {
		return text
	}
	return look.Shown(text + fmt.Sprintf("   values %.4f, %.4f   rise %+.4f", unsigned(r.ValueA), unsigned(r.ValueB), unsigned(r.Rise)))
}

// unsigned takes its sign from what will be written as 0.
func unsigned(v float64) float64 {
	if math.Abs(v) < 0.5e-4 {
		return 0
	}
	return v
}
