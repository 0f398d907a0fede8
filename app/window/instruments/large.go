package instruments

import (
	"image/color"

	"lampblack/app/window/instruments/meters"
	"lampblack/app/window/instruments/movement"
	"lampblack/app/window/instruments/response"
	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
	"lampblack/app/window/plate"
)

// instrument is the place of a plate in the order of the headings.
type instrument int

const (
	ofScope instrument = iota
	ofSpectrum
	ofGram
)

// Large is one instrument with all its settings, in the place of the sheet. It
// shares the settings and the measuring with the panel in the column, and draws
// nothing while it is hidden.
type Large struct {
	leaf.Turning
	panel   *Panel
	plates  []plate.Plate // in the order of the headings
	shown   instrument
	reading *leaf.Turning // what changes all the time: written apart
	words   string        // what reading shows
	rows    string        // what the settings show
	waits   int           // beats until the reading may change again
	area    plate.Box     // of the plate
	field   *leaf.Field   // in which a number is typed
	typing  string        // the setting that it is for, "" for none
	fault   string        // what was wrong with it
	faultAt string        // the setting that it is told at
	Changed func()        // it was shown, or hidden; may be nil
}

func newLarge(t *Panel) *Large {
	l := &Large{panel: t}
	l.plates = []plate.Plate{newScopePlate(l), newSpectrumPlate(l), newGramPlate(l)}
	l.plates = append(l.plates, meters.New(l.panel.session, l.panel.Until, l.panel.freezeSetting, func() bool { return l.panel.measure.switches.frozen }))
	l.plates = append(l.plates, movement.New(t.session, movement.Options{
		Refresh: l.Refresh, Freeze: t.freezeSetting, Frozen: func() bool { return t.measure.switches.frozen }, Until: t.Until,
	}))
	l.plates = append(l.plates, response.New(t.session, t.Until))
	l.reading = leaf.NewTurning(l.writeReading)
	l.Write = l.write
	l.field = leaf.NewField(false, "")
	l.field.Done = func(text string) {
		if l.typing != "" {
			l.take(text)
		}
	}
	l.field.Enter = func(text string) {
		l.take(text)
		l.backToSettings()
	}
	l.field.Escape = func() {
		l.typing = ""
		l.Refresh()
		l.backToSettings()
	}
	l.Extend(l)
	l.Hide()
	return l
}

// now is the plate that is shown, or was shown last.
func (l *Large) now() plate.Plate { return l.plates[l.shown] }

// Plates returns the names of all instruments, in the order of the headings.
func (l *Large) Plates() (names []string) {
	for _, p := range l.plates {
		names = append(names, p.Name())
	}
	return names
}

// Large returns the view that can take the place of the sheet; hidden at first.
func (t *Panel) Large() *Large { return t.large }

// Enlarge puts an instrument in the place of the sheet.
func (t *Panel) Enlarge(which instrument) {
	l := t.large
	if l.Visible() {
		l.now().Show(false)
	}
	l.shown, l.typing, l.fault = which, "", ""
	l.Show()
	l.now().Show(true)
	t.changed()
}

// GiveBack gives its place back to the sheet.
func (t *Panel) GiveBack() {
	t.large.now().Show(false)
	t.large.Hide()
	t.changed()
}

// ToggleLarge enlarges the instrument that was large last, or gives back.
func (t *Panel) ToggleLarge() {
	if t.large.Visible() {
		t.GiveBack()
		return
	}
	t.Enlarge(t.large.shown)
}

// NextLarge enlarges one instrument after the other, by -1 the other way round;
// after the last the sheet has its place again.
func (t *Panel) NextLarge(by int) {
	count := len(t.large.plates) + 1 // with the sheet, the last
	at := count - 1
	if t.large.Visible() {
		at = int(t.large.shown)
	}
	if at = plate.Turn(at, by, count); at == count-1 {
		t.GiveBack()
		return
	}
	t.Enlarge(instrument(at))
}

// EnlargeNamed puts the instrument of that name in the place of the sheet; false
// if there is none.
func (t *Panel) EnlargeNamed(name string) bool {
	for i, p := range t.large.plates {
		if p.Name() == name {
			t.Enlarge(instrument(i))
			return true
		}
	}
	return false
}

func (t *Panel) changed() {
	if t.large.Changed != nil {
		t.large.Changed()
	}
	t.Refresh()
	t.large.Refresh()
	t.redraw()
}

// redraw draws the picture anew, if it is to be seen.
func (l *Large) redraw() {
	if l.Visible() {
		l.now().Redraw()
	}
}

// readingBeats is for how many beats a reading stays: figures that change
// thirty times a second can't be read.
const readingBeats = 6

// beat writes what has changed.
func (l *Large) beat() {
	if !l.Visible() {
		return
	}
	l.now().Beat()
	if rows := l.rowsText(); rows != l.rows {
		l.Refresh()
	}
	if l.waits--; l.waits > 0 {
		return
	}
	if text := l.readingText(); text != l.words {
		l.waits = readingBeats
		l.reading.Refresh()
	}
}

func (l *Large) rowsText() string {
	text := l.now().Name()
	for _, s := range l.settings() {
		text += s.Name + s.Text
	}
	return text
}

// settings returns those of the instrument that mean anything now.
func (l *Large) settings() []plate.Setting {
	all := l.now().Settings()
	if w, ok := l.now().(plate.Writer); ok {
		for _, f := range w.Files() {
			all = append(all, plate.Setting{Name: f.Setting, Text: "write …", Hint: f.Hint, Tap: func() {
				if l.panel.Save != nil {
					l.panel.Save(f)
				}
			}})
		}
	}
	return all
}

const (
	rowHeight = 1.3  // of the settings at least, in ems
	rowRoom   = 1.7  // at most
	rowWidth  = 13.2 // of a column of them
	nameWidth = 5.8  // of their names
)

