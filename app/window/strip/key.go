package strip

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

// key takes the keys of the strip while it has the keyboard.
func (t *Strip) key(k fyne.KeyName) bool {
	i, count := t.session.Selection().Note, len(t.memory().Notes)
	if count == 0 {
		return false
	}
	shift := shifted()
	switch {
	case k == fyne.KeyLeft && shift:
		return t.nudge(i, -1, 0)
	case k == fyne.KeyRight && shift:
		return t.nudge(i, 1, 0)
	case k == fyne.KeyUp && shift:
		return t.stretch(i, 1)
	case k == fyne.KeyDown && shift:
		return t.stretch(i, -1)
	case k == fyne.KeyLeft && i < 0:
		t.choose(count - 1)
	case k == fyne.KeyLeft:
		t.choose(max(i-1, 0))
	case k == fyne.KeyRight:
		t.choose(min(i+1, count-1))
	case k == fyne.KeyHome:
		t.choose(0)
	case k == fyne.KeyEnd:
		t.choose(count - 1)
	case k == fyne.KeyUp:
		return t.nudge(i, 0, 1)
	case k == fyne.KeyDown:
		return t.nudge(i, 0, -1)
	case k == fyne.KeyDelete || k == fyne.KeyBackspace:
		t.session.EraseNote(i)
	case k == fyne.KeyReturn || k == fyne.KeyEnter:
		t.fill(i)
	case k == fyne.KeyEscape && (i >= 0 || t.session.Armed() >= 0):
		t.choose(-1)
	default:
		return false
	}
	return true
}

// nudge moves a note by steps of a fine ruling and by semitones.
func (t *Strip) nudge(i, steps, semitones int) bool {
	m := t.memory()
	if i < 0 || i >= len(m.Notes) {
		return false
	}
	step := t.paper.grid(20) / 5
	after, at := moved(m, i, float64(steps)*step, m.Notes[i].Pitch+float64(semitones)/12)
	t.do("move a note", after)
	if at != i {
		t.choose(at)
	}
	return true
}

// stretch lengthens a note by steps of a fine ruling.
func (t *Strip) stretch(i, steps int) bool {
	m := t.memory()
	if i < 0 || i >= len(m.Notes) {
		return false
	}
	t.do("lengthen a note", lengthened(m, i, float64(steps)*t.paper.grid(20)/5))
	return true
}

func shifted() bool {
	d, ok := fyne.CurrentApp().Driver().(desktop.Driver)
	return ok && d.CurrentKeyModifiers()&fyne.KeyModifierShift != 0
}
