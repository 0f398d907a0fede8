package sheet

import (
	"fmt"

	"lampblack/app/desk"
	"lampblack/app/window/look"
	"lampblack/patch"
)

// join draws a cord, with the control's usual depth.
func (s *Sheet) join(from, to patch.Socket) {
	if why := s.refusal(from, to); why != "" {
		s.session.Notify(desk.Notice{Place: desk.AtSheet, Text: why})
		return
	}
	s.session.Settle()
	if !s.session.Do(desk.Join(from, to, patch.Setting{})) {
		return
	}
	if k := s.session.Kind(to.Module); k != nil && k.Control(to.Name) != nil {
		// Its depth is what one wants to set next.
		s.session.Select(desk.Selection{Cord: len(s.session.Patch().Cords) - 1, Note: -1})
	}
}

// refusal says why no cord can be drawn from an output to an input or control,
// "" if one can.
func (s *Sheet) refusal(from, to patch.Socket) string {
	k := s.session.Kind(to.Module)
	if k == nil {
		return fmt.Sprintf("There is no module called %q; nothing was joined.", to.Module)
	}
	if c := k.Control(to.Name); c != nil && k.Input(to.Name) < 0 {
		v, _ := s.session.Setting(to.Module, to.Name)
		if !movable(c) || len(c.Scales[max(0, c.Scale(v.Unit))].Moves) == 0 {
			return fmt.Sprintf("%s of %s is set by hand: no cord can move it; nothing was joined.", to.Name, to.Module)
		}
	}
	for _, c := range s.session.Patch().Cords {
		if c.From == from && c.To == to {
			return fmt.Sprintf("%s is joined to %s already; nothing was changed.", from, to)
		}
	}
	return ""
}

// rubber draws the cord that is being drawn, as it would run, or the frame.
func (d *drawing) rubber() {
	h := d.s.hand
	if h.doing == framing {
		a, b := h.start, h.at
		x, y := min(a.X, b.X), min(a.Y, b.Y)
		l := d.line(x, y, max(a.X, b.X)-x, max(a.Y, b.Y)-y, look.Fade(d.inks.Drawn, 0.06))
		l.StrokeColor, l.StrokeWidth = d.inks.Line, 1
	}
	if h.doing != joining {
		return
	}
	loose := d.s.view.under(h.at)
	held, ok := d.s.layout.place(h.on)
	if !ok {
		return
	}
	colour := d.inks.Drawn
	if h.aimed {
		loose, _ = d.s.layout.place(h.aim)
		source, target := h.ends()
		k := d.s.session.Kind(target.Module)
		colour = d.colourOf(source, k != nil && k.Input(target.Name) < 0)
	}
	from, to := held, loose
	if h.on.what != onOutput {
		from, to = loose, held
	}
	middle := max(from.X+stub, (from.X+to.X)/2)
	way := []Point{from, {X: middle, Y: from.Y}, {X: middle, Y: to.Y}, to}
	for i := 1; i < len(way); i++ {
		d.part(way[i-1], way[i], 1.5, colour)
	}
}

// place returns where a socket that was hit stands.
func (l *layout) place(h hit) (Point, bool) {
	if b := l.block(h.socket.Module); b != nil {
		return b.end(h.socket.Name, h.what == onOutput)
	}
	return Point{}, false
}

// names writes the name of the socket under the pointer, or in which the cord
// being drawn would end, beside it.
func (d *drawing) names() {
	h, at := d.s.hand, d.s.hover
	text := ""
	switch {
	case h.doing == joining && h.aimed:
		at, text = h.aim, h.aim.socket.String()
	case h.doing == joining && h.why != "":
		at, text = h.aim, "not here"
	case h.doing == joining || at.what != onOutput && at.what != onInput && at.what != onControl:
		return
	default:
		text = at.socket.Name
	}
	place, ok := d.s.layout.place(at)
	if !ok {
		return
	}
	pos, em := d.s.view.at(place), look.Em()
	size := look.Quiet.Measure(text)
	x := pos.X - size.Width - 1.4*em
	if at.what == onOutput {
		x = pos.X + 0.9*em
	}
	ground := d.line(x-0.4*em, pos.Y-1.5*em-size.Height/2, size.Width+0.8*em, size.Height+0.2*em, d.inks.Ground)
	ground.StrokeColor, ground.StrokeWidth = d.inks.Line, 1
	d.text(look.Quiet, text, x, pos.Y-1.4*em-size.Height/2, 1).Color = d.inks.Drawn
}
