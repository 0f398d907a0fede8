package instruments

import (
	"fmt"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
)

// A cursor moves by a hundredth of a division, or by a whole one.
const cursorStep, cursorLeap = 0.001, 0.1

// writeCursors draws the two cursors over the scope's picture.
func (l *Large) writeCursors(p *leaf.Pen, b box) {
	m := l.panel.measure
	if m.switches.cursors == 0 || m.switches.plane {
		return
	}
	for k, at := range m.cursors {
		x := b.x + b.width*float32(at)
		p.Upright(x, b.y, b.height, p.Ink.Drawn)
		p.Tinted(look.Small, p.Ink.Drawn, x+p.Em*0.25, b.y+p.Em*0.9, fmt.Sprint(k+1))
		place := p.Place(fmt.Sprintf("cursor %d", k+1), x-p.Em*0.4, b.y, p.Em*0.8, b.height)
		place.Unmarked = true
		place.Cursor = desktop.HResizeCursor
		place.Drag = func(x, _ float32) { l.moveCursor(k, float64((x-b.x)/b.width)) }
		place.Step = func(n int) { l.moveCursor(k, m.cursors[k]+float64(n)*cursorStep) }
		place.Keys = map[fyne.KeyName]func(){
			fyne.KeyPageUp:   func() { l.moveCursor(k, m.cursors[k]+cursorLeap) },
			fyne.KeyPageDown: func() { l.moveCursor(k, m.cursors[k]-cursorLeap) },
			fyne.KeyHome:     func() { l.moveCursor(k, m.switches.before) },
		}
	}
}

// moveCursor puts a cursor at a fraction of the picture's width.
func (l *Large) moveCursor(k int, at float64) {
	l.panel.measure.cursors[k] = min(max(at, 0), 1)
	l.waits = 0
	l.Refresh()
}

// cursorText tells what lies between the cursors.
func (l *Large) cursorText() string {
	m := l.panel.measure
	r, ok := m.readCursors()
	if !ok {
		return "the cursors are on a probe that is nowhere"
	}
	text := fmt.Sprintf("1 to 2: %s", exactTime(r.Seconds))
	if !math.IsInf(r.Hz, 0) {
		text += fmt.Sprintf("   1/t %s", exactHertz(r.Hz))
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

// exactTime writes a time with four figures behind the point of its unit.
func exactTime(seconds float64) string {
	switch s := math.Abs(seconds); {
	case s < 1e-3:
		return look.Shown(fmt.Sprintf("%.3f µs", seconds*1e6))
	case s < 1:
		return look.Shown(fmt.Sprintf("%.4f ms", seconds*1e3))
	}
	return look.Shown(fmt.Sprintf("%.4f s", seconds))
}

// exactHertz writes a frequency to a hundredth of a hertz.
func exactHertz(hz float64) string { return fmt.Sprintf("%.2f Hz", hz) }
