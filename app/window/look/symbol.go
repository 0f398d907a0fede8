package look

import (
	"image"
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
)

// A symbol is drawn in a square of 24 by 24 units. The shapes are those of
// block diagrams (IEC 60617, parts 10 and 13: generator, filter, amplifier,
// loudspeaker; a square with its characteristic drawn inside).
const symbolSide = 24

var symbols = map[string]func(s *sketch){
	"generator": func(s *sketch) { s.circle(12, 12, 11); s.sine(5, 19, 12, 4.5, 1) },
	"slow":      func(s *sketch) { s.circle(12, 12, 11); s.sine(4, 20, 12, 4.5, 0.5) },
	"noise":     func(s *sketch) { s.circle(12, 12, 11); s.lines(noiseLine...) },
	"filter":    func(s *sketch) { s.square(); s.bell(4, 20, 18, 6) },
	"low":       func(s *sketch) { s.square(); s.lines(4, 8, 11, 8, 14, 9.5, 20, 18) },
	"high":      func(s *sketch) { s.square(); s.lines(4, 18, 10, 9.5, 13, 8, 20, 8) },
	"notch":     func(s *sketch) { s.square(); s.bell(4, 20, 7, 18) },
	"envelope":  func(s *sketch) { s.square(); s.lines(4, 19, 8, 5, 11, 11, 16, 11, 20, 19) },
	"amplifier": func(s *sketch) { s.lines(3, 2, 21, 12, 3, 22, 3, 1.5) },
	"mixer":     func(s *sketch) { s.circle(12, 12, 11); s.lines(12, 5, 12, 19); s.lines(5, 12, 19, 12) },
	"partials":  func(s *sketch) { s.square(); s.combs(18, 5, 5, 8.5, 9.5, 12, 12.5, 15.5, 14.5, 19, 16) },
	"string":    func(s *sketch) { s.lines(2, 5, 2, 19); s.lines(22, 5, 22, 19); s.lines(2, 12, 8, 6, 22, 12, 2, 12) },
	"click":     func(s *sketch) { s.square(); s.lines(4, 16, 11, 16, 12, 5, 13, 16, 20, 16) },
	"ladder":    func(s *sketch) { s.square(); s.lines(4, 11, 10, 11, 12.5, 9.5, 13.5, 5, 14.5, 9.5, 20, 19) },
	"bands":     func(s *sketch) { s.square(); s.bell(3, 11, 18, 8); s.bell(8, 16, 18, 8); s.bell(13, 21, 18, 8) },
	"resonator": func(s *sketch) {
		s.square()
		s.lines(4, 18, 6, 17, 7, 6, 8, 17, 11, 17, 12, 6, 13, 17, 16, 17, 17, 6, 18, 17, 20, 18)
	},
	"all-pass": func(s *sketch) {
		s.square()
		s.lines(4, 7, 20, 7)
		s.lines(4, 11, 8, 11.5, 11, 13, 13, 17, 16, 18.5, 20, 19)
	},
	"tilt":   func(s *sketch) { s.square(); s.lines(4, 17, 20, 7); s.disc(12, 12, 1.8) },
	"hold":   func(s *sketch) { s.square(); s.lines(4, 17, 8, 17, 8, 11, 12, 11, 12, 15, 16, 15, 16, 6, 20, 6) },
	"random": func(s *sketch) { s.square(); s.lines(randomLine...) },
	"slew": func(s *sketch) {
		s.square()
		s.lines(4, 18, 8, 18, 8, 6, 20, 6)
		s.lines(8, 18, 11, 10.5, 14, 7.5, 20, 6.2)
	},
	"scale": func(s *sketch) {
		s.square()
		s.lines(4, 8, 9, 13)
		s.lines(9, 8, 4, 13)
		s.lines(17, 9, 17, 17)
		s.lines(13, 13, 21, 13)
	},
	"comparator": func(s *sketch) {
		s.lines(3, 2, 21, 12, 3, 22, 3, 1.5)
		s.lines(5, 15, 9, 15, 9, 9, 13, 9)
	},
	"logic": func(s *sketch) {
		s.lines(5, 3, 11, 3)
		s.arc(11, 12, 9, -0.5*math.Pi, 0.5*math.Pi)
		s.lines(11, 21, 5, 21, 5, 3)
	},
	"quantiser": func(s *sketch) { s.square(); s.lines(4, 19, 8, 19, 8, 14.5, 12, 14.5, 12, 10, 16, 10, 16, 5, 20, 5) },
	"contour": func(s *sketch) {
		s.square()
		s.lines(4, 18, 8, 6, 13, 13, 17, 8.5, 20, 18)
		s.disc(8, 6, 1.5)
		s.disc(13, 13, 1.5)
		s.disc(17, 8.5, 1.5)
	},
	"follower": func(s *sketch) {
		s.square()
		s.lines(5, 6, 12, 12, 5, 18, 5, 5.5)
		s.lines(12, 6, 12, 18)
		s.lines(12, 12, 20, 12)
	},
	"pitch": func(s *sketch) {
		s.square()
		s.sine(4, 20, 9, 4, 1)
		s.lines(4, 18, 20, 18)
		s.lines(4, 16, 4, 20)
		s.lines(20, 16, 20, 20)
	},
	"gate":  func(s *sketch) { s.square(); s.lines(4, 18, 8, 18, 8, 7, 16, 7, 16, 18, 20, 18) },
	"onset": func(s *sketch) { s.square(); s.lines(4, 18, 9, 18, 9, 5, 11, 11, 14, 15.5, 20, 18) },
	"vocoder": func(s *sketch) {
		s.square()
		s.combs(11, 6, 6, 10, 9, 14, 4, 18, 8)
		s.combs(20, 6, 15, 10, 18, 14, 13, 18, 17)
	},
	"delay":  func(s *sketch) { s.square(); s.combs(18, 6, 5, 12, 10, 18, 14); s.lines(4, 18, 20, 18) },
	"chorus": func(s *sketch) { s.square(); s.sine(4, 20, 10, 4, 1); s.sine(4, 20, 14, 4, 1) },
	"reverberator": func(s *sketch) {
		s.square()
		s.combs(18, 5, 5, 7.5, 8, 10, 7.5, 12, 11, 14, 10.5, 16, 14, 18, 15, 20, 16.5)
	},
	"saturation": func(s *sketch) {
		s.square()
		s.lines(4, 18, 7, 18, 9.5, 16.5, 14.5, 7.5, 17, 6, 20, 6)
		s.lines(4, 12, 20, 12)
	},
	"wow": func(s *sketch) { s.circle(12, 12, 11); s.circle(13.5, 11, 5); s.disc(13.5, 11, 1.2) },
	"pan": func(s *sketch) {
		s.lines(4, 6, 12, 20, 20, 6)
		s.arc(12, 20, 10, -0.68*math.Pi, -0.32*math.Pi)
		s.lines(12, 20, 12, 4)
	},
	"width": func(s *sketch) { s.lines(2, 12, 22, 12); s.lines(7, 7, 2, 12, 7, 17); s.lines(17, 7, 22, 12, 17, 17) },
	"multiplier": func(s *sketch) {
		s.circle(12, 12, 11)
		s.lines(7, 7, 17, 17)
		s.lines(17, 7, 7, 17)
	},
	"recording": func(s *sketch) {
		s.lines(2, 4, 22, 4)
		s.lines(2, 20, 22, 20)
		s.lines(2, 12, 4, 12, 5.5, 9, 7.5, 15, 9.5, 6.5, 12, 17.5, 14, 8, 16, 14.5, 18, 10.5, 19.5, 12, 22, 12)
	},
	"memory": func(s *sketch) {
		s.square()
		s.lines(1, 8.5, 23, 8.5)
		s.lines(1, 15.5, 23, 15.5)
		s.block(4, 11, 9, 13)
		s.block(10, 4, 14, 6)
		s.block(15, 18, 20, 20)
	},
	"output": func(s *sketch) {
		s.lines(5, 8.5, 10, 8.5, 18, 2, 18, 22, 10, 15.5, 5, 15.5, 5, 8)
		s.lines(10, 8.5, 10, 15.5)
	},

	// Marks of the transport and of the notebook.
	"play":    func(s *sketch) { s.lines(5, 3, 20, 12, 5, 21, 5, 2.5) },
	"playing": func(s *sketch) { s.solid(5, 3, 20, 12, 5, 21) },
	"stop":    func(s *sketch) { s.lines(4, 4, 20, 4, 20, 20, 4, 20, 4, 3.5) },
	"stop at end": func(s *sketch) {
		s.lines(3, 12, 15, 12)
		s.lines(11, 8, 15, 12, 11, 16)
		s.lines(19, 4, 19, 20)
	},
	"record":        func(s *sketch) { s.circle(12, 12, 8) },
	"recording now": func(s *sketch) { s.disc(12, 12, 8) },
	"repeat": func(s *sketch) {
		s.arc(12, 12, 8.5, -0.12*math.Pi, 1.62*math.Pi)
		s.lines(10.5, 0.5, 15.5, 4.2, 10.5, 8)
	},
	"probe": func(s *sketch) { s.disc(12, 12, 5) },
	"cross": func(s *sketch) { s.lines(6, 6, 18, 18); s.lines(18, 6, 6, 18) },
}

