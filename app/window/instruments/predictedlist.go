package instruments

import (
	"fmt"
	"image/color"
	"math"
	"slices"
	"strings"
	"time"

	"fyne.io/fyne/v2"

	"lampblack/app/desk"
	"lampblack/app/window/calm"
	"lampblack/app/window/instruments/expect"
	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
	"lampblack/patch"
	"lampblack/scope"
)

// expectedList writes below the picture what is expected: for which moment, how
// well the sound agrees, why something can't be said, and the table.
type expectedList struct {
	leaf.Turning
	e     *expected
	wide  float32       // at which it was written last
	tall  float32       // that it takes
	needs time.Duration // when it last needed all of that
	room  listRoom      // for which
}

// listRoom is what the height of the list hangs on, besides what it tells.
type listRoom struct {
	em, all float32
	table   bool
	show    int
}

func newExpectedList(e *expected) *expectedList {
	l := &expectedList{e: e}
	l.Write = l.write
	l.Key = l.key
	l.Extend(l)
	return l
}

// rowLine is the height of a row, in ems.
const rowLine = 1.25

// aboutAt is where the words begin beside the probe's letter, in ems.
const aboutAt = 1.3

// aboutMost is in how many lines it is told what the prediction is for, at most.
// There is always room for them.
const aboutMost = 2

// aboutLines is what the prediction is for.
func (l *expectedList) aboutLines(em float32) []string {
	text := shownText(l.e.about())
	if l.wide <= 0 {
		return []string{text}
	}
	lines := look.Quiet.Wrap(text, l.wide-em*aboutAt)
	if len(lines) > aboutMost {
		lines = append(lines[:aboutMost-1], strings.Join(lines[aboutMost-1:], " "))
	}
	return lines
}

// shrinkAfter is how long the list has needed less before it takes less: the
// picture over it must not jump with every answer.
const shrinkAfter = 2 * time.Second

// height is how much of the height of the plate the list takes: at once where it
// needs more, and after a while where it needs less.
func (l *expectedList) height(p *leaf.Pen, all float32) float32 {
	need, now := l.needed(p, all), calm.Clock()
	room := listRoom{p.Em, all, l.e.t.measure.switches.table, l.e.t.measure.switches.show}
	if room != l.room || need >= l.tall {
		l.room, l.tall, l.needs = room, need, now
	} else if now-l.needs > shrinkAfter {
		l.tall = need
	}
	return l.tall
}

// needed is how much of the height the list would fill now.
func (l *expectedList) needed(p *leaf.Pen, all float32) float32 {
	e := l.e
	head := p.Em * (1.6 + 1.3*float32(aboutMost+min(len(e.is.Why), 3)))
	if e.t.measure.switches.show == showDifference {
		head = p.Em * 1.6
	}
	if e.t.measure.switches.table && (len(e.rows) > 0 || e.answered == (moment{})) {
		head = max(head, min(all*0.56, p.Em*(8.4+rowLine*24)))
	}
	return min(head, all-p.Em*5.4)
}

func (l *expectedList) write(p *leaf.Pen) {
	e := l.e
	base := p.Em * 1.1
	ink := [...]color.NRGBA{p.Ink.ProbeA, p.Ink.ProbeB}[max(e.of(), 0)]
	if e.t.measure.switches.show == showDifference {
		p.Fit(look.Emphasis, 0, base, p.Width, "nothing is expected of B less A: choose lines or third octaves under “shown”")
		return
	}
	p.Tinted(look.Caps, ink, 0, base, [...]string{"A", "B"}[max(e.of(), 0)])
	l.wide = p.Width
	for _, line := range l.aboutLines(p.Em) {
		p.Fit(look.Quiet, p.Em*aboutAt, base, p.Width-p.Em*aboutAt, line)
		base += p.Em * 1.3
	}
	p.Tinted(look.Quiet, p.Ink.Drawn, 0, base, look.Quiet.Fit(shownText(e.agreement()), p.Width, 1))
	for i, why := range e.is.Why {
		if i == 3 || base+p.Em*1.5 > p.Height {
			break
		}
		base += p.Em * 1.3
		if i == 2 && len(e.is.Why) > 3 {
			why = fmt.Sprintf("%s; and %d more", why, len(e.is.Why)-3)
		}
		p.Fit(look.Emphasis, 0, base, p.Width, "not predicted: "+shownText(why))
	}
	if e.t.measure.switches.table && len(e.rows) > 0 {
		l.writeTable(p, base+p.Em*0.5)
	}
}

