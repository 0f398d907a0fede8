package sheet

import (
	"image/color"
	"maps"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"

	"lampblack/app/desk"
	"lampblack/app/window/look"
	"lampblack/patch"
)

// drawing is the sheet's renderer. Objects are kept from one drawing to the
// next; pictures are made anew only when what they show has changed, so that
// panning moves and nothing else.
type drawing struct {
	s *Sheet

	lines  pool[*canvas.Rectangle]
	texts  pool[*canvas.Text]
	blocks map[string]*blockView
	traces map[[2]patch.Socket]*traceView
	cover  *canvas.Rectangle // ground behind the top line

	standing *fyne.Container // the traces that stand on their signal
	rolling  *fyne.Container // the traces that roll

	objects []fyne.CanvasObject
	seen    []*traceView
	moved   map[*signal]bool // of this beat
	beats   int
	limited map[string]bool // modules that had to limit or reset themselves
	inks    *look.Ink
}

func newDrawing(s *Sheet) *drawing {
	d := &drawing{
		s: s, standing: container.NewWithoutLayout(), rolling: container.NewWithoutLayout(), moved: map[*signal]bool{},
		blocks: map[string]*blockView{}, traces: map[[2]patch.Socket]*traceView{}, cover: &canvas.Rectangle{},
		lines: pool[*canvas.Rectangle]{make: func() *canvas.Rectangle { return &canvas.Rectangle{} }},
		texts: pool[*canvas.Text]{make: func() *canvas.Text { return &canvas.Text{} }},
	}
	d.update()
	return d
}

// pool keeps objects of one kind from one drawing to the next.
type pool[T any] struct {
	items []T
	used  int
	make  func() T
}

func (p *pool[T]) next() T {
	if p.used == len(p.items) {
		p.items = append(p.items, p.make())
	}
	p.used++
	return p.items[p.used-1]
}

// IsClip tells fyne to draw nothing of the sheet beside it.
func (d *drawing) IsClip() {}

func (d *drawing) Layout(size fyne.Size) {
	if size != d.s.view.size && !d.s.owned {
		d.s.fitted = false
	}
	d.s.view.size = size
	d.update()
}

func (d *drawing) MinSize() fyne.Size {
	return fyne.NewSize(20*look.Em(), 8*look.Em())
}

func (d *drawing) Objects() []fyne.CanvasObject { return d.objects }

// Destroy is called when the sheet has been out of sight for a minute: it goes on
// watching, and gets another drawing when it is seen again.
func (d *drawing) Destroy() {}

// Refresh comes with another theme or text size: texts have other widths.
func (d *drawing) Refresh() {
	d.s.relay()
	d.update()
}

// update places everything that is seen.
func (d *drawing) update() {
	s := d.s
	s.view.top = float64(s.topHeight())
	s.fitOnce()
	d.inks = look.Now()
	d.lines.used, d.texts.used = 0, 0
	d.objects, d.seen = d.objects[:0], d.seen[:0]
	d.rule()
	seen := s.view.seen().grown(traceHeight)
	for i := range s.layout.cords {
		if c := &s.layout.cords[i]; c.way != nil && c.bounds.grown(traceHeight).meets(seen) {
			d.cord(i, c)
		}
	}
	d.sortTraces()
	d.objects = append(d.objects, d.standing, d.rolling)
	for _, i := range s.layout.near(seen) {
		d.block(&s.layout.blocks[i])
	}
	d.forget()
	d.rubber()
	d.names()
	d.front()
	look.Repaint(s)
}

// rule draws the lines of the paper.
func (d *drawing) rule() {
	v, step := d.s.view, rule
	for step*v.scale() < 14 {
		step *= 2
	}
	seen := v.seen()
	for y := float64(int(seen.Y0/step)) * step; y < seen.Y1; y += step {
		if at := v.at(Point{Y: y}).Y; at >= float32(v.top) {
			d.line(0, at, v.size.Width, 1, d.inks.Faint)
		}
	}
	if len(d.s.layout.blocks) == 0 {
		d.hint()
	}
}

// hint is what an empty sheet says.
func (d *drawing) hint() {
	v := d.s.view
	line := math.Round(v.seen().centre().Y/rule) * rule
	for i, text := range []string{
		"An empty sheet. Press Insert, or double-click, to add the first module.",
		"Every patch ends in an output; a sound file dropped here becomes a source.",
	} {
		t := d.text(look.Quiet, text, 0, 0, 1)
		height := t.MinSize().Height
		t.Alignment = fyne.TextAlignCenter
		t.Resize(fyne.NewSize(v.size.Width, height))
		t.Move(look.Whole(fyne.NewPos(0, v.at(Point{Y: line + float64(i)*rule}).Y-0.86*height))) // written on the lines
	}
}