var randomLine = []float32{4, 14, 5, 12.5, 6, 10, 7, 8, 8, 7.5, 9, 9, 10, 12, 11, 15, 12, 16.5, 13, 15.5, 14, 12.5, 15, 9, 16, 6.5, 17, 6.5, 18, 8.5, 19, 10.5, 20, 11.5}

var noiseLine = []float32{4, 12, 5.5, 9, 7, 14, 8.5, 7, 10, 16, 11.5, 10.5, 13, 17, 14.5, 6.5, 16, 13.5, 17.5, 10, 20, 12}

// HasSymbol tells whether there is a symbol of that name.
func HasSymbol(name string) bool { return symbols[name] != nil }

// DrawSymbol draws a symbol over the whole of a square picture with lines of
// width pixels. A name that is not known draws an empty square.
func DrawSymbol(to *image.RGBA, name string, c color.Color, width float32) {
	draw := symbols[name]
	if draw == nil {
		draw = func(s *sketch) { s.square() }
	}
	side := min(to.Bounds().Dx(), to.Bounds().Dy())
	s := &sketch{pen: NewPen(to, c), unit: float32(side) / symbolSide}
	s.pen.Width = width
	draw(s)
	s.pen.Ink()
}

// sketch draws in units of a symbol.
type sketch struct {
	pen  *Pen
	unit float32
}

