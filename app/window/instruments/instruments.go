// Package instruments draws what the probes A and B measure.
//
//	taps -> measure (package scope) -> Panel: scope, spectrum, meters in the column
//	                                -> Large: one of them, or the spectrogram, for the sheet's place
//
// A is drawn full and vermilion, B dashed and blue, so that a print in black
// and white still tells them apart. Settings are words that can be pressed,
// scrolled over, turned with the arrow keys or, in the large view, typed. It
// redraws only what has changed and is seen. Held by tests: a sine stands still
// and reads its own level, frequency and note, every setting can be reached by
// keyboard, measuring allocates nothing, and the time of a redraw is measured.
package instruments

import (
	"fmt"

	"fyne.io/fyne/v2"

	"lampblack/app/desk"
	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
	"lampblack/app/window/plate"
)

// Panel is the widget.
type Panel struct {
	leaf.Turning
	leaf.Ends
	session  *desk.Session
	measure  *measure
	scope    *oscillogram
	spectrum *spectrumPicture
	large    *Large
	sound    desk.SoundState
	words    string // what was written last
	waits    int    // beats until the readings may change again
	read     string // what the meters showed when they were written last
	levels   *leaf.Turning
	Save     func(plate.File) // asks where, and writes a file; may be nil
	limited  int              // beats for which the limiter is still shown
}

// New returns the instruments of a session.
func New(s *desk.Session) *Panel {
	t := &Panel{session: s, measure: newMeasure(s.Rate())}
	t.sound = s.Sound()
	t.scope = newOscillogram(t.measure)
	t.spectrum = newSpectrumPicture(t.measure)
	t.levels = leaf.NewTurning(t.writeLevels)
	t.Write = t.write
	t.Least = func() fyne.Size { return fyne.NewSize(look.Em()*18, look.Em()*21) }
	t.Extend(t)
	t.large = newLarge(t)
	for _, topic := range []desk.Topic{desk.Probes, desk.Patch, desk.Sound, desk.Notices} {
		t.Until(s.Watch(topic, t.Refresh))
	}
	t.Until(s.Watch(desk.Patch, func() {
		if t.measure.gram.seen {
			t.measure.gram.chooseFirst(s)
		}
	}))
	t.Until(look.Live.WatchClosely(t.draw))
	t.Until(look.Live.Watch(t.Beat))
	return t
}

// draw measures, and redraws the pictures if what they show has changed. The
// pulse calls it before every frame.
func (t *Panel) draw() {
	if t.Visible() && t.measure.read(t.session) {
		t.redraw()
	}
}

// Beat writes what has changed as well. The pulse calls it less often: nobody
// reads figures as fast as pictures move.
func (t *Panel) Beat() {
	if !t.Visible() {
		return
	}
	t.draw()
	t.late()
	if t.waits--; t.waits <= 0 && t.text() != t.words {
		t.waits = readingBeats
		t.Refresh()
	}
	t.large.beat()
	t.beatLevels()
}

// late draws what has waited so as not to flash.
func (t *Panel) late() {
	if !t.away(ofScope) {
		t.scope.late()
	}
	if !t.away(ofSpectrum) {
		t.spectrum.late()
	}
}

// redraw draws the pictures that are to be seen anew: one that is enlarged is not
// drawn in the column as well.
func (t *Panel) redraw() {
	if !t.away(ofScope) {
		t.scope.raster.Refresh()
	}
	if !t.away(ofSpectrum) {
		t.spectrum.raster.Refresh()
	}
	t.large.redraw()
}

// away tells whether an instrument has gone to the large view.
func (t *Panel) away(which instrument) bool { return t.large.Visible() && t.large.shown == which }

// ToggleFreeze holds the pictures, or lets them go on.
func (t *Panel) ToggleFreeze() {
	t.measure.switches.frozen = !t.measure.switches.frozen
	t.Refresh()
	t.large.Refresh()
}

// set changes a switch and draws anew, also what is frozen.
func (t *Panel) set(change func(w *switches)) {
	m := t.measure
	change(&m.switches)
	t.large.fault = ""
	m.settle()
	switch {
	case len(m.samples[0]) == 0:
	case m.switches.frozen:
		m.align()
	default:
		m.shownEnd, m.still = -2, [inputs]bool{} // read again, as long as the picture now is
		m.read(t.session)
	}
	t.redraw()
	t.Refresh()
	t.large.Refresh()
}

// frame is where the instruments lie on the leaf.
type frame struct{ x, width, scopeY, scopeH, spectrumY, spectrumH, levelsY float32 }

func (t *Panel) frame(p *leaf.Pen) frame {
	f := frame{x: p.Em * 3.1, scopeY: p.Em * 2.4}
	f.width = p.Width - f.x - p.Em*1.3
	f.levelsY = p.Height - t.levelsHeight(p)
	room := f.levelsY - f.scopeY - p.Em*6 // two lines of words each
	f.scopeH = max(room*0.52, p.Em*2.6)
	f.spectrumY = f.scopeY + f.scopeH + p.Em*3.2
	f.spectrumH = max(room*0.48, p.Em*2.6)
	return f
}

func (t *Panel) write(p *leaf.Pen) {
	t.words = t.text()
	f := t.frame(p)
	t.writeProbes(p)
	t.writeScope(p, f)
	t.writeSpectrum(p, f)
	p.Put(t.levels, 0, f.levelsY, p.Width, p.Height-f.levelsY)
	t.levels.Refresh()
}

// writeProbes is the legend: how each probe is drawn, and where it is.
func (t *Panel) writeProbes(p *leaf.Pen) {
	base, x := p.Em*1.5, p.Em*1.3
	word := "freeze"
	if t.measure.switches.frozen {
		word = "frozen"
	}
	right := p.Width - p.Em*1.3 - p.Wide(look.Quiet, word)
	place, _ := p.Word("freeze", look.Quiet, right, base, word)
	place.Tap = t.ToggleFreeze
	half := (right - x - p.Em) / 2
	for i, ink := range []struct {
		name string
		dash float32
	}{{"A", 0}, {"B", 5}} {
		c := p.Ink.ProbeA
		if i == 1 {
			c = p.Ink.ProbeB
		}
		if ink.dash > 0 {
			p.Dashes(x, base-p.Em*0.3, p.Em*1.5, ink.dash, c)
		} else {
			p.Box(x, base-p.Em*0.3, p.Em*1.5, 1.5, c, nil)
		}
		end := p.Text(look.Caps, x+p.Em*1.9, base, ink.name)
		at := t.session.Probe(desk.ProbeID(i))
		name := at.String()
		if at.Module == "" {
			name = "nowhere"
		}
		p.Fit(look.Quiet, end+p.Em*0.4, base, half-p.Em*3.3, name)
		x += half + p.Em*0.3
	}
}

// text is all that is written in words, to see whether it has changed.
func (t *Panel) text() string {
	return fmt.Sprint(t.measure.switches, t.measure.triggered, t.measure.waiting, t.measure.sweep.Done(), t.readout(0), t.readout(1), t.session.Probe(0), t.session.Probe(1))
}
