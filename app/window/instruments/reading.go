package instruments

import (
	"fmt"
	"image/color"
	"math"
	"strings"

	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
	"lampblack/app/window/plate"
	"lampblack/scope"
)

// writeReading writes what the instrument reads, in figures that can be read
// from some way off, and below what the setting under the mouse or the keyboard
// is for.
func (l *Large) writeReading(p *leaf.Pen) {
	l.words = l.readingText()
	for i, line := range strings.Split(l.words, "\n") {
		c := color.Color(p.Ink.Drawn)
		switch {
		case strings.HasPrefix(line, "A "):
			c = p.Ink.ProbeA
		case strings.HasPrefix(line, "B "):
			c = p.Ink.ProbeB
		}
		style := look.Figures
		if i == 2 {
			style, c = look.Emphasis, p.Ink.Drawn
		}
		p.Tinted(style, c, 0, p.Em*(1.15+1.4*float32(i)), style.Fit(wholeParts(p, style, line), p.Width, 1))
	}
}

// wholeParts leaves out those readings at the end that do not fit as a whole.
func wholeParts(p *leaf.Pen, style look.Style, line string) string {
	for p.Wide(style, line) > p.Width {
		at := strings.LastIndex(strings.TrimRight(line, " "), plate.Between)
		if at <= 0 {
			break
		}
		line = line[:at]
	}
	return line
}

// readingText is two lines of readings and one of help.
func (l *Large) readingText() string {
	one, two := l.now().Reading()
	return one + "\n" + two + "\n" + l.hint()
}

// hint tells what the setting under the mouse or the keyboard is for.
func (l *Large) hint() string {
	at := l.At()
	if l.fault != "" && at == l.faultAt {
		return look.Shown(l.fault)
	}
	if l.typing != "" {
		at = l.typing
	}
	for _, s := range l.settings() {
		if s.Name == at {
			return look.Shown(s.Hint)
		}
	}
	if h, ok := l.now().(plate.Hinter); ok && at != "" {
		if hint := h.HintAt(at); hint != "" {
			return look.Shown(hint)
		}
	}
	return "click, scroll or type a setting; F6, then arrow keys: ← → go, ↑ ↓ turn"
}

// pitchText tells how often a second the signal in the picture repeats, and how
// far it reaches.
func (t *Panel) pitchText(i int) string {
	m := t.measure
	if !m.connected[i] || len(m.samples[i]) == 0 || m.switches.rolls() {
		return ""
	}
	name := [...]string{"A", "B"}[i]
	from, to := max(int(m.view.First), 0), min(int(m.view.First+m.view.Length)+1, len(m.samples[i]))
	least, most, ok := look.Extent(m.samples[i][min(from, to):to])
	if !ok {
		return ""
	}
	text := fmt.Sprintf("%s %+.3f to %+.3f", name, least, most)
	if hz, ok := scope.Frequency(m.samples[i], m.rate, m.view); ok {
		text += "   " + plate.ExactHertz(hz) + noteText(hz)
	}
	return look.Shown(text)
}

// noteText names the nearest note: "  A4 +2 ct".
func noteText(hz float64) string {
	n, ok := scope.NearestNote(hz)
	if !ok {
		return ""
	}
	cents := math.Round(n.Cents)
	if cents == 0 { // no sign
		return fmt.Sprintf("  %s 0 ct", n.Name())
	}
	return fmt.Sprintf("  %s %+.0f ct", n.Name(), cents)
}

// peaksText tells the strongest lines of a channel.
func (t *Panel) peaksText(i int) string {
	m := t.measure
	if !m.connected[i] || len(m.peaks[i]) == 0 {
		return ""
	}
	text, between := [...]string{"A", "B"}[i], " "
	for k, peak := range m.peaks[i] {
		if peak.Hz < m.lowest(i) {
			if k == 0 {
				text += " under " + plate.Hertz(m.lowest(i))
			}
			continue
		}
		text += between + fmt.Sprintf("%s %s%s", plate.ExactHertz(peak.Hz), plate.Level(peak.DB), noteText(peak.Hz))
		between = plate.Between
	}
	return look.Shown(text)
}