// writeTable writes the rows round the chosen one, and its formula below.
func (l *expectedList) writeTable(p *leaf.Pen, top float32) {
	e := l.e
	chosen := &e.rows[min(e.chosen, len(e.rows)-1)]
	formula := look.Quiet.Wrap(shownText(chosen.Detail()+e.claim(chosen)), p.Width)
	if len(formula) > 3 {
		formula = append(formula[:2], strings.Join(formula[2:], " "))
	}
	foot := p.Height - p.Em*(0.5+1.25*float32(len(formula)))
	columns := columnsFor(p, e.rows)
	base := l.writeHeads(p, columns, top)
	count := max(int((foot-base-p.Em*0.3)/(p.Em*rowLine)), 1)
	e.top = min(max(e.top, e.chosen-count+1), e.chosen)
	e.top = max(min(e.top, len(e.rows)-count), 0)
	mark := p.Mark()
	for i := e.top; i < min(e.top+count, len(e.rows)); i++ {
		y := base + p.Em*rowLine*float32(i-e.top)
		l.writeRow(p, columns, i, y)
	}
	p.Turn(mark, func(n int) { e.choose(e.chosen - n) })
	y := foot + p.Em*0.95
	p.Level(0, foot-p.Em*0.1, p.Width, p.Ink.Faint)
	for _, line := range formula {
		p.Tinted(look.Quiet, p.Ink.Drawn, 0, y, look.Quiet.Fit(line, p.Width, 1))
		y += p.Em * 1.25
	}
}

func (l *expectedList) writeRow(p *leaf.Pen, columns []column, i int, y float32) {
	e := l.e
	if i == e.chosen {
		p.Box(-p.Em*0.2, y+p.Em*0.05, p.Width+p.Em*0.4, p.Em*rowLine, p.Ink.Wash, nil)
	}
	r := &e.rows[i]
	cells := r.Cells()
	if len(e.is.Why) > 0 { // a part of the sound: nothing is claimed
		cells[5], cells[6] = "", ""
	}
	for _, c := range columns {
		style, ink := look.Small, p.Ink.Drawn
		if c.cell == 0 {
			style = look.Quiet
		}
		if r.Told != expect.Read && c.cell > 2 || !e.claimed(r) {
			ink = p.Ink.Quiet
		}
		c.write(p, style, ink, y+p.Em*0.95, shownCell(cells[c.cell]))
	}
	place := p.Place(fmt.Sprintf("row %d", i+1), 0, y, p.Width, p.Em*rowLine)
	place.Unmarked = true
	place.Tap = func() { e.choose(i) }
}

// shownCell sets a cell as it is set on the screen: both levels of a range have
// their sign.
func shownCell(cell string) string {
	parts := strings.Split(cell, " to ")
	for i := range parts {
		parts[i] = strings.Replace(shownText(parts[i]), "-inf", "−∞", 1)
	}
	return strings.Join(parts, " to ")
}

// shownText sets a name or a formula: what is taken away has a true minus sign.
func shownText(s string) string { return strings.ReplaceAll(look.Shown(s), " - ", " − ") }

// column is where a cell stands: names from the left, figures to the right edge.
type column struct {
	cell     int
	x, width float32
}

func (c column) write(p *leaf.Pen, style look.Style, ink color.Color, base float32, text string) {
	if c.cell == 0 {
		p.Tinted(style, ink, c.x, base, style.Fit(text, c.width, 1))
		return
	}
	p.RightTinted(style, ink, c.x+c.width, base, style.Fit(text, c.width, 1))
}

// columnsFor lays the columns out; on a narrow page the measured frequency is left
// out, which the difference tells as well, and then the differences in Hz.
func columnsFor(p *leaf.Pen, rows []expect.Row) []column {
	widths := []float32{0, 4.4, 3.6, 4.6, 3.8, 4.0, 3.4}
	if slices.ContainsFunc(rows, func(r expect.Row) bool { return r.Open() }) {
		widths[2] = 7
	}
	const least = 8 // of a name
	leave := map[int]bool{}
	for _, drop := range []int{3, 6, 4} {
		if sum(widths, leave)+least <= p.Width/p.Em {
			break
		}
		leave[drop] = true
	}
	x := p.Width
	var out []column
	for c := len(widths) - 1; c > 0; c-- {
		if leave[c] {
			continue
		}
		w := widths[c] * p.Em
		x -= w
		out = append(out, column{c, x, w - p.Em*0.15})
	}
	return append(out, column{0, 0, x - p.Em*0.3})
}

// heads are what stands over the figures, and over pairs of them.
var heads = [...]struct{ over, unit string }{{"", "line"}, {"expected", "Hz"}, {"", "dB"}, {"measured", "Hz"}, {"", "dB"}, {"difference", "dB"}, {"", "Hz"}}

