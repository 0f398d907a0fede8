// Package strip shows the memory as a chart strip of ruled paper.
//
//	session memory -> paper (where time and pitch lie) -> bars, rests, playhead
//	mouse, keys -> one Edit a drag -> session
//
// Below the paper lies a ruled band of pitches: pressing it plays, and it shows
// what sounds. It keeps nothing but the drag that is going on.
// Held by tests: every note lies on the paper and is found under the mouse, a
// drag loses no note, and a story that erases, fills and undoes.
package strip

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"

	"lampblack/app/desk"
	"lampblack/app/window/keys"
	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
	"lampblack/app/window/told"
	"lampblack/patch/memory"
)

// Strip is the widget.
type Strip struct {
	leaf.Turning
	leaf.Ends
	session *desk.Session
	hands   *keys.Hands
	head    *canvas.Rectangle // the playhead: it moves without writing the rest anew
	paper   paper
	drag    drag
	heard   string // what the band showed last
	band    band
}

// New returns the strip of a session; its band plays with hands.
func New(s *desk.Session, hands *keys.Hands) *Strip {
	t := &Strip{session: s, hands: hands, head: &canvas.Rectangle{}}
	t.Write, t.Key = t.write, t.key
	t.Least = func() fyne.Size { return fyne.NewSize(look.Em()*24, look.Em()*11) }
	t.Blank = func(float32, float32) { t.choose(-1) }
	t.Extend(t)
	for _, topic := range []desk.Topic{desk.Memory, desk.Select, desk.Transport, desk.Notices} {
		t.Until(s.Watch(topic, t.Refresh))
	}
	t.Until(look.Live.WatchClosely(t.beat))
	return t
}

// beat moves the playhead, and writes the strip anew when other pitches sound.
func (t *Strip) beat() {
	if t.sounding() != t.heard {
		t.Refresh()
		return
	}
	t.placeHead()
}

func (t *Strip) write(p *leaf.Pen) {
	t.heard = t.sounding()
	x, base := p.Em*1.3, p.Em*1.5
	end := p.Text(look.Caps, x, base, "memory")
	t.writeHeading(p, end+p.Em, base)
	top := p.Em * 2.3
	if h := told.Height(t.session, desk.AtMemory, p.Width-2*x); h > 0 {
		told.Notices(p, t.session, desk.AtMemory, x, top, p.Width-2*x)
		top += h + p.Em*0.3
	}
	bandTop := p.Height - p.Em*2.5
	left := x + p.Em*2.4
	t.paper = lay(t.memory(), float64(left), float64(top), float64(p.Width-left-x), float64(bandTop-top-p.Em*1.6))
	t.writeRuling(p)
	t.writeNotes(p)
	t.band = t.writeBand(p, left, bandTop, p.Width-left-x)
	t.head.FillColor = p.Ink.ProbeA
	p.Put(t.head, 0, 0, 0, 0)
	t.placeHead()
}

func (t *Strip) memory() memory.Memory { return t.session.Bench().Memory }

// writeHeading says what is in the memory, or how to fill it.
func (t *Strip) writeHeading(p *leaf.Pen, x, base float32) {
	m, room := t.memory(), p.Width-p.Em*1.3-x
	right := t.writeChosen(p, base)
	switch {
	case t.session.Armed() >= 0:
		p.Fit(look.Emphasis, x, base, right-x, "play a note: it goes into the rest")
	case t.session.Waiting():
		text := "recording begins with the first note you play"
		if len(t.memory().Notes) > 0 {
			text += ", and takes the place of these; undo brings them back"
		}
		p.Fit(look.Emphasis, x, base, room, text)
	case t.session.Recording():
		p.Fit(look.Emphasis, x, base, room, "recording: press stop, or record again, to end it")
	case len(m.Notes) == 0:
		p.Fit(look.Emphasis, x, base, room, "empty: press record (Ctrl+R), then play the keys A to L or the band below")
	default:
		if end := p.Text(look.Quiet, x, base, summary(m)); right == p.Width-p.Em*1.3 {
			told.Hint(p, "memory", "click a note, then Delete leaves a rest; double-click the rest to fill it", end+p.Em*1.5, base, right-end-p.Em*1.5, t.Refresh)
		}
	}
}

func summary(m memory.Memory) string {
	notes, rests := 0, 0
	for _, n := range m.Notes {
		if n.Rest {
			rests++
		} else {
			notes++
		}
	}
	text := count(notes, "note")
	if rests > 0 {
		text += ", " + count(rests, "rest")
	}
	return text + fmt.Sprintf(", %.1f s a pass", Pass(m))
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// writeChosen writes the chosen note at the right and returns where it begins.
func (t *Strip) writeChosen(p *leaf.Pen, base float32) float32 {
	x := p.Width - p.Em*1.3
	i, m := t.chosen(), t.memory()
	if i < 0 || i >= len(m.Notes) {
		return x
	}
	n := m.Notes[i]
	name := memory.PitchName(n.Pitch)
	if n.Rest {
		name = "rest on " + name
	}
	return p.Right(look.Figures, x, base, fmt.Sprintf("%s  %.2f s at %.2f s", name, n.For, n.At)) - p.Em
}

// placeHead puts the playhead where the memory is being played.
func (t *Strip) placeHead() {
	if !t.session.Playing() {
		t.head.Hide()
		return
	}
	at := t.paper.x(t.session.Position())
	t.head.Show()
	t.head.Move(fyne.NewPos(float32(at), float32(t.paper.top)))
	t.head.Resize(fyne.NewSize(1.5, float32(t.paper.height)))
}

func (t *Strip) choose(note int) {
	sel := t.session.Selection()
	sel.Note = note
	t.session.Select(sel)
	if note < 0 {
		t.session.FillRest(-1)
	}
}

var _ desktop.Keyable = (*Strip)(nil)
