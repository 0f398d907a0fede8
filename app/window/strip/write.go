package strip

import (
	"fmt"
	"math"
	"strconv"

	"fyne.io/fyne/v2/driver/desktop"

	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
	"lampblack/patch/memory"
)

// writeRuling rules the paper: semitones across, seconds upright.
func (t *Strip) writeRuling(p *leaf.Pen) {
	g := t.paper
	x, y, w, h := float32(g.left), float32(g.top), float32(g.width), float32(g.height)
	every := 1
	for g.row*float64(every) < 7 {
		every++
	}
	for i := 0; float64(i)*g.row <= g.height+0.5; i += every {
		p.Level(x, y+float32(float64(i)*g.row), w, p.Ink.Faint)
	}
	fine, coarse := g.grid(float64(p.Em)*1.2), g.grid(float64(p.Em)*4.5)
	for i := 1; float64(i)*fine < g.seconds; i++ {
		p.Upright(float32(g.x(float64(i)*fine)), y, h, p.Ink.Faint)
	}
	decimals := max(0, -int(math.Floor(math.Log10(coarse)+1e-9)))
	for i := 0; float64(i)*coarse <= g.seconds+1e-9; i++ {
		at := float32(g.x(float64(i) * coarse))
		p.Upright(at, y, h, p.Ink.Line)
		label := strconv.FormatFloat(float64(i)*coarse, 'f', decimals, 64)
		if i == 0 {
			label += " s"
		}
		if left := at + p.Em*0.25; left+p.Wide(look.Small, label) < p.Width-p.Em*0.5 {
			p.Text(look.Small, left, y+h+p.Em*1.05, label)
		}
	}
	p.Upright(x+w, y, h, p.Ink.Line) // the pass ends here
}

// writeNotes draws bars, rests and the names of the pitches at the left.
func (t *Strip) writeNotes(p *leaf.Pen) {
	m := t.memory()
	t.writeNames(p, m)
	for i, n := range m.Notes {
		bx, by, bw, bh := t.paper.bar(n)
		x, y, w, h := float32(bx), float32(by), float32(bw), float32(bh)
		if n.Rest {
			t.writeRest(p, i, x, y, w, h)
		} else {
			p.Box(x, y, w, h, p.Ink.Drawn, nil)
		}
		if i == t.chosen() {
			p.Box(x-3, y-3, w+6, h+6, nil, p.Ink.Drawn)
		}
		t.placeNote(p, i, x, y, w, h)
	}
}

func (t *Strip) writeRest(p *leaf.Pen, i int, x, y, w, h float32) {
	c := p.Ink.Drawn
	p.Dashes(x, y, w, 3, c)
	p.Dashes(x, y+h-1, w, 3, c)
	p.Upright(x, y, h, c)
	p.Upright(x+w-1, y, h, c)
	word := "rest"
	if i == t.session.Armed() {
		word = "play a note"
	}
	if w > p.Em*1.6 || i == t.session.Armed() {
		p.Text(look.Small, x+2, y-p.Em*0.3, word)
	}
}

// writeNames names the pitches that are used, where they do not stand on each
// other.
func (t *Strip) writeNames(p *leaf.Pen, m memory.Memory) {
	var taken []float32
	for _, n := range m.Notes {
		y := float32(t.paper.y(n.Pitch))
		free := true
		for _, other := range taken {
			free = free && math.Abs(float64(other-y)) > float64(p.Em)*0.85
		}
		if free {
			taken = append(taken, y)
			p.Right(look.Small, float32(t.paper.left)-p.Em*0.5, y+p.Em*0.28, memory.PitchName(n.Pitch))
		}
	}
}

// placeNote marks a note: it is chosen, dragged, erased, or its rest filled.
func (t *Strip) placeNote(p *leaf.Pen, i int, x, y, w, h float32) {
	slack := max(3, float32(t.paper.row)/2-h/2)
	place := p.Place(fmt.Sprintf("note %d", i+1), x-1, y-slack, w+edge+1, h+2*slack)
	place.Unmarked, place.Unlisted = true, true
	place.Cursor = desktop.PointerCursor
	place.Down = func(x, y float32) { t.begin(float64(x), float64(y), i) }
	place.Drag = func(x, y float32) { t.pull(float64(x), float64(y)) }
	place.Up = t.end
	place.Double = func() { t.fill(i) }
	place.Tap = func() {}
	t.Moved = func(x, y float32) desktop.Cursor {
		if _, part := t.paper.find(t.memory(), float64(x), float64(y)); part == End {
			return desktop.HResizeCursor
		}
		return nil
	}
}

// fill arms a rest: the next note that is played goes there.
func (t *Strip) fill(i int) {
	m := t.memory()
	if i >= 0 && i < len(m.Notes) && m.Notes[i].Rest {
		t.session.FillRest(i)
	}
}
