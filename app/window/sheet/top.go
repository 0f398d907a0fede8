package sheet

import (
	"fmt"
	"math"
	"strings"

	"fyne.io/fyne/v2"

	"lampblack/app/desk"
	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
	"lampblack/app/window/told"
	"lampblack/patch"
)

// control is the name of the key that is held for commands.
var control = func() string {
	if fyne.KeyModifierShortcutDefault == fyne.KeyModifierSuper {
		return "Cmd"
	}
	return "Ctrl"
}()

// topHeight is how high the top line is: one line, or what is told.
func (s *Sheet) topHeight() float32 {
	em := look.Em()
	return 2.2*em + told.Height(s.session, desk.AtSheet, s.view.size.Width-2.4*em)
}

// retop writes the top line again. What is told there takes its room from the
// sheet.
func (s *Sheet) retop() {
	if h := float64(s.topHeight()); h != s.view.top && s.drawn != nil {
		s.drawn.update()
	}
	s.top.Refresh()
}

// writeTop writes the line above the sheet: what is under the pointer at the
// left, what can be done at the right; notices below.
func (s *Sheet) writeTop(p *leaf.Pen) {
	em := p.Em
	base, x := 1.5*em, 1.2*em
	end := p.Width - 1.2*em
	percent := fmt.Sprintf("%.0f %%", s.view.zoom*100)
	for _, w := range []struct {
		name, text string
		tap        func()
	}{
		{"add", "+ add module", s.addInView},
		{"fit", "show all", s.Fit},
		{"zoom", percent, func() { s.Zoom(1 / s.view.zoom) }},
	} {
		place, _ := p.Word(w.name, look.Quiet, end-p.Wide(look.Quiet, w.text), base, w.text)
		place.Tap = w.tap
		end = place.X - 1.4*em
	}
	p.Fit(look.Quiet, x, base, max(end-x, 0), look.Shown(s.about()))
	told.Notices(p, s.session, desk.AtSheet, x, 2.2*em, p.Width-2.4*em)
}

// about says in a line what is under the pointer, or what could be done.
func (s *Sheet) about() string {
	if s.hand.doing == joining {
		switch {
		case s.hand.aimed:
			return s.describe(s.hand.aim)
		case s.hand.why != "":
			return s.hand.why
		}
		if s.hand.on.what != onOutput {
			return "draw the cord to an output: a ring"
		}
		return "draw the cord to an input, or to a control that it should move: an arrowhead"
	}
	if text := s.describe(s.hover); text != "" {
		return text
	}
	if len(s.layout.blocks) == 0 {
		return ""
	}
	if _, heard := s.session.Heard(); !heard {
		return "nothing is heard yet: draw a cord from a ring to an arrowhead of an output"
	}
	switch sel := s.session.Selection(); {
	case sel.Cord >= 0:
		return "Delete takes the cord away; its depth is set below"
	case len(sel.Modules) == 1 && s.session.Clamped(sel.Modules[0]):
		return sel.Modules[0] + " " + limited
	case len(sel.Modules) == 1:
		return "F2 renames, " + control + "+J joins, Delete removes " + sel.Modules[0]
	case len(sel.Modules) > 1:
		return fmt.Sprintf("%d modules: drag or %s+arrows move them, Delete removes them", len(sel.Modules), control)
	}
	return "draw a cord from a ring to an arrowhead; click a ring to measure there"
}

// describe says what a socket, cord or module is.
func (s *Sheet) describe(h hit) string {
	k := s.session.Kind(h.socket.Module)
	switch {
	case h.what == onCord && h.cord < len(s.layout.cords):
		return s.describeCord(s.layout.cords[h.cord].cord)
	case k == nil:
		return ""
	case h.what == onBlock:
		if s.session.Clamped(h.socket.Module) {
			return h.socket.Module + " " + limited
		}
		return strings.TrimSpace(h.socket.Module + ": " + k.Title + ". " + s.once(h.socket.Module))
	case h.what == onOutput && k.Output(h.socket.Name) >= 0:
		return h.socket.String() + ": " + k.Outputs[k.Output(h.socket.Name)].Help + " Click: probe A; with Shift: probe B."
	case h.what == onInput && k.Input(h.socket.Name) >= 0:
		return h.socket.String() + ": " + k.Inputs[k.Input(h.socket.Name)].Help
	case h.what == onControl && k.Control(h.socket.Name) != nil:
		return h.socket.String() + ": " + k.Control(h.socket.Name).Help
	}
	return ""
}

// describeCord names a cord and how strong its signal is at the moment.
func (s *Sheet) describeCord(c patch.Cord) string {
	parts := []string{c.From.String() + " → " + c.To.String()}
	if c.Depth.Unit != "" || c.Depth.Value != 0 {
		parts = append(parts, "depth "+look.Shown(c.Depth.Signed()))
	}
	if sig := s.traces[c.From]; sig != nil {
		if least, most, ok := look.Extent(sig.Line); ok {
			peak := float64(max(-least, most))
			if peak > 0 {
				parts = append(parts, look.Shown(fmt.Sprintf("peak %.3g (%.1f dBFS)", peak, 20*math.Log10(peak))))
			} else {
				parts = append(parts, "silent")
			}
			parts = append(parts, fmt.Sprintf("trace ±%.3g", sig.Range))
		}
	}
	return strings.Join(parts, ",  ")
}
