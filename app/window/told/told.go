// Package told writes what a place of the page has to say to the person.
//
//	session notices, hints not yet dismissed -> lines on a leaf
//
// Problems are told where they belong, never in a dialog. A hint is one line
// for somebody who sees the place for the first time; once dismissed it does
// not come back. It knows no edit. Held by tests: what is told can be read in
// full and be put away.
package told

import (
	"fmt"

	"fyne.io/fyne/v2"

	"lampblack/app/desk"
	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
)

// mostLines is how many lines one notice takes at most.
const mostLines = 6

// Notices writes the notices of a place from y down, width wide, and returns
// where they end. Nothing is written, and y returned, if there are none.
func Notices(p *leaf.Pen, s *desk.Session, place desk.Place, x, y, width float32) float32 {
	notices := s.Notices(place)
	if len(notices) == 0 {
		return y
	}
	top := y
	for _, n := range notices {
		style := look.Quiet
		if n.Fault {
			style = look.Emphasis
		}
		y = paragraph(p, style, x+p.Em*0.7, y, width-p.Em*0.7, n.Text)
	}
	word, _ := p.Word(fmt.Sprintf("put away %d", place), look.Quiet, x+p.Em*0.7, y+p.Em*1.1, "put away")
	word.Tap = func() { s.Dismiss(place) }
	y += p.Em * 1.5
	p.Upright(x, top+p.Em*0.25, y-top-p.Em*0.4, p.Ink.Drawn)
	return y
}

func paragraph(p *leaf.Pen, style look.Style, x, y, width float32, text string) float32 {
	for i, line := range style.Wrap(look.Shown(text), width) {
		if i == mostLines {
			break
		}
		if i == mostLines-1 {
			line += "…"
		}
		p.Fit(style, x, y+p.Em*1.1, width, line)
		y += p.Em * 1.4
	}
	return y
}

// Height returns how high Notices of a place are at that width.
func Height(s *desk.Session, place desk.Place, width float32) float32 {
	notices := s.Notices(place)
	if len(notices) == 0 {
		return 0
	}
	em, lines := look.Em(), 0
	for _, n := range notices {
		style := look.Quiet
		if n.Fault {
			style = look.Emphasis
		}
		lines += min(len(style.Wrap(look.Shown(n.Text), width-em*0.7)), mostLines)
	}
	return float32(lines)*em*1.4 + em*1.5
}

// Hint writes a hint on one line, if it was not dismissed, and tells whether it
// did. Its place ("hint") puts it away for good; redraw is called then.
func Hint(p *leaf.Pen, name, text string, x, base, width float32, redraw func()) bool {
	if !Wanted(name) {
		return false
	}
	const word = "·  put away"
	room := width - p.Wide(look.Quiet, word) - p.Em
	end := p.Fit(look.Emphasis, x, base, room, text)
	place, _ := p.Word("hint", look.Quiet, end+p.Em*0.6, base, word)
	place.Tap = func() {
		Dismiss(name)
		redraw()
	}
	return true
}

// Wanted tells whether a hint was not dismissed yet.
func Wanted(name string) bool {
	return !fyne.CurrentApp().Preferences().BoolWithFallback(key(name), false)
}

// Dismiss puts a hint away for good.
func Dismiss(name string) { fyne.CurrentApp().Preferences().SetBool(key(name), true) }

// Restore brings the hints of these names back.
func Restore(names ...string) {
	for _, name := range names {
		fyne.CurrentApp().Preferences().RemoveValue(key(name))
	}
}

func key(name string) string { return "hint dismissed: " + name }
