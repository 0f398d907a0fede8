package movement

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
	"lampblack/app/window/plate"
)

// tablePlace is the name of the table among the places of the leaf.
const tablePlace = "controls that move"

// Measures of the table, in ems.
const (
	headRoom    = 1.5
	rowRoom     = 2.55
	figureWidth = 4.7 // of a column of figures
	leastShape  = 5.5 // of the column of traces
	detailRoom  = 9.3 // of the chosen row, drawn large, at least
	mostDetail  = 22
	leastRows   = 3 // that are seen where the chosen row is drawn large
)

// table is where its columns lie.
type table struct {
	plate.Box
	em                   float32
	low, high, now       float32 // right edges of the columns of figures
	shape, shapeWidth    float32
	rowHeight, rowsStart float32
}

func tableOf(area plate.Box, em float32) table {
	t := table{Box: area, em: em, rowHeight: rowRoom * em, rowsStart: area.Y + headRoom*em}
	left := min(max(area.Width*0.36, 8*em), 22*em)
	t.shapeWidth = max(area.Width-left-3*figureWidth*em-1.2*em, leastShape*em)
	t.shape = area.X + area.Width - t.shapeWidth
	t.now = t.shape - 1.2*em
	t.high = t.now - figureWidth*em
	t.low = t.high - figureWidth*em
	return t
}

// Write is plate.Plate's.
func (p *Plate) Write(pen *leaf.Pen, area plate.Box) {
	if len(p.rows) == 0 {
		p.writeNothing(pen, area)
		return
	}
	p.read()
	rows := area
	rows.Height = p.tableHeight(area.Height/pen.Em) * pen.Em
	if rows.Height < area.Height {
		p.writeDetail(pen, plate.Box{X: area.X, Y: area.Y + rows.Height, Width: area.Width, Height: min(area.Height-rows.Height, mostDetail*pen.Em)})
	}
	t := tableOf(rows, pen.Em)
	p.fitting = max(int((rows.Height-headRoom*pen.Em)/t.rowHeight), 1)
	p.first = min(p.first, max(len(p.rows)-p.fitting, 0))
	p.writeHeads(pen, t)
	for i, r := range p.seenRows() {
		p.writeRow(pen, t, r, t.rowsStart+float32(i)*t.rowHeight)
	}
	pen.Put(p.shapes.raster, t.shape, t.rowsStart, t.shapeWidth, float32(p.fitting)*t.rowHeight)
	p.place(pen, t)
}

// tableHeight parts a height, in ems, between the table and the chosen row: this
// gets what the rows don't need, and at least enough where a few rows are seen.
func (p *Plate) tableHeight(height float32) float32 {
	if height < detailRoom+headRoom+leastRows*rowRoom {
		return height
	}
	return min(height-detailRoom, headRoom+rowRoom*float32(len(p.rows))+0.1)
}

func (p *Plate) writeNothing(pen *leaf.Pen, area plate.Box) {
	p.fitting = 0
	y := area.Y + 1.2*pen.Em
	for _, line := range look.Emphasis.Wrap("No cord moves a control. Join a voltage to one on the sheet (Ctrl+J), and what it does stands here.", area.Width) {
		pen.Text(look.Emphasis, area.X, y, line)
		y += 1.4 * pen.Em
	}
}

// writeHeads writes what stands in the columns, and which rows are seen.
func (p *Plate) writeHeads(pen *leaf.Pen, t table) {
	base := t.Y + 0.95*pen.Em
	first := "control"
	if len(p.rows) > p.fitting {
		first = fmt.Sprintf("%d–%d of %d", p.first+1, p.first+len(p.seenRows()), len(p.rows))
	}
	pen.Fit(look.Small, t.X+0.6*pen.Em, base, t.low-figureWidth*pen.Em-t.X, first)
	pen.Right(look.Small, t.low, base, "lowest")
	pen.Right(look.Small, t.high, base, "highest")
	pen.Right(look.Small, t.now, base, "now, rate")
	text := "4 periods each"
	if s := times[p.seconds]; s > 0 {
		text = "the last " + plate.Time(s)
		if s <= inSamples {
			text = plate.Time(s)
		}
	}
	pen.Fit(look.Small, t.shape, base, t.shapeWidth, text)
	pen.Level(t.X, t.rowsStart-1, t.Width, pen.Ink.Line)
}