func (s *sketch) lines(xy ...float32) {
	s.pen.Move(xy[0]*s.unit, xy[1]*s.unit)
	for i := 2; i < len(xy); i += 2 {
		s.pen.Line(xy[i]*s.unit, xy[i+1]*s.unit)
	}
}

// combs are upright lines from y: each at an x, up to a height.
func (s *sketch) combs(y float32, xTop ...float32) {
	for i := 0; i < len(xTop); i += 2 {
		s.lines(xTop[i], y, xTop[i], xTop[i+1])
	}
}

func (s *sketch) solid(xy ...float32) {
	s.pen.Ink()
	s.lines(xy...)
	s.pen.Fill()
}

func (s *sketch) block(x0, y0, x1, y1 float32) { s.solid(x0, y0, x1, y0, x1, y1, x0, y1) }

func (s *sketch) circle(x, y, r float32) { s.pen.Circle(x*s.unit, y*s.unit, r*s.unit) }

func (s *sketch) disc(x, y, r float32) {
	s.pen.Ink()
	s.circle(x, y, r)
	s.pen.Fill()
}

// square stands on whole pixels, so that its sides are crisp at any size.
func (s *sketch) square() {
	inset := float32(math.Round(float64(s.unit))) + s.pen.Width/2
	end := float32(math.Round(float64(symbolSide*s.unit))) - inset
	s.pen.Box(inset, inset, end, end)
}

