// Package transport is the line over the sheet: which take, and how its memory is played.
//
//	session -> take, kept or not; play, stop, repeat, record; speed, time
//
// Commands are words; an open circle before one means off, a filled one on. It
// keeps nothing but the line in which a speed is typed. Held by tests: a story
// that plays, stops at the end of the pass, records and changes the speed.
package transport

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"lampblack/app/desk"
	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
)

// Line is the widget.
type Line struct {
	leaf.Turning
	leaf.Ends
	session *desk.Session
	speed   *leaf.Field
	typing  bool
	dragged float32
	shown   string // the state that was written last
}

// New returns the line for a session.
func New(s *desk.Session) *Line {
	l := &Line{session: s}
	l.speed = leaf.NewField(false, "")
	l.speed.Enter = l.typed
	l.speed.Done = func(string) { l.endTyping() }
	l.Write = l.write
	l.Least = func() fyne.Size { return fyne.NewSize(look.Em()*34, look.Em()*2.9) }
	l.Extend(l)
	for _, t := range []desk.Topic{desk.Patch, desk.Memory, desk.Transport, desk.Contents, desk.Note} {
		l.Until(s.Watch(t, l.Refresh))
	}
	l.Until(look.Live.Watch(l.beat))
	return l
}

// beat writes the line anew when its time has moved, or a pass has ended.
func (l *Line) beat() {
	if l.state() != l.shown {
		l.Refresh()
	}
}

// state is what moves by itself, to see whether it has changed.
func (l *Line) state() string {
	return fmt.Sprint(l.time(), l.record(), l.session.Playing(), l.session.Stopping())
}

func (l *Line) write(p *leaf.Pen) {
	l.shown = l.state()
	base := p.Em * 1.85
	w := l.fitting(p)
	end := p.Text(look.Title, p.Em*1.3, base, w.title)
	if w.state != "" {
		end = p.Text(look.Quiet, end+p.Em*0.8, base, w.state)
	}
	right := l.writeNumbers(p, w, base)
	l.writeCommands(p, w.commands, end, right, base)
	p.Level(0, p.Height-1, p.Width, p.Ink.Line)
}

// words are what the line says.
type words struct {
	title, state string
	commands     []command
	label, time  string // of the speed; of the place in the pass
}

// fitting returns as many words as there is room for.
func (l *Line) fitting(p *leaf.Pen) words {
	var w words
	for less := range 5 {
		w = l.words(less)
		if w.wide(p, l.speedText()) <= p.Width {
			break
		}
	}
	return w
}

// words returns all words, or fewer and shorter ones.
func (l *Line) words(less int) words {
	w := words{label: "speed", commands: l.commands(), time: l.time()}
	w.title, w.state = l.take()
	if less > 0 {
		w.time = l.seconds()
	}
	if less > 1 {
		w.state = ""
	}
	if less > 2 {
		w.commands[1].word = circle(l.session.Stopping()) + "at end"
		w.title, _, _ = strings.Cut(w.title, ",")
	}
	if less > 3 {
		w.label, w.title = "", ""
	}
	return w
}

// wide returns how much room the words take with the least gaps between them.
func (w words) wide(p *leaf.Pen, speed string) float32 {
	wide := p.Em*6.5 + p.Wide(look.Title, w.title) + p.Wide(look.Quiet, w.label) + p.Wide(look.Figures, speed+" ×"+w.time)
	if w.state != "" {
		wide += p.Em*0.8 + p.Wide(look.Quiet, w.state)
	}
	for _, c := range w.commands {
		wide += p.Wide(look.Body, c.word) + p.Em*0.6
	}
	return wide
}

func (l *Line) take() (name, state string) {
	s := l.session
	parent, from := s.Heading(s.Bench().From)
	next := s.NextNumber()
	switch {
	case s.Kept() && from:
		return fmt.Sprintf("Take %d", parent.Number), "kept"
	case next > 0 && from:
		return fmt.Sprintf("Take %d, from %d", next, parent.Number), "not kept yet"
	case next > 0:
		return fmt.Sprintf("Take %d", next), "not kept yet"
	}
	return "A new sound", "not kept yet"
}

// command is a word that does something.
type command struct {
	name, word string
	tap        func()
	quiet      bool // nothing to be done with it now
}

func (l *Line) commands() []command {
	s := l.session
	play := command{"play", "▷ play", s.Play, false}
	if s.Playing() {
		play = command{"play", "□ stop", s.Stop, false}
	}
	return []command{
		play,
		{"stop at end", circle(s.Stopping()) + "stop at end of pass", s.StopAtEnd, !s.Playing()},
		{"repeat", circle(s.Repeat()) + "repeat", s.ToggleRepeat, false},
		{"record", circle(s.Recording()) + l.record(), s.ToggleRecord, false},
	}
}

