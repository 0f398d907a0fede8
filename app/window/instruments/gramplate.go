package instruments

import (
	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
	"lampblack/app/window/plate"
)

// gramPlate is the large spectrogram.
type gramPlate struct {
	t    *Panel
	gram *spectrogram
}

func newGramPlate(l *Large) *gramPlate { return &gramPlate{l.panel, l.panel.measure.gram} }

func (g *gramPlate) Name() string { return "spectrogram" }
func (g *gramPlate) Beat()        { g.gram.follow(g.t.session); g.gram.late() }
func (g *gramPlate) Redraw()      { g.gram.raster.Refresh() }

func (g *gramPlate) Show(on bool) {
	g.gram.seen = on
	if on {
		g.gram.chooseFirst(g.t.session)
	}
}

func (g *gramPlate) Settings() []plate.Setting {
	t := g.t
	return []plate.Setting{t.gramOfSetting(), t.gramTimeSetting(), t.gramSpanSetting(), t.axisSetting(), t.overSetting(), t.freezeSetting()}
}

func (g *gramPlate) Write(p *leaf.Pen, area plate.Box) {
	b := area.Picture(p.Em)
	g.rule(p, b)
	p.Put(g.gram.raster, b.X, b.Y, b.Width, b.Height)
}

// rule rules time and frequency.
func (g *gramPlate) rule(p *leaf.Pen, b plate.Box) {
	m := g.t.measure
	a := m.axis()
	p.Box(b.X-1, b.Y-1, b.Width+2, b.Height+2, nil, p.Ink.Faint)
	free := b.Y + b.Height + p.Em
	for _, hz := range plate.FrequencyMarks(a) {
		y := b.Y + b.Height*float32(1-a.Fraction(hz))
		p.Level(b.X-p.Em*0.3, y, p.Em*0.3, p.Ink.Line)
		if plate.Labelled(a, hz) && y < free-p.Em*0.9 {
			p.Right(look.Small, b.X-p.Em*0.45, y+p.Em*0.28, plate.HertzLabel(hz))
			free = y
		}
	}
	for i := 0; i <= 5; i++ {
		x := b.X + b.Width*float32(i)/5
		p.Upright(x, b.Y+b.Height, p.Em*0.3, p.Ink.Line)
		label := "now"
		if i < 5 {
			label = plate.SignedTime(-m.switches.gramTime * float64(5-i) / 5)
		}
		p.Middle(look.Small, min(x, b.X+b.Width-p.Em), b.Y+b.Height+p.Em*1.25, label)
	}
}

// Files are the picture of what is seen.
func (g *gramPlate) Files() []plate.File {
	return []plate.File{printing("spectrogram", g.t.printGram)}
}

func (g *gramPlate) Reading() (one, two string) {
	return g.t.peaksText(g.t.measure.switches.gramOf), ""
}