func (l *Large) write(p *leaf.Pen) {
	l.rows = l.rowsText()
	top, foot := p.Em*2.6, p.Em*4.6
	rows := l.settings()
	room := p.Height - top - p.Em*0.6
	inColumn := max(int(room/(p.Em*rowHeight)), 1)
	columns := (len(rows) + inColumn - 1) / inColumn
	margin := p.Em * rowWidth * float32(columns)
	l.area = plate.Box{X: p.Em * 1.3, Y: top, Width: p.Width - p.Em*1.3 - p.Em*1.3 - margin, Height: p.Height - top - foot}
	if l.area.Width < p.Em*9 || l.area.Height < p.Em*5.4 {
		p.Fit(look.Emphasis, p.Em*1.3, top+p.Em, p.Width-p.Em*2.6, "there is no room for a picture: drag the lines between the parts of the page")
		l.writeHead(p)
		return
	}
	_, listed := l.now().(plate.Listed)
	if listed {
		l.now().Write(p, l.area)
	}
	l.writeRows(p, rows, inColumn, p.Width-margin+p.Em*0.2, top) // first: the keyboard comes here
	if !listed {
		l.now().Write(p, l.area)
	}
	l.writeHead(p)
	p.Put(l.reading, p.Em*1.3, p.Height-foot, l.area.X+l.area.Width-p.Em*1.8, foot)
	l.reading.Refresh()
}

// writeHead names the instruments: the one that is shown, and the others to
// change to. Where there is no room for all, those that are nearest to it.
func (l *Large) writeHead(p *leaf.Pen) {
	x, base := p.Em*1.3, p.Em*1.6
	word := "give the sheet back (Esc)"
	from, to := l.named(p, p.Width-p.Em*2.6-p.Wide(look.Quiet, word))
	if to-from < len(l.plates) {
		word = "sheet (Esc)"
		from, to = l.named(p, p.Width-p.Em*2.6-p.Wide(look.Quiet, word))
	}
	turn := func(name, arrow string, by int) {
		place, end := p.Word(name, look.Quiet, x, base, arrow)
		place.Tap = func() { l.panel.NextLarge(by) }
		x = end + p.Em*headGap
	}
	if from > 0 {
		turn("the one before", "‹", -1)
	}
	for i := from; i < to; i++ {
		c, name := p.Ink.Quiet, l.plates[i].Name()
		if instrument(i) == l.shown {
			c = p.Ink.Drawn
		}
		end := p.Tinted(look.Caps, c, x, base, name)
		if instrument(i) == l.shown {
			p.Level(x, base+p.Em*0.35, end-x, p.Ink.Drawn)
		}
		place := p.Place("the "+name, x, base-p.Em*1.15, end-x, p.Em*1.6) // a plate may have a place of its own name
		place.Tap = func() { l.panel.Enlarge(instrument(i)) }
		x = end + p.Em*headGap
	}
	if to < len(l.plates) {
		turn("the one behind", "›", 1)
	}
	place, _ := p.Word("give back", look.Quiet, p.Width-p.Em*1.3-p.Wide(look.Quiet, word), base, word)
	place.Tap = l.panel.GiveBack
}

// headGap is between two names of instruments, in ems.
const headGap = 1.2

// named returns which instruments have room to be named in a heading of that
// width: the one that is shown, and as many of its neighbours on both sides.
func (l *Large) named(p *leaf.Pen, width float32) (from, to int) {
	wide := func(i int) float32 { return p.Wide(look.Caps, l.plates[i].Name()) + p.Em*headGap }
	arrows := func(from, to int) (room float32) {
		if from > 0 {
			room += p.Em * 1.7
		}
		if to < len(l.plates) {
			room += p.Em * 1.7
		}
		return room
	}
	from, to = int(l.shown), int(l.shown)+1
	used := wide(from)
	for grown := true; grown; {
		grown = false
		if to < len(l.plates) && used+wide(to)+arrows(from, to+1) <= width {
			used, to, grown = used+wide(to), to+1, true
		}
		if from > 0 && used+wide(from-1)+arrows(from-1, to) <= width {
			from--
			used, grown = used+wide(from), true
		}
	}
	return from, to
}

// writeRows writes the settings in the margin.
func (l *Large) writeRows(p *leaf.Pen, rows []plate.Setting, inColumn int, x, top float32) {
	if len(rows) == 0 {
		return
	}
	p.Upright(x-p.Em*0.6, top, p.Height-top-p.Em*0.8, p.Ink.Faint)
	high := min(max((p.Height-top-p.Em*0.6)/p.Em/float32(min(len(rows), inColumn)), rowHeight), rowRoom)
	for i, s := range rows {
		left := x + p.Em*rowWidth*float32(i/inColumn)
		base := top + p.Em*(0.85+high*float32(i%inColumn))
		width := p.Em * (rowWidth - 0.8)
		p.Fit(look.Quiet, left, base, p.Em*nameWidth, s.Name)
		var c color.Color = p.Ink.Drawn
		switch {
		case s.Tap == nil && s.Step == nil:
			c = p.Ink.Quiet
		case s.Tint != nil:
			c = s.Tint
		}
		at := left + p.Em*nameWidth
		if s.Name == l.typing {
			p.Put(l.field.Object(), at, base-p.Em*1.05, width-p.Em*nameWidth, p.Em*1.5)
		} else {
			p.Tinted(look.Quiet, c, at, base, look.Quiet.Fit(s.Text, width-p.Em*nameWidth, 1))
		}
		place := p.Place(s.Name, left, base-p.Em*(0.3+high/2), width, p.Em*high)
		place.Tap, place.Step = s.Tap, s.Step
	}
}
