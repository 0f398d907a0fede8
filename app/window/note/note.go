// Package note is the column in which a take is written about and kept.
//
//	note, tags <-> session; changes since the parent take; keep; proof
//
// The note looks like writing on the page, not like a form. It keeps nothing:
// what is typed is an edit at once, and stored as the draft.
// Held by tests: a story that writes, tags, keeps, undoes and proves.
package note

import (
	"fmt"
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"lampblack/app/desk"
	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
	"lampblack/app/window/told"
)

// Column is the widget.
type Column struct {
	leaf.Leaf
	leaf.Ends
	session *desk.Session
	note    *leaf.Field
	tags    *leaf.Field
	filling bool // a field is being filled from the session, not typed in
}

// New returns the note of what is on the bench.
func New(s *desk.Session) *Column {
	c := &Column{session: s}
	c.note = leaf.NewField(true, "What it is for, what you tried, why. The first line stands in the contents.")
	c.note.OnChanged = func(text string) { c.typed(desk.SetNote(text)) }
	c.note.Done = func(string) { s.Settle() }
	c.tags = leaf.NewField(false, "tags")
	c.tags.Done = func(text string) {
		if !slices.Equal(words(text), s.Bench().Tags) {
			c.typed(desk.SetTags(words(text)))
			s.Settle()
		}
	}
	c.Write = c.write
	c.Least = func() fyne.Size { return fyne.NewSize(look.Em()*14, look.Em()*15) }
	c.Extend(c)
	for _, t := range []desk.Topic{desk.Note, desk.Patch, desk.Memory, desk.Contents, desk.Proofs, desk.Notices} {
		c.Until(s.Watch(t, c.Refresh))
	}
	return c
}

// Note and Tags give the keyboard to the fields; tests type into them.
func (c *Column) Note() *leaf.Field { return c.note }

// Tags is the field of the tags.
func (c *Column) Tags() *leaf.Field { return c.tags }

func (c *Column) typed(e desk.Edit) {
	if !c.filling {
		c.session.Do(e)
	}
}

// words splits tags at spaces and commas.
func words(text string) []string {
	return strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ',' || r == '\t' })
}

// fill shows what the session holds in the fields.
func (c *Column) fill() {
	c.filling = true
	c.note.Fill(c.session.Bench().Note)
	if !c.writingTags() {
		c.tags.Fill(strings.Join(c.session.Bench().Tags, " "))
	}
	c.filling = false
}

func (c *Column) writingTags() bool {
	can := fyne.CurrentApp().Driver().CanvasForObject(c)
	return can != nil && can.Focused() == fyne.Focusable(c.tags)
}

func (c *Column) write(p *leaf.Pen) {
	c.fill()
	x, width := p.Em*1.2, p.Width-p.Em*2.4
	foot := p.Height - p.Em*3.4
	notices := told.Height(c.session, desk.AtNote, width)
	lines := c.session.ChangeLines()
	room := int((foot - notices - p.Em*9) / (p.Em * 1.5)) // the note keeps at least four lines
	shown := min(len(lines), max(room, 1))
	changes := p.Em * 2.2
	if shown > 0 {
		changes = p.Em * (2.2 + 1.5*float32(shown))
	}
	top := p.Em * 2.2
	bottom := foot - notices - changes - p.Em*2
	p.Text(look.Caps, x, p.Em*1.5, "note")
	p.Put(c.note.Object(), x, top, width+4, max(bottom-p.Em*0.4-top, p.Em*1.5)) // tags stand apart from the words
	p.Put(c.tags.Object(), x, bottom, width, p.Em*1.7)
	c.writeChanges(p, lines[:shown], len(lines), x, bottom+p.Em*2.1, width)
	told.Notices(p, c.session, desk.AtNote, x, foot-notices, width)
	c.writeKeep(p, x, foot, width)
}