// writeHeads writes the heads of the columns in two lines, and returns where the
// rows begin.
func (l *expectedList) writeHeads(p *leaf.Pen, columns []column, top float32) float32 {
	at := map[int]column{}
	for _, c := range columns {
		at[c.cell] = c
		c.write(p, look.Small, p.Ink.Quiet, top+p.Em*2.0, heads[c.cell].unit)
	}
	for _, first := range []int{1, 3, 5} {
		from, to := at[first], at[first+1]
		if from.width == 0 {
			from = to
		}
		if to.width == 0 {
			to = from
		}
		right := to.x + to.width
		left := from.x + p.Em*0.7
		if word := heads[first].over; right > left {
			p.RightTinted(look.Small, p.Ink.Quiet, right, top+p.Em*0.9, look.Small.Fit(word, right-left+p.Em*0.7, 1))
			p.Level(left, top+p.Em*1.15, right-left, p.Ink.Faint)
		}
	}
	p.Level(0, top+p.Em*2.35, p.Width, p.Ink.Line)
	return top + p.Em*2.4
}

func sum(widths []float32, leave map[int]bool) (all float32) {
	for c, w := range widths {
		if !leave[c] {
			all += w
		}
	}
	return all
}

// key goes through the rows.
func (l *expectedList) key(k fyne.KeyName) bool {
	by := map[fyne.KeyName]int{fyne.KeyUp: -1, fyne.KeyDown: 1, fyne.KeyPageUp: -8, fyne.KeyPageDown: 8, fyne.KeyHome: -len(l.e.rows), fyne.KeyEnd: len(l.e.rows)}[k]
	if by == 0 || !l.e.t.measure.switches.table {
		return false
	}
	l.e.choose(l.e.chosen + by)
	return true
}

// about tells what the prediction is for.
func (e *expected) about() string {
	at := e.t.session.Probe(desk.ProbeID(max(e.of(), 0)))
	if at == (patch.Socket{}) {
		return "the probe is nowhere: put it on an output"
	}
	if e.answered == (moment{}) {
		if e.t.measure.switches.frozen {
			return "the signal is frozen: F4 lets it go on, and what is expected is worked out"
		}
		return "is being worked out …"
	}
	now := e.answered
	text := at.String()
	switch {
	case now.keys == "":
	case now.held:
		text += fmt.Sprintf(": %s held, velocity %.2f", noteOf(now.pitch), now.velocity)
	default:
		text += ": no key down (the last was " + noteOf(now.pitch) + ")"
	}
	switch {
	case now.levels != "" && e.sound.moving:
		text += "; envelopes on their way, at their mean over the spectrum"
	case now.levels != "":
		text += "; envelopes are taken where they stand"
	case len(e.envelopes) > 0:
		text += "; its envelopes have settled"
	}
	if e.together {
		text += "; oscillators as if begun at once"
	}
	for _, m := range e.is.Moving {
		if m.Hz > 0 {
			text += fmt.Sprintf("; %s sways %.3g times a second", m.Socket, m.Hz)
			break
		}
	}
	if e.late {
		return "being worked out anew; a moment ago: " + text // first: it is never cut off
	}
	return text
}

// claim tells how exactly a row is claimed.
func (e *expected) claim(r *expect.Row) string {
	switch {
	case r.Band || r.Open() || e.answered.levels != "" || len(e.is.Why) > 0:
		return ""
	case !e.claimed(r):
		return "; under what is claimed"
	}
	return fmt.Sprintf("; claimed within %.2g dB", e.is.Within)
}

// noteOf names a pitch: "A4", "C5 +12 ct".
func noteOf(pitch float64) string {
	n, ok := scope.NearestNote(440 * math.Exp2(pitch))
	if !ok {
		return "a note"
	}
	if cents := math.Round(n.Cents); cents != 0 {
		return fmt.Sprintf("%s %+.0f ct", n.Name(), cents)
	}
	return n.Name()
}

// agreement tells how well the sound agrees.
func (e *expected) agreement() string {
	switch {
	case e.answered == (moment{}):
		return ""
	case len(e.rows) == 0 && len(e.is.Why) > 0:
		return "nothing of this sound can be worked out"
	case len(e.rows) == 0:
		return "silence is expected"
	case e.sound.rest == nil:
		return fmt.Sprintf("%d lines and bands; the sound is measured as soon as it stands still", len(e.rows))
	case len(e.is.Why) > 0:
		return "what can be worked out is only a part of the sound: no ring is drawn"
	}
	return expect.Summary(e.rows, e.is.Down, *e.sound.rest, e.sound.seconds)
}
