package ruler

import (
	"math"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
	"lampblack/patch"
)

// key works the table: arrows choose a row and change its height, Control with
// arrows its other numbers (see TypedShortcut).
func (t *Table) key(k fyne.KeyName) bool {
	switch k {
	case fyne.KeyLeft:
		t.choose(-1)
	case fyne.KeyRight:
		t.choose(1)
	case fyne.KeyHome:
		t.choose(-len(t.Rows()))
	case fyne.KeyEnd:
		t.choose(len(t.Rows()))
	case fyne.KeyUp:
		t.change(t.plot.upright(), 1)
	case fyne.KeyDown:
		t.change(t.plot.upright(), -1)
	case fyne.KeyPageUp:
		t.change(t.plot.upright(), 10)
	case fyne.KeyPageDown:
		t.change(t.plot.upright(), -10)
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeyF2:
		t.Type(t.plot.upright(), "")
	case fyne.KeyInsert:
		t.Add()
	case fyne.KeyDelete, fyne.KeyBackspace:
		t.Remove()
	default:
		return false
	}
	return true
}

// TypedShortcut changes with Control and the arrows what lies across (a time, a
// ratio) and how a segment bends; all else goes to the window.
func (t *Table) TypedShortcut(sc fyne.Shortcut) {
	if c, ok := sc.(*desktop.CustomShortcut); ok && c.Modifier&^fyne.KeyModifierShift == fyne.KeyModifierShortcutDefault {
		bends := t.plot.table != nil && len(t.plot.table.Columns) > 2
		switch {
		case c.KeyName == fyne.KeyLeft:
			t.change(0, -1)
			return
		case c.KeyName == fyne.KeyRight:
			t.change(0, 1)
			return
		case c.KeyName == fyne.KeyUp && bends:
			t.change(2, 1)
			return
		case c.KeyName == fyne.KeyDown && bends:
			t.change(2, -1)
			return
		}
	}
	if w, ok := fyne.CurrentApp().Driver().CanvasForObject(t).(fyne.Shortcutable); ok {
		w.TypedShortcut(sc)
	}
}

// choose goes by so many rows, as they stand from left to right.
func (t *Table) choose(by int) {
	t.session.Settle()
	order := t.plot.order()
	at := slices.Index(order, t.Row())
	if len(order) == 0 || at < 0 {
		return
	}
	t.row = order[min(max(at+by, 0), len(order)-1)]
	t.Refresh()
}

// change moves a number of the chosen row by hundredths of its scale, by
// thousandths with Shift; an interval by cents.
func (t *Table) change(column int, steps float64) {
	k, ok := t.kind()
	if !ok || len(t.Rows()) == 0 {
		return
	}
	if shift() {
		steps /= finer
	}
	rows := copied(t.Rows())
	cell, c := &rows[t.Row()][column], &k.Table.Columns[column]
	switch s := &c.Scale; {
	case inCents(c):
		*cell = min(max(math.Round((*cell*1200+steps)*1000)/1000/1200, s.Min), s.Max)
	case s.Unit == "s" && s.Taper == patch.Linear:
		*cell = min(max(laterBy(*cell, steps), s.Min), s.Max)
	default:
		*cell = moved(*cell, s, steps).Value
	}
	t.set(rows)
}

// laterBy lengthens a time by hundredths of itself, but by a millisecond at
// least: a hundredth of a scale of a minute would be too much for an attack.
func laterBy(seconds, steps float64) float64 {
	step := max(0.01*seconds, 0.001)
	if math.Abs(steps) < 1 {
		step = max(0.01*seconds, 0.0001/math.Abs(steps))
	}
	return patch.Rounded(seconds+steps*step, "s").Value
}

// Add puts a row behind the chosen one, like it or, of a curve, halfway on.
func (t *Table) Add() {
	k, ok := t.kind()
	if !ok || t.full() {
		return
	}
	rows, i := t.Rows(), t.Row()
	switch {
	case len(rows) == 0:
		t.insert(0, k.Table.Row())
	case k.Table.Drawn == patch.DrawnCurve:
		from := t.plot.levelBefore(i)
		half := rows[i][0] / 2
		level := rounded(from+(rows[i][1]-from)*bent(t.plot.curve(i), 0.5), &k.Table.Columns[1].Scale).Value
		t.split(i, t.plot.timeOf(i-1)+half, level)
	case k.Table.Drawn == patch.DrawnBars:
		row := slices.Clone(rows[i])
		if next := row[0] + 1; k.Table.Columns[0].Scale.Unit == "x" && next <= k.Table.Columns[0].Scale.Max {
			row[0] = next // the next harmonic
		}
		t.insert(i+1, row)
	default:
		t.insert(i+1, []float64{t.between(i)})
	}
}