// line adds a filled rectangle, the only kind of line there is here.
func (d *drawing) line(x, y, width, height float32, c color.Color) *canvas.Rectangle {
	l := d.lines.next()
	l.FillColor, l.StrokeWidth, l.StrokeColor = c, 0, nil
	l.Move(fyne.NewPos(x, y))
	l.Resize(fyne.NewSize(width, height))
	d.objects = append(d.objects, l)
	return l
}

// text adds a text whose upper left corner is at x, y.
func (d *drawing) text(style look.Style, text string, x, y, scale float32) *canvas.Text {
	t := d.texts.next()
	style.Dress(t)
	t.TextSize *= scale
	t.Text, t.Alignment = text, fyne.TextAlignLeading
	t.Move(look.Whole(fyne.NewPos(x, y)))
	t.Resize(t.MinSize())
	d.objects = append(d.objects, t)
	return t
}

// forget lets go of the pictures of what is not seen any more, and keeps a few
// for when it comes back.
func (d *drawing) forget() {
	const kept = 200
	if len(d.blocks) > kept {
		for name, b := range d.blocks {
			if !b.used {
				delete(d.blocks, name)
			}
		}
	}
	if len(d.traces) > kept {
		for key, t := range d.traces {
			if !t.used {
				delete(d.traces, key)
			}
		}
	}
	for _, b := range d.blocks {
		b.used = false
	}
	for _, t := range d.traces {
		t.used = false
	}
}

// front adds what lies over the sheet: the top line, an open list, a name being
// written.
func (d *drawing) front() {
	s, v := d.s, d.s.view
	d.cover.FillColor = d.inks.Ground
	d.cover.Move(fyne.NewPos(0, 0))
	d.cover.Resize(fyne.NewSize(v.size.Width, float32(v.top)))
	s.top.Move(fyne.NewPos(0, 0))
	s.top.Resize(d.cover.Size())
	d.objects = append(d.objects, d.cover, s.top)
	if s.focused {
		// Where the keyboard is can be seen: a rule at the left edge.
		d.line(0, float32(v.top), 2, v.size.Height-float32(v.top), d.inks.Drawn)
	}
	if s.naming != nil {
		s.naming.place(s)
		d.objects = append(d.objects, s.naming.ground, s.naming)
	}
	if s.list != nil {
		s.list.place(s)
		d.objects = append(d.objects, s.list.objects()...)
	}
}

// limitedBeats is how often it is asked which modules had to limit themselves.
const limitedBeats = 30

// beat draws the traces whose signals have moved.
func (d *drawing) beat() {
	if d.beats++; d.beats%limitedBeats == 0 && d.limit() {
		d.update()
	}
	clear(d.moved)
	var standing, rolling, turned bool
	for _, t := range d.seen {
		if t.signal == nil {
			continue
		}
		changed, asked := d.moved[t.signal]
		if !asked {
			changed = d.listen(t.signal) && t.signal.beat()
			d.moved[t.signal] = changed
		}
		rolls := t.signal.window == 0
		turned = turned || rolls != t.rolls
		standing, rolling = standing || changed && !rolls, rolling || changed && rolls
	}
	if turned {
		d.sortTraces()
	}
	if standing {
		canvas.Refresh(d.standing)
	}
	if rolling {
		canvas.Refresh(d.rolling)
	}
}

// listen asks for the signal's tap anew: the session lets go of taps that are
// not asked for, so that cords out of sight cost nothing.
func (d *drawing) listen(s *signal) bool {
	if s.at == (patch.Socket{}) {
		return true // no output of the session's
	}
	tap := d.s.session.Tap(s.at)
	if tap == nil {
		return false
	}
	s.from = tap
	return true
}

// limit asks which of the modules in view had to limit themselves; true if that
// has changed.
func (d *drawing) limit() bool {
	limited := map[string]bool{}
	for _, i := range d.s.layout.near(d.s.view.seen()) {
		if name := d.s.layout.blocks[i].name; d.s.session.Clamped(name) {
			limited[name] = true
		}
	}
	changed := !maps.Equal(limited, d.limited)
	d.limited = limited
	return changed
}

// colourOf returns the colour of what comes from an output: that of its probe,
// ochre where it moves a control, ink otherwise.
func (d *drawing) colourOf(from patch.Socket, control bool) color.NRGBA {
	switch {
	case from == d.s.session.Probe(desk.ProbeA):
		return d.inks.ProbeA
	case from == d.s.session.Probe(desk.ProbeB):
		return d.inks.ProbeB
	case control:
		return d.inks.Modulation
	}
	return d.inks.Drawn
}