func (s *sketch) sine(x0, x1, y, height, periods float32) {
	const steps = 24
	for i := range steps + 1 {
		part := float32(i) / steps
		x := (x0 + (x1-x0)*part) * s.unit
		up := float32(math.Sin(2 * math.Pi * float64(periods*part)))
		if i == 0 {
			s.pen.Move(x, y*s.unit)
			continue
		}
		s.pen.Line(x, (y-height*up)*s.unit)
	}
}

// bell is the response of a resonance: from y0 to y1 in the middle and back.
func (s *sketch) bell(x0, x1, y0, y1 float32) {
	const steps = 32
	for i := range steps + 1 {
		part := float32(i) / steps
		off := (part - 0.5) * 7
		x, y := (x0+(x1-x0)*part)*s.unit, (y0+(y1-y0)/(1+off*off))*s.unit
		if i == 0 {
			s.pen.Move(x, y)
			continue
		}
		s.pen.Line(x, y)
	}
}

func (s *sketch) arc(x, y, r, from, to float32) {
	const steps = 40
	for i := range steps + 1 {
		sin, cos := math.Sincos(float64(from + (to-from)*float32(i)/steps))
		px, py := (x+r*float32(cos))*s.unit, (y+r*float32(sin))*s.unit
		if i == 0 {
			s.pen.Move(px, py)
			continue
		}
		s.pen.Line(px, py)
	}
}

// Symbol shows a symbol; it follows changes of the theme.
type Symbol struct {
	widget.BaseWidget
	name string
	side float32 // in ems
	tint func(*Ink) color.NRGBA
}

// NewSymbol returns a symbol of side times the text size.
func NewSymbol(name string, side float32) *Symbol {
	s := &Symbol{name: name, side: side, tint: func(i *Ink) color.NRGBA { return i.Drawn }}
	s.ExtendBaseWidget(s)
	return s
}

// Tint draws the symbol in another colour of the palette and returns s.
func (s *Symbol) Tint(pick func(*Ink) color.NRGBA) *Symbol {
	s.tint = pick
	s.Refresh()
	return s
}

// SetName shows another symbol.
func (s *Symbol) SetName(name string) {
	if name != s.name {
		s.name = name
		s.Refresh()
	}
}

// CreateRenderer is fyne's.
func (s *Symbol) CreateRenderer() fyne.WidgetRenderer {
	picture := NewRaster(nil)
	picture.Generator = func(w, h int) image.Image {
		to := Canvas(w, h)
		DrawSymbol(to, s.name, s.tint(Now()), HairlineFor(picture, w))
		return to
	}
	return &symbolRenderer{s, picture}
}

// HairlineFor returns the width in pixels of a line of 1.1 units in a raster
// that is drawn w pixels wide.
func HairlineFor(r *canvas.Raster, w int) float32 {
	if r.Size().Width <= 0 {
		return 1
	}
	return max(1, 1.1*float32(w)/r.Size().Width)
}

type symbolRenderer struct {
	s       *Symbol
	picture *canvas.Raster
}

func (r *symbolRenderer) Layout(size fyne.Size) {
	side := min(size.Width, size.Height)
	r.picture.Move(fyne.NewPos((size.Width-side)/2, (size.Height-side)/2))
	r.picture.Resize(fyne.NewSquareSize(side))
}

func (r *symbolRenderer) MinSize() fyne.Size           { return fyne.NewSquareSize(r.s.side * Em()) }
func (r *symbolRenderer) Refresh()                     { r.picture.Refresh() }
func (r *symbolRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.picture} }
func (r *symbolRenderer) Destroy()                     {}
