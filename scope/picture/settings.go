package picture

import (
	"fmt"

	"gonum.org/v1/plot/vg"
)

// layout is how the settings of a take are set.
type layout struct {
	size    float64 // of the words, in points
	columns int
	lines   int // in a column
	height  vg.Length
}

// entry is one line of the table: the head of a module, or a value.
type entry struct {
	module string // "" for a value
	kind   string
	line   Line
}

const leading = 1.34 // from one base line to the next, in sizes

func entries(t Take) (all []entry) {
	for _, m := range t.Modules {
		all = append(all, entry{module: m.Name, kind: m.Kind})
		for _, l := range m.Lines {
			all = append(all, entry{line: l})
		}
	}
	return all
}

// fitting returns the largest words at which the settings fit into r; if none
// do, the smallest.
func (p *page) fitting(r vg.Rectangle, t Take) layout {
	all := entries(t)
	if len(all) == 0 {
		return layout{}
	}
	var best layout
	for _, size := range []float64{8.5, 8, 7.5, 7, 6.5, 6} {
		least := 18. // of a column, in sizes
		if size < 7 {
			least = 15.5
		}
		best = layout{size: size, columns: max(1, int(r.Size().X/p.pt(size*least)))}
		room := int((r.Size().Y - p.pt(18)) / p.pt(size*leading))
		for best.lines = max(1, len(all)/best.columns); best.lines < room && len(flow(all, best.lines)) > best.columns; {
			best.lines++
		}
		best.height = p.pt(18 + size*leading*float64(best.lines))
		if best.lines <= room && len(flow(all, best.lines)) <= best.columns {
			return best
		}
	}
	best.lines = max(1, int((r.Size().Y-p.pt(18))/p.pt(best.size*leading)))
	best.height = r.Size().Y
	return best
}

// flow breaks entries into columns of at most so many lines, with half a line
// before a module. A module that would fit into a column is not broken.
func flow(all []entry, lines int) (columns [][]entry) {
	var column []entry
	used := 0.0
	for len(all) > 0 {
		block := 1
		for block < len(all) && all[block].module == "" {
			block++
		}
		need := float64(block)
		if len(column) > 0 {
			need += 0.5
		}
		if used+need > float64(lines) && len(column) > 0 {
			columns, column, used, need = append(columns, column), nil, 0, float64(block)
		}
		for ; block > lines; block -= lines { // longer than a column
			columns, need = append(columns, all[:lines]), need-float64(lines)
			all = all[lines:]
		}
		column, used, all = append(column, all[:block]...), used+need, all[block:]
	}
	return append(columns, column)
}

// settings draws the table from the upper edge of r on. What does not fit is
// counted.
func (p *page) settings(r vg.Rectangle, t Take, how layout) {
	all := entries(t)
	if len(all) == 0 {
		return
	}
	base := r.Max.Y - p.pt(8)
	head := p.say(caps, 10, p.Ink.Drawn, r.Min.X, base, left, "Settings") + p.pt(12)
	columns := flow(all, how.lines)
	note := "what is not written stands at its default"
	if len(columns) > how.columns {
		left := 0
		for _, c := range columns[how.columns:] {
			left += len(c)
		}
		columns = columns[:how.columns]
		note = fmt.Sprintf("%d lines more do not fit on this page", left)
	}
	p.say(text, 8, p.Ink.Quiet, r.Max.X, base, right, p.fit(text, 8, note, r.Size().X-head))
	p.rule(r.Min.X, r.Max.X, base-p.pt(5), p.Ink.Faint)
	gap := p.pt(how.size * 1.7)
	width := (r.Size().X - gap*vg.Length(how.columns-1)) / vg.Length(how.columns)
	for i, column := range columns {
		x := r.Min.X + vg.Length(i)*(width+gap)
		y := base - p.pt(10)
		for k, e := range column {
			if e.module != "" && k > 0 {
				y -= p.pt(how.size * leading / 2)
			}
			y -= p.pt(how.size * leading)
			p.entry(e, how.size, x, y+p.pt(how.size*leading-how.size), width)
		}
	}
}

func (p *page) entry(e entry, size float64, x, base, width vg.Length) {
	if e.module != "" {
		name := p.say(caps, size+0.5, p.Ink.Drawn, x, base, left, p.fit(caps, size+0.5, e.module, width))
		p.say(text, size, p.Ink.Quiet, x+width, base, right, p.fit(text, size, e.kind, width-name-p.pt(6)))
		return
	}
	ink := p.Ink.Drawn
	if e.line.Cord {
		ink = p.Ink.Modulation
	}
	value := p.say(figures, size, ink, x+width, base, right, p.fit(figures, size, signed(e.line.Value), width*0.62))
	p.say(text, size, p.Ink.Quiet, x, base, left, p.fit(text, size, e.line.Name, width-value-p.pt(5)))
}
