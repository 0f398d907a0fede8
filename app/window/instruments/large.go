package instruments

import (
	"fyne.io/fyne/v2"

	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
)

// instrument is what can take the place of the sheet.
type instrument int

const (
	ofScope instrument = iota
	ofSpectrum
	ofGram
	instrumentCount
)

// String returns the instrument's name.
func (i instrument) String() string {
	return [...]string{"scope", "spectrum", "spectrogram"}[i]
}

// Large is one instrument with all its settings, in the place of the sheet. It
// shares the settings and the measuring with the panel in the column, and draws
// nothing while it is hidden.
type Large struct {
	leaf.Turning
	panel    *Panel
	shown    instrument
	scope    *oscillogram
	spectrum *spectrumPicture
	reading  *leaf.Turning // what changes all the time: written apart
	words    string        // what reading shows
	rows     string        // what the settings show
	waits    int           // beats until the reading may change again
	picture  box           // where the picture lies
	field    *leaf.Field   // in which a number is typed
	typing   string        // the setting that it is for, "" for none
	fault    string        // what was wrong with it
	faultAt  string        // the setting that it is told at
	Changed  func()        // it was shown, or hidden; may be nil
}

func newLarge(t *Panel) *Large {
	l := &Large{panel: t, scope: newOscillogram(t.measure), spectrum: newSpectrumPicture(t.measure)}
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

// Large returns the view that can take the place of the sheet; hidden at first.
func (t *Panel) Large() *Large { return t.large }

// Enlarge puts an instrument in the place of the sheet.
func (t *Panel) Enlarge(which instrument) {
	t.large.shown = which
	t.large.Show()
	t.measure.gram.seen = which == ofGram
	if which == ofGram {
		t.measure.gram.chooseFirst(t.session)
	}
	t.changed()
}

// GiveBack gives its place back to the sheet.
func (t *Panel) GiveBack() {
	t.large.Hide()
	t.measure.gram.seen = false
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

// NextLarge enlarges one instrument after the other; after the last the sheet
// has its place again.
func (t *Panel) NextLarge() {
	switch {
	case !t.large.Visible():
		t.Enlarge(ofScope)
	case t.large.shown+1 == instrumentCount:
		t.GiveBack()
	default:
		t.Enlarge(t.large.shown + 1)
	}
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
	if !l.Visible() {
		return
	}
	l.raster().Refresh()
}

func (l *Large) raster() fyne.CanvasObject {
	switch l.shown {
	case ofScope:
		return l.scope.raster
	case ofSpectrum:
		return l.spectrum.raster
	}
	return l.panel.measure.gram.raster
}

// readingBeats is for how many beats a reading stays: figures that change
// thirty times a second can't be read.
const readingBeats = 6

// beat writes what has changed.
func (l *Large) beat() {
	if !l.Visible() {
		return
	}
	l.panel.measure.gram.follow(l.panel.session)
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
	text := l.shown.String()
	for _, s := range l.settings() {
		text += s.name + s.text
	}
	return text
}

// settings returns those of the instrument that mean anything now.
func (l *Large) settings() []setting {
	t := l.panel
	var all []setting
	switch l.shown {
	case ofScope:
		all = append(l.scopeSettings(), t.freezeSetting(), t.numbersSetting())
	case ofSpectrum:
		all = []setting{t.showSetting(), t.windowSetting(), t.noiseSetting(), t.samplesSetting(), t.averageSetting(), t.holdSetting(),
			t.axisSetting(), t.spanSetting(), t.freezeSetting(), t.numbersSetting()}
	case ofGram:
		all = []setting{t.gramOfSetting(), t.gramTimeSetting(), t.gramSpanSetting(), t.axisSetting(), t.overSetting(), t.freezeSetting()}
	}
	if l.prints() {
		all = append(all, t.pictureSetting())
	}
	return all
}

func (l *Large) scopeSettings() []setting {
	t := l.panel
	w := &t.measure.switches
	all := []setting{t.timeSetting(), t.valueSetting(0), t.valueSetting(1), t.planeSetting()}
	if !w.rolls() {
		all = append(all, t.sourceSetting())
		if w.source != onNotes {
			all = append(all, t.slopeSetting(), t.levelSetting())
		}
		all = append(all, t.modeSetting(), t.holdOffSetting(), t.beforeSetting())
	}
	if !w.plane && !w.rolls() {
		all = append(all, t.fadeSetting(), t.keepSetting())
	}
	if !w.plane {
		all = append(all, t.cursorSetting())
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
	l.picture = box{p.Em * 3.6, top, p.Width - p.Em*3.6 - p.Em*1.8 - margin, p.Height - top - foot - p.Em*1.4}
	if l.picture.width < p.Em*6 || l.picture.height < p.Em*4 {
		p.Fit(look.Emphasis, p.Em*1.3, top+p.Em, p.Width-p.Em*2.6, "there is no room for a picture: drag the lines between the parts of the page")
		l.writeHead(p)
		return
	}
	l.writeRows(p, rows, inColumn, p.Width-margin+p.Em*0.2, top) // first: the keyboard comes here
	l.writePicture(p)
	l.writeHead(p)
	p.Put(l.reading, p.Em*1.3, p.Height-foot, l.picture.x+l.picture.width-p.Em*1.3, foot)
	l.reading.Refresh()
}

// writeHead names the instruments: the one that is shown, and the others to
// change to.
func (l *Large) writeHead(p *leaf.Pen) {
	x, base := p.Em*1.3, p.Em*1.6
	for i := range instrumentCount {
		c := p.Ink.Quiet
		if i == l.shown {
			c = p.Ink.Drawn
		}
		end := p.Tinted(look.Caps, c, x, base, i.String())
		if i == l.shown {
			p.Level(x, base+p.Em*0.35, end-x, p.Ink.Drawn)
		}
		place := p.Place(i.String(), x, base-p.Em*1.15, end-x, p.Em*1.6)
		place.Tap = func() { l.panel.Enlarge(i) }
		x = end + p.Em*1.2
	}
	word := "give the sheet back (Esc)"
	at := p.Width - p.Em*1.3 - p.Wide(look.Quiet, word)
	place, _ := p.Word("give back", look.Quiet, at, base, word)
	place.Tap = l.panel.GiveBack
}

// writeRows writes the settings in the margin.
func (l *Large) writeRows(p *leaf.Pen, rows []setting, inColumn int, x, top float32) {
	p.Upright(x-p.Em*0.6, top, p.Height-top-p.Em*0.8, p.Ink.Faint)
	high := min(max((p.Height-top-p.Em*0.6)/p.Em/float32(min(len(rows), inColumn)), rowHeight), rowRoom)
	for i, s := range rows {
		left := x + p.Em*rowWidth*float32(i/inColumn)
		base := top + p.Em*(0.85+high*float32(i%inColumn))
		width := p.Em * (rowWidth - 0.8)
		p.Fit(look.Quiet, left, base, p.Em*nameWidth, s.name)
		c := p.Ink.Drawn
		switch s.name {
		case "scale A":
			c = p.Ink.ProbeA
		case "scale B":
			c = p.Ink.ProbeB
		case "over it":
			c = p.Ink.Modulation
		}
		if s.tap == nil && s.step == nil {
			c = p.Ink.Quiet
		}
		at := left + p.Em*nameWidth
		if s.name == l.typing {
			p.Put(l.field.Object(), at, base-p.Em*1.05, width-p.Em*nameWidth, p.Em*1.5)
		} else {
			p.Tinted(look.Quiet, c, at, base, look.Quiet.Fit(s.text, width-p.Em*nameWidth, 1))
		}
		place := p.Place(s.name, left, base-p.Em*(0.3+high/2), width, p.Em*high)
		place.Tap, place.Step = s.tap, s.step
	}
}
