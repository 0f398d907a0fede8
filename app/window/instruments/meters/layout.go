package meters

import (
	"fmt"
	"math"

	"fyne.io/fyne/v2"

	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
	"lampblack/app/window/plate"
)

// Least widths of a column of rulers, and of the loudness, and what lies between,
// in ems.
const (
	rulerWidth = 15
	loudWidth  = 15.5
	gap        = 1.6
)

// Write is plate.Plate's: rulers one under the other, and the loudness beside them.
func (p *Plate) Write(pen *leaf.Pen, area plate.Box) {
	p.needles, p.figures = p.needles[:0], p.figures[:0]
	em := pen.Em
	loud := max(area.Width*0.44, em*loudWidth)
	if area.Width-loud-em*gap < em*rulerWidth || area.Height < em*10 {
		loud = -em * gap // no room for both
	}
	room := area.Width - loud - em*gap
	rows := max(int(area.Height/(em*rulerHeight)), 1)
	most := max(int((room+em*gap)/(em*(rulerWidth+gap))), 1)
	p.panel = loud > 0
	columns := min((len(p.rulers(true))+rows-1)/rows, most)
	width := (room - em*gap*float32(columns-1)) / float32(columns)
	all := p.rulers(width > em*25)
	p.crowded = rows*columns < len(all)
	if !p.crowded && p.set.first > 0 {
		p.set.first = 0
		all = p.rulers(width > em*25)
	}
	rows = min(rows, (len(all)+columns-1)/columns)
	high := min(area.Height/float32(rows), em*6.4)
	for i, r := range all[:min(rows*columns, len(all))] {
		p.writeRuler(pen, plate.Box{
			X: area.X + (width+em*gap)*float32(i/rows), Y: area.Y + high*float32(i%rows), Width: width, Height: high,
		}, r)
	}
	if p.panel {
		p.writeLoudness(pen, plate.Box{X: area.X + area.Width - loud, Y: area.Y, Width: loud, Height: area.Height})
	}
	p.needles.move(&p.shown)
	p.written = p.shown.frames
}

// writeLoudness writes the figures of the loudness, and its course beside its ruler.
func (p *Plate) writeLoudness(pen *leaf.Pen, b plate.Box) {
	em := pen.Em
	end := pen.Text(look.Caps, b.X, b.Y+em*1.05, "loudness")
	pen.Fit(look.Quiet, end+em*0.5, b.Y+em*1.05, b.X+b.Width-end-em*0.5, p.unit()+", BS.1770-5")
	names := [4]string{"M", "S", "I", "range, LU"}
	if b.Width > em*22 {
		names = [4]string{"momentary", "short-term", "integrated", "range, LU"}
	}
	words := [4]func(r *reading) string{
		func(r *reading) string { return bare(r.loud.Momentary) },
		func(r *reading) string { return bare(r.loud.ShortTerm) },
		func(r *reading) string { return bare(r.loud.Integrated) },
		func(r *reading) string {
			if r.loud.Low == 0 {
				return "–"
			}
			return bare(r.loud.Range)
		},
	}
	for i, name := range names {
		x := b.X + b.Width*float32(i)/4
		pen.Fit(look.Small, x, b.Y+em*2.2, b.Width/4-em*0.2, name)
		p.figure(pen, look.Figures, 1.35, x, b.Y+em*3.65, b.Width/4-em*0.2, fyne.TextAlignLeading, words[i])
	}
	p.figure(pen, look.Quiet, 1, b.X, b.Y+em*4.95, b.Width, fyne.TextAlignLeading, p.sinceText)
	c := plate.Box{X: b.X + em*1.9, Y: b.Y + em*5.7, Width: b.Width - em*8.2, Height: b.Height - em*7.2}
	p.ruleChart(pen, c)
	pen.Put(p.chart, c.X, c.Y, c.Width, c.Height)
	p.loudNeedles(pen, plate.Box{X: c.X + c.Width + em*0.3, Y: c.Y, Width: em * 3.9, Height: c.Height})
	place := pen.Place(atLoudness, b.X-em*0.3, b.Y, b.Width+em*0.6, b.Height)
	place.Tap, place.Unmarked = p.begin, true
}

