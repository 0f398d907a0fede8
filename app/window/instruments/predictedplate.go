package instruments

import (
	"fmt"
	"image/color"
	"io"
	"math"

	"lampblack/app/window/instruments/expect"
	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
	"lampblack/app/window/plate"
)

// settings are those of what is expected.
func (e *expected) settings() []plate.Setting {
	list := []plate.Setting{e.ofSetting()}
	if e.of() < 0 {
		return list
	}
	list = append(list, e.tableSetting())
	if e.t.measure.switches.table && len(e.rows) > 0 {
		list = append(list, e.lineSetting())
	}
	return list
}

func (e *expected) ofSetting() plate.Setting {
	t := e.t
	step := func(n int) { t.set(func(w *switches) { w.expected = plate.Turn(w.expected, n, channels+1) }) }
	return plate.Setting{Name: "expected", Text: [...]string{"off", "at A", "at B"}[t.measure.switches.expected], Tap: func() { step(1) }, Step: step,
		Tint: [...]color.Color{nil, look.Now().ProbeA, look.Now().ProbeB}[t.measure.switches.expected],
		Hint: "open rings where theory puts the lines at a probe, worked out from the patch; a dashed line for noise"}
}

func (e *expected) tableSetting() plate.Setting {
	t := e.t
	text := "off"
	if t.measure.switches.table {
		text = "on"
	}
	step := func(int) { t.set(func(w *switches) { w.table = !w.table }) }
	return plate.Setting{Name: "table", Text: text, Tap: func() { step(1) }, Step: step,
		Hint: "expected, measured, difference; Tab comes to it, ↑ ↓ PgUp PgDn Home End go through it"}
}

func (e *expected) lineSetting() plate.Setting {
	return plate.Setting{Name: "line", Text: fmt.Sprintf("%d of %d", e.chosen+1, len(e.rows)),
		Step:  func(n int) { e.choose(e.chosen - n) },
		Tap:   func() { e.choose((e.chosen + 1) % len(e.rows)) },
		Typed: func(v float64) { e.choose(int(v) - 1) },
		Hint:  "the line whose formula is shown and whose ring is marked; a click on a ring or a row chooses it"}
}

// writePlace lets the rings be chosen with the mouse.
func (s *spectrumPlate) writePlace(p *leaf.Pen, b plate.Box) {
	e := s.expected
	if !e.t.measure.switches.table || len(e.rows) == 0 {
		return
	}
	place := p.Place("rings", b.X, b.Y, b.Width, b.Height)
	place.Unlisted, place.Unmarked = true, true
	place.Down = func(x, y float32) {
		e.choose(expect.Nearest(e.rows, func(r *expect.Row) float64 {
			rx, ry, ok := s.rings.place(r, b.Width, b.Height)
			if !ok {
				return math.Inf(1)
			}
			return math.Hypot(float64(rx-(x-b.X)), float64(ry-(y-b.Y)))
		}))
	}
	place.Step = func(n int) { e.choose(e.chosen - n) }
}

// HintAt is plate.Hinter's.
func (s *spectrumPlate) HintAt(place string) string {
	if place == "rings" {
		return "click a ring to choose its line; ↑ ↓ at “line” go through them"
	}
	return ""
}

// writeCSV writes the table.
func (e *expected) writeCSV(w io.Writer) error {
	if err := expect.WriteCSV(w, e.rows); err != nil {
		return fmt.Errorf("the table could not be written: %w", err)
	}
	return nil
}
