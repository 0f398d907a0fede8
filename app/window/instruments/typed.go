package instruments

import (
	"fmt"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"

	"lampblack/app/window/plate"
)

// suffixes are what may follow a typed figure, and by what it is multiplied.
var suffixes = map[string]float64{"µs": 1e-6, "us": 1e-6, "ms": 1e-3, "s": 1, "db": 1, "div": 1, "spectra": 1}

// readFigure reads a typed number. Without a unit it has that of the text which
// is shown, as "5 ms/div".
func readFigure(text, shown string) (v float64, ok bool) {
	figure, unit := cutFigure(text)
	if unit == "" {
		_, unit = cutFigure(shown)
	}
	v, err := strconv.ParseFloat(figure, 64)
	if err != nil || v-v != 0 {
		return 0, false
	}
	by, known := suffixes[unit]
	if unit == "" || !known && strings.TrimSpace(text) == figure {
		by, known = 1, true
	}
	return v * by, known
}

// cutFigure parts a number from its unit; "/div" is no unit of its own.
func cutFigure(text string) (figure, unit string) {
	text = strings.ToLower(strings.TrimSpace(text))
	text = strings.NewReplacer("−", "-", ",", ".", "μ", "µ").Replace(text)
	text = strings.TrimSpace(strings.TrimSuffix(text, "/div"))
	at := strings.LastIndexAny(text, "0123456789.") + 1
	return text[:at], strings.TrimSpace(text[at:])
}

// TypedRune is fyne's: a figure begins to be typed where the keyboard is.
func (l *Large) TypedRune(r rune) {
	if s, ok := l.typable(); ok && (r >= '0' && r <= '9' || r == '.' || r == '-' || r == '−') {
		l.typeIn(s, string(r))
		return
	}
	l.Turning.TypedRune(r)
}

// KeyDown is fyne's: figures that are typed are no notes.
func (l *Large) KeyDown(e *fyne.KeyEvent) {
	if _, ok := l.typable(); ok && isFigure(e.Name) {
		return
	}
	l.Turning.KeyDown(e)
}

func isFigure(k fyne.KeyName) bool {
	return len(k) == 1 && (k[0] >= '0' && k[0] <= '9' || k == fyne.KeyMinus || k == fyne.KeyPeriod)
}

// typable returns the setting under the mouse or the keyboard, if a number can
// be typed there.
func (l *Large) typable() (plate.Setting, bool) {
	at := l.At()
	for _, s := range l.settings() {
		if s.Name == at {
			return s, s.Typed != nil
		}
	}
	return plate.Setting{}, false
}

// typeIn opens the field over a setting with what was typed first.
func (l *Large) typeIn(s plate.Setting, first string) {
	l.typing, l.fault = s.Name, ""
	l.field.SetText(first)
	l.field.CursorColumn = len([]rune(first))
	l.Refresh()
	l.field.TakeKeyboard(fyne.CurrentApp().Driver().CanvasForObject(l))
}

// take takes what was typed; what is no number is told, and changes nothing.
func (l *Large) take(text string) {
	name := l.typing
	l.typing = ""
	for _, s := range l.settings() {
		if s.Name != name || s.Typed == nil {
			continue
		}
		if v, ok := readFigure(text, s.Text); ok {
			s.Typed(v)
		} else {
			l.faultAt = name
			l.fault = fmt.Sprintf("%q is no number for %s, which stays at %s", text, s.Name, s.Text)
		}
	}
	l.waits = 0
	l.Refresh()
}

// backToSettings ends typing and gives the keyboard to the settings.
func (l *Large) backToSettings() {
	if c := fyne.CurrentApp().Driver().CanvasForObject(l); c != nil {
		c.Focus(l)
	}
}

// typed returns what takes a typed number into a switch, held within limits.
func (t *Panel) typed(least, most float64, change func(w *switches, v float64)) func(v float64) {
	return func(v float64) {
		t.set(func(w *switches) { change(w, min(max(v, least), most)) })
	}
}