func circle(on bool) string {
	if on {
		return "● "
	}
	return "○ "
}

func (l *Line) record() string {
	switch {
	case l.session.Waiting():
		return "play: it records"
	case l.session.Recording():
		return fmt.Sprintf("recording %.1f s", l.session.RecordedSeconds())
	}
	return "record"
}

// writeCommands sets the commands in the middle of the room between left and
// right, or from left on where there is little.
func (l *Line) writeCommands(p *leaf.Pen, commands []command, left, right, base float32) {
	gap, width := p.Em*1.2, float32(0)
	for {
		width = -gap
		for _, c := range commands {
			width += p.Wide(look.Body, c.word) + gap
		}
		if gap < p.Em*0.5 || left+p.Em*1.2+width <= right-p.Em {
			break
		}
		gap -= p.Em * 0.1
	}
	x := max(left+p.Em*1.2, (left+right-width)/2)
	for _, c := range commands {
		style := look.Body
		if c.quiet {
			style = look.Quiet
		}
		place, end := p.Word(c.name, style, x, base, c.word)
		place.Tap = c.tap
		x = end + gap
	}
}

// writeNumbers writes speed and time at the right and returns where they begin.
func (l *Line) writeNumbers(p *leaf.Pen, w words, base float32) float32 {
	x := p.Width - p.Em*1.3
	x = p.Right(look.Figures, x, base, w.time) - p.Em*1.4
	end := x
	x = p.Right(look.Figures, x, base, l.speedText()+" ×")
	if l.typing {
		p.Box(x-2, base-p.Em*1.2, end-x+4, p.Em*1.7, p.Ink.Ground, nil)
		p.Put(l.speed.Object(), x-p.Em*0.3, base-p.Em*1.35, p.Em*4, p.Em*1.7)
		p.Level(x-p.Em*0.3, base+p.Em*0.35, end-x+p.Em*0.6, p.Ink.Drawn)
	}
	x = p.Right(look.Quiet, x-p.Em*0.4, base, w.label)
	place := p.Place("speed", x, base-p.Em*1.3, end-x, p.Em*1.8)
	place.Cursor = desktop.HResizeCursor
	place.Step = func(n int) { l.session.SetSpeed(l.session.Speed() * math.Exp2(float64(n)/24)) }
	place.Tap = l.beginTyping
	place.Double = func() { l.endTyping(); l.session.SetSpeed(1) }
	place.Down = func(x, _ float32) { l.dragged = x }
	place.Drag = func(x, _ float32) {
		l.session.SetSpeed(l.session.Speed() * math.Exp2(float64(x-l.dragged)/200))
		l.dragged = x
	}
	place.Up = l.session.Settle
	return x
}

func (l *Line) speedText() string { return strconv.FormatFloat(l.session.Speed(), 'f', 2, 64) }

// time is the time in the pass, after the cue's timecode where there is one.
func (l *Line) time() string {
	if _, cue, ok := l.session.CueOf(); ok && cue.Cue.Timecode != "" {
		return cue.Cue.Timecode + " + " + l.seconds()
	}
	return l.seconds()
}

func (l *Line) seconds() string { return fmt.Sprintf("%.2f s", l.session.Position()) }

func (l *Line) beginTyping() {
	l.typing = true
	l.speed.SetText(l.speedText())
	l.Refresh()
	if c := fyne.CurrentApp().Driver().CanvasForObject(l); c != nil {
		l.speed.TakeKeyboard(c)
		l.speed.TypedShortcut(&fyne.ShortcutSelectAll{})
	}
}

func (l *Line) endTyping() {
	if l.typing {
		l.typing = false
		l.Refresh()
	}
}

// typed takes a speed as somebody writes it: "0.72", "0,72", "0.72 x".
func (l *Line) typed(text string) {
	text = strings.TrimRight(strings.ReplaceAll(text, ",", "."), " x×")
	speed, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	if err != nil || !(speed >= desk.MinSpeed && speed <= desk.MaxSpeed) {
		l.session.Notify(desk.Notice{Place: desk.AtMemory, Fault: true,
			Text: fmt.Sprintf("the speed %q is not a number from %g to %g; it stays at %s", text, desk.MinSpeed, desk.MaxSpeed, l.speedText())})
	} else {
		l.session.SetSpeed(speed)
		l.session.Settle()
	}
	if c := fyne.CurrentApp().Driver().CanvasForObject(l); c != nil {
		c.Focus(l)
	}
	l.endTyping()
}