// writeChanges lists what has changed since the parent take, and offers to undo.
func (c *Column) writeChanges(p *leaf.Pen, lines []desk.ChangeLine, all int, x, y, width float32) {
	p.Level(x, y, width, p.Ink.Faint)
	base := y + p.Em*1.45
	right := c.writeUndo(p, x+width, base)
	heading := "nothing to compare with yet"
	if parent, ok := c.session.Heading(c.session.Bench().From); ok {
		heading = fmt.Sprintf("changed since take %d", parent.Number)
		switch {
		case c.session.Kept():
			heading = fmt.Sprintf("nothing changed since take %d", parent.Number)
		case all == 0:
			heading = fmt.Sprintf("sounds as take %d", parent.Number)
		case all > len(lines):
			heading += fmt.Sprintf(", and %d more", all-len(lines))
		}
	}
	p.Fit(look.Quiet, x, base, right-x-p.Em, heading)
	for _, line := range lines {
		base += p.Em * 1.5
		value := look.Shown(line.Before) + " → " + look.Shown(line.After)
		if line.Before == "" || line.After == "" {
			value = look.Shown(line.Before + line.After)
		}
		value = look.Figures.Fit(value, width*0.62, 1)
		at := p.Right(look.Figures, x+width, base, value)
		p.Fit(look.Body, x, base, at-x-p.Em*0.6, strings.ReplaceAll(line.What, " -> ", " → "))
	}
}

// writeUndo writes undo and redo at the right and returns where they begin.
func (c *Column) writeUndo(p *leaf.Pen, x, base float32) float32 {
	s := c.session
	for _, w := range []struct {
		word string
		can  bool
		tap  func()
	}{{"redo", s.RedoName() != "", s.Redo}, {"undo", s.UndoName() != "", s.Undo}} {
		if !w.can {
			continue
		}
		x -= p.Wide(look.Quiet, w.word)
		place, _ := p.Word(w.word, look.Quiet, x, base, w.word)
		place.Tap = w.tap
		x -= p.Em * 0.9
	}
	return x
}

// writeKeep writes the button that makes a take, or what came of it.
func (c *Column) writeKeep(p *leaf.Pen, x, y, width float32) {
	base := y + p.Em*1.9
	if done := c.session.Keeping(); done >= 0 {
		c.writeKeeping(p, x, y, width, done)
		return
	}
	end := x
	if c.session.Kept() {
		parent, _ := c.session.Heading(c.session.Bench().From)
		end = p.Text(look.Emphasis, x, base, fmt.Sprintf("take %d is kept", parent.Number))
	} else {
		end = c.writeButton(p, x, y, base)
	}
	c.writeProof(p, end+p.Em, x+width, base)
}

func (c *Column) writeButton(p *leaf.Pen, x, y, base float32) float32 {
	word := "keep as a take"
	if n := c.session.NextNumber(); n > 0 {
		word = fmt.Sprintf("keep as take %d", n)
	}
	wide := p.Wide(look.Caps, word) + p.Em*1.6
	p.Box(x, y+p.Em*0.6, wide, p.Em*2, nil, p.Ink.Drawn)
	p.Text(look.Caps, x+p.Em*0.8, base, word)
	place := p.Place("keep", x, y+p.Em*0.6, wide, p.Em*2)
	place.Tap, place.Unmarked = c.Keep, true
	return x + wide
}

// Keep takes over what is being typed, and keeps.
func (c *Column) Keep() {
	if text := words(c.tags.Text); !slices.Equal(text, c.session.Bench().Tags) {
		c.typed(desk.SetTags(text))
	}
	c.session.Keep()
}

func (c *Column) writeKeeping(p *leaf.Pen, x, y, width float32, done float64) {
	p.Text(look.Emphasis, x, y+p.Em*1.5, fmt.Sprintf("keeping: %.0f %% rendered", done*100))
	p.Level(x, y+p.Em*2.2, width, p.Ink.Faint)
	p.Box(x, y+p.Em*2.2-1, width*float32(min(max(done, 0), 1)), 3, p.Ink.Drawn, nil)
}

// writeProof says how the parent take was proved, or offers to.
func (c *Column) writeProof(p *leaf.Pen, x, right, base float32) {
	from := c.session.Bench().From
	parent, ok := c.session.Heading(from)
	if !ok {
		return
	}
	_, state, text := c.session.ProofOf(from)
	switch state {
	case desk.ProofNone:
		word := fmt.Sprintf("prove %d", parent.Number)
		at := right - p.Wide(look.Quiet, word)
		if at > x {
			place, _ := p.Word("prove", look.Quiet, at, base, word)
			place.Tap = func() { c.session.Prove(from) }
		}
		return
	case desk.ProofRunning:
		text = "rendering it again …"
	}
	text = look.Quiet.Fit(look.Shown(fmt.Sprintf("proof of %d: %s", parent.Number, text)), right-x, 1)
	p.Right(look.Quiet, right, base, text)
}
