package picture

import (
	"image"
	"image/color"

	"gonum.org/v1/plot/vg"
)

// palette returns the shades between the ground and the ink.
func palette(ink Ink) color.Palette {
	p := make(color.Palette, shades)
	for i := range p {
		p[i] = between(ink.Ground, ink.Drawn, float64(i)/(shades-1))
	}
	return p
}

// shadesBeside draws what the shades from low to top dBFS mean, upright.
func (p *page) shadesBeside(r vg.Rectangle, low, top float64) {
	r.Min.X, r.Max.X = p.snap(r.Min.X), p.snap(r.Max.X)
	rows := max(2, min(512, int(r.Size().Y/p.pixel)))
	strip := image.NewPaletted(image.Rect(0, 0, 1, rows), palette(*p.Ink))
	for y := range rows {
		strip.Pix[y] = uint8((rows - 1 - y) * (shades - 1) / (rows - 1))
	}
	p.DrawImage(r, strip)
	p.frame(r, p.Ink.Line)
	scale := axis{low: low, high: top, marks: evenly(max(2, min(9, int(r.Size().Y/p.pt(22)))))}
	for _, t := range scale.marks.Ticks(scale.low, scale.high) {
		at := r.Min.Y + vg.Length(scale.at(t.Value))*r.Size().Y
		p.line(r.Max.X, at, r.Max.X+p.pt(3), at, p.Ink.Line)
		p.say(figures, 8, p.Ink.Quiet, r.Max.X+p.pt(22), at-p.pt(2.6), right, t.Label)
	}
	p.say(text, 8, p.Ink.Quiet, r.Max.X+p.pt(22), r.Max.Y+p.pt(6), right, "dBFS")
}

// shadesOver draws what the shades mean, at the right end of the line over the
// field.
func (f panel) shadesOver(base vg.Length, top float64) {
	x := f.box.Max.X
	x -= f.say(text, 8, f.Ink.Quiet, x, base, right, number(top, 0)+" dBFS") + f.pt(4)
	r := vg.Rectangle{Min: vg.Point{X: x - f.pt(70), Y: base - f.pt(0.5)}, Max: vg.Point{X: x, Y: base + f.pt(5.5)}}
	r.Min.X, r.Max.X, r.Min.Y, r.Max.Y = f.snap(r.Min.X), f.snap(r.Max.X), f.snap(r.Min.Y), f.snap(r.Max.Y)
	strip := image.NewPaletted(image.Rect(0, 0, shades, 1), palette(*f.Ink))
	for i := range strip.Pix {
		strip.Pix[i] = uint8(i)
	}
	f.DrawImage(r, strip)
	f.frame(r, f.Ink.Line)
	f.say(text, 8, f.Ink.Quiet, r.Min.X-f.pt(4), base, right, number(top-depth, 0))
}