// ruleChart rules loudness and time, and the target across them and the ruler.
func (p *Plate) ruleChart(pen *leaf.Pen, c plate.Box) {
	em := pen.Em
	right := c.X + c.Width + em*4.3
	up := func(lufs float64) float32 { return c.Y + c.Height*float32(1-loudAt(lufs)) }
	aim, tolerance, none := p.set.aim()
	if !none {
		pen.Box(c.X, up(aim+tolerance), right-c.X, up(aim-tolerance)-up(aim+tolerance), pen.Ink.Wash, nil)
		pen.Level(c.X, up(aim), right-c.X, pen.Ink.Line)
		pen.Text(look.Small, right+em*0.3, up(aim)+em*0.28, "0 LU")
		pen.Upright(right, c.Y, c.Height, pen.Ink.Line)
		for lu := -30.0; lu <= 10; lu += 10 {
			if y := up(aim + lu); lu != 0 {
				pen.Level(right-em*0.3, y, em*0.3, pen.Ink.Line)
				pen.Text(look.Small, right+em*0.3, y+em*0.28, signed(lu))
			}
		}
	}
	for lufs := -50.0; lufs <= -10; lufs += 10 {
		pen.Level(c.X-em*0.3, up(lufs), c.Width+em*0.3, pen.Ink.Faint)
		pen.Right(look.Small, c.X-em*0.45, up(lufs)+em*0.28, look.Shown(plate.Number(lufs)))
	}
	pen.Upright(c.X, c.Y, c.Height, pen.Ink.Line)
	pen.Level(c.X, c.Y+c.Height, right-c.X, pen.Ink.Line)
	steps := 3
	if c.Width < em*11 {
		steps = 2
	}
	for i := range steps + 1 {
		x := c.X + c.Width*float32(i)/float32(steps)
		pen.Upright(x, c.Y+c.Height, em*0.3, pen.Ink.Line)
		if i == steps {
			pen.Right(look.Small, x+em*0.1, c.Y+c.Height+em*1.25, "now")
			break
		}
		pen.Middle(look.Small, x, c.Y+c.Height+em*1.25, fmt.Sprintf("−%d s", chartSeconds-chartSeconds*i/steps))
	}
}

// loudNeedles lays what is now beside the chart, on its scale: momentary, short-term
// and integrated loudness, and the range from end to end.
func (p *Plate) loudNeedles(pen *leaf.Pen, b plate.Box) {
	em := pen.Em
	each := b.Width / 4
	of := func(v func(r *reading) float64) func(r *reading) (float64, bool) {
		return func(r *reading) (float64, bool) {
			at := loudAt(v(r))
			return at, at > 0 && !math.IsInf(v(r), -1)
		}
	}
	column := func(i int, at func(r *reading) (float64, bool), from func(r *reading) float64, thick float32, strip bool) {
		p.needles.add(pen, needle{
			at: at, from: from, x: b.X + each*float32(i) + em*0.12, y: b.Y, length: b.Height, across: each - em*0.24, thick: thick, upward: true,
		}, pen.Ink.Drawn, strip)
	}
	column(0, of(func(r *reading) float64 { return r.loud.Momentary }), nil, 2.5, true)
	column(1, of(func(r *reading) float64 { return r.loud.ShortTerm }), nil, 2.5, true)
	column(2, of(func(r *reading) float64 { return r.loud.Integrated }), nil, 4, false)
	ends := func(v func(r *reading) float64) func(r *reading) (float64, bool) {
		return func(r *reading) (float64, bool) { return loudAt(v(r)), r.loud.Low != 0 }
	}
	low := func(r *reading) float64 { return r.loud.Low }
	column(3, ends(func(r *reading) float64 { return r.loud.High }), func(r *reading) float64 { return loudAt(r.loud.Low) }, 1.5, true)
	column(3, ends(low), nil, 1.5, false)
	for i, name := range []string{"M", "S", "I", "R"} {
		pen.Middle(look.Small, b.X+each*(float32(i)+0.5), b.Y+b.Height+em*1.25, name)
	}
}