// between returns the middle between a point and the next one to the right.
func (t *Table) between(i int) float64 {
	order := t.plot.order()
	at := slices.Index(order, i)
	end := t.plot.table.Columns[0].Scale.Max
	if at+1 < len(order) {
		end = t.plot.rows[order[at+1]][0]
	}
	return math.Round((t.plot.rows[i][0]+end)*600) / 1200
}

// Remove takes the chosen row away. Of a curve the segment behind takes its
// time, so that all that follows stays where it is.
func (t *Table) Remove() {
	k, ok := t.kind()
	if !ok {
		return
	}
	rows, i := copied(t.Rows()), t.Row()
	if len(rows) <= k.Table.Least {
		t.say("there must be " + k.Table.Allowed())
		return
	}
	if k.Table.Drawn == patch.DrawnCurve && i+1 < len(rows) {
		s := &k.Table.Columns[0].Scale
		rows[i+1][0] = min(rounded(rows[i][0]+rows[i+1][0], s).Value, s.Max)
	}
	t.once(slices.Delete(rows, i, i+1), min(i, len(rows)-2))
}

// Type opens a number of the chosen row for typing; begin replaces it if not
// empty.
func (t *Table) Type(column int, begin string) {
	k, ok := t.kind()
	if !ok || column >= len(k.Table.Columns) || len(t.Rows()) == 0 {
		return
	}
	t.stroke, t.message = stroke{}, ""
	text := begin
	if begin == "" {
		text = look.Typed(written(&k.Table.Columns[column], t.Rows()[t.Row()][column]))
	}
	t.typing = column
	t.field.SetText(text)
	t.field.CursorColumn = len([]rune(text))
	t.Refresh()
	if c := fyne.CurrentApp().Driver().CanvasForObject(t); c != nil {
		c.Focus(t.field)
	}
	if begin == "" {
		t.field.TypedShortcut(&fyne.ShortcutSelectAll{})
	}
}

// settle sets what was typed; false if it can't be read.
func (t *Table) settle() bool {
	k, ok := t.kind()
	if !ok || t.typing < 0 || t.Row() >= len(t.Rows()) {
		return true
	}
	c := &k.Table.Columns[t.typing]
	text := strings.TrimSpace(look.Typed(t.field.Text))
	if text == look.Typed(written(c, t.Rows()[t.Row()][t.typing])) {
		return true
	}
	if inCents(c) && endsInFigure(text) {
		text += " cents"
	}
	control := patch.Control{Name: c.Name, Scales: []patch.Scale{c.Scale}}
	v, err := patch.ParseSettingIn(text, &control, c.Scale.Unit)
	if err != nil {
		t.say(look.Shown(err.Error()) + "; nothing was changed")
		return false
	}
	rows := copied(t.Rows())
	rows[t.Row()][t.typing] = v.Value
	t.message = ""
	t.once(rows, t.Row())
	return true
}

func (t *Table) take() {
	if t.settle() {
		t.close(true)
	}
}

func (t *Table) drop() { t.close(true) }

// leave is called while the keyboard goes elsewhere: what can be read is taken.
func (t *Table) leave() {
	if t.typing >= 0 && t.settle() {
		t.close(false)
	}
}

func (t *Table) close(refocus bool) {
	t.typing, t.message = -1, ""
	t.Refresh()
	if c := fyne.CurrentApp().Driver().CanvasForObject(t); c != nil && refocus {
		c.Focus(t)
	}
}

func (t *Table) say(message string) {
	t.message = message
	t.Refresh()
}

// TypedRune begins to type a number.
func (t *Table) TypedRune(c rune) {
	if c >= '0' && c <= '9' || c == '-' || c == '+' || c == '.' || c == '−' {
		t.Type(t.plot.upright(), string(c))
		return
	}
	t.Leaf.TypedRune(c)
}

// TypedKey is fyne's. What was said is put away by the next key.
func (t *Table) TypedKey(ev *fyne.KeyEvent) {
	t.message = ""
	t.Leaf.TypedKey(ev)
}

// KeyDown gives keys to the window, where they play; figures are typed here.
func (t *Table) KeyDown(ev *fyne.KeyEvent) {
	if !figureKey(ev.Name) {
		leaf.PassDown(t, ev)
	}
}

// KeyUp gives keys to the window. It ends a row of steps.
func (t *Table) KeyUp(ev *fyne.KeyEvent) {
	switch ev.Name {
	case fyne.KeyUp, fyne.KeyDown, fyne.KeyPageUp, fyne.KeyPageDown, fyne.KeyLeft, fyne.KeyRight:
		t.session.Settle()
	}
	if !figureKey(ev.Name) {
		leaf.PassUp(t, ev)
	}
}