// writeRow writes a control: its name and figures, below its setting, its cords
// and its rate.
func (p *Plate) writeRow(pen *leaf.Pen, t table, r *row, y float32) {
	em := pen.Em
	if r.At == p.chosen {
		pen.Box(t.X, y+1, t.Width, t.rowHeight-1, pen.Ink.Block, nil)
		pen.Box(t.X, y+1, 2, t.rowHeight-1, pen.Ink.Drawn, nil)
	}
	pen.Level(t.X, y+t.rowHeight, t.Width, pen.Ink.Faint)
	upper, lower := y+1.05*em, y+2.15*em
	x := t.X + 0.6*em
	left := t.low - figureWidth*em - x
	control := look.Body.Fit(r.At.Name, left*0.7, 1)
	module := look.Caps.Fit(r.At.Module, left-pen.Wide(look.Body, control)-0.5*em, 1)
	x = pen.Text(look.Caps, x, upper, module)
	pen.Text(look.Body, x+0.45*em, upper, control)

	figure := func(right float32, text string) float32 {
		text = look.Figures.Fit(look.Shown(text), (figureWidth-0.3)*em, 1)
		return pen.Right(look.Figures, right, upper, text)
	}
	at := figure(t.low, r.value(r.least))
	if r.lowEnd() {
		p.writeEnd(pen, at-0.2*em, -0.45*em, upper)
	}
	figure(t.high, r.value(r.most))
	if r.highEnd() {
		p.writeEnd(pen, t.high+0.2*em, 0.45*em, upper)
	}
	figure(t.now, r.value(r.now))
	end := pen.RightTinted(look.Quiet, pen.Ink.Modulation, t.now, lower, r.rate.words(r.origin))
	x = pen.Fit(look.Quiet, t.X+0.6*em, lower, left, look.Shown(r.setting.String()))
	p.writeCords(pen, r, x+0.6*em, lower, end-1.1*em)
}

// writeEnd draws the end that a value was stopped at: a way of some length from x,
// and a bar across.
func (p *Plate) writeEnd(pen *leaf.Pen, x, way, base float32) {
	em := pen.Em
	pen.Level(min(x, x+way), base-0.32*em, abs32(way), pen.Ink.Modulation)
	pen.Box(x+way-1, base-0.8*em, 2, em, pen.Ink.Modulation, nil)
}

func abs32(v float32) float32 { return max(v, -v) }

// writeCords writes the cords into a control, as many as there is room for.
func (p *Plate) writeCords(pen *leaf.Pen, r *row, x, base, end float32) {
	text := ""
	for i, c := range r.Cords {
		if i > 0 {
			text += ", "
		}
		text += p.cordWords(c)
	}
	pen.Tinted(look.Quiet, pen.Ink.Modulation, x, base, look.Quiet.Fit(look.Shown(text), end-x, 1))
}

// place lets the mouse and the keyboard go through the rows.
func (p *Plate) place(pen *leaf.Pen, t table) {
	mark := pen.Mark()
	seen := float32(len(p.seenRows()))
	place := pen.Place(tablePlace, t.X, t.rowsStart, t.Width, seen*t.rowHeight)
	place.Unmarked, place.Cursor = true, desktop.PointerCursor
	place.Down = func(_, y float32) { p.chooseAndShow(p.first + int((y-t.rowsStart)/t.rowHeight)) }
	place.Tap = p.open
	place.Keys = map[fyne.KeyName]func(){}
	for key, by := range map[fyne.KeyName]int{
		fyne.KeyUp: -1, fyne.KeyDown: 1, fyne.KeyPageUp: -p.fitting, fyne.KeyPageDown: p.fitting,
		fyne.KeyHome: -len(p.rows), fyne.KeyEnd: len(p.rows),
	} {
		place.Keys[key] = func() { p.chooseAndShow(p.at() + by) }
	}
	pen.Turn(mark, func(n int) { p.scroll(-n) })
}

func (p *Plate) chooseAndShow(n int) {
	p.choose(n)
	p.o.Refresh()
	p.redraw()
}
