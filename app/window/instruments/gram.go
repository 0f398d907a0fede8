package instruments

import (
	"image"
	"math"
	"slices"

	"fyne.io/fyne/v2/canvas"

	"lampblack/app/desk"
	"lampblack/app/window/calm"
	"lampblack/app/window/look"
	"lampblack/patch"
	"lampblack/patch/engine"
	"lampblack/scope"
	"lampblack/scope/gram"
)

// gramSamples is how many samples each spectrum of the spectrogram takes.
const gramSamples = 4096

// movesKept is how many readings of a control are remembered: at 30 a second
// more than the longest spectrogram shows.
const movesKept = 4096

// control names a control of a module.
type control struct{ module, name string }

func (c control) String() string {
	if c.module == "" {
		return "nothing"
	}
	return c.module + " " + c.name
}

// spectrogram draws a channel's spectra over time, the newest at the right, and
// over it the movement of a control. It measures only while it is seen.
type spectrogram struct {
	raster *canvas.Raster
	m      *measure
	gram   *gram.Gram
	of     int // channel that gram was fed from
	next   int64
	seen   bool
	calm   calm.Guard
	image  *image.RGBA
	rows   [][]float32 // of each column, nil where there is none yet

	chosen  bool // what is drawn over was chosen by hand
	over    control
	scale   *patch.Scale            // of the control
	unit    string                  // in which it is set
	onScale func(v float64) float64 // 0 at the bottom to 1
	moves   [movesKept]struct {
		clock int64
		value float64
	}
	moved int
}

func newSpectrogram(m *measure) *spectrogram {
	g := &spectrogram{m: m, next: -1}
	g.raster = look.NewRaster(g.draw)
	return g
}

// late draws what has waited.
func (g *spectrogram) late() {
	if g.calm.Late(calm.Clock()) {
		g.raster.Refresh()
	}
}

// fit makes a spectrogram of w columns and h levels; it reports whether it had to.
func (g *spectrogram) fit(w, h int) bool {
	s := gram.Settings{
		Rate: g.m.rate, Samples: gramSamples, Window: scope.Hann, Axis: g.m.axis(), Height: h, Frames: w,
		Hop: max(int(g.m.switches.gramTime*g.m.rate/float64(w)), 1),
	}
	if g.gram != nil && g.gram.Settings() == s && g.of == g.m.switches.gramOf {
		return false
	}
	g.gram, g.next, g.of = gram.New(s), -1, g.m.switches.gramOf
	g.image, g.rows = look.Canvas(w, h), make([][]float32, w)
	return true
}

// feed gives what has come since the last reading; the first time, all that the
// tap remembers.
func (g *spectrogram) feed(t *engine.Tap, end int64) {
	if !g.seen || g.gram == nil || g.of != g.m.switches.gramOf {
		return
	}
	n := end - g.next
	if g.next < 0 || n > int64(len(g.m.news)) || n < 0 {
		n = min(int64(len(g.m.news)), end)
		g.gram.Reset(end - n)
	}
	if t.ReadAt(end, g.m.news[:n]) {
		g.gram.Write32(g.m.news[:n])
		g.next = end
	}
}

// follow reads the control that is drawn over the spectrogram.
func (g *spectrogram) follow(s *desk.Session) {
	if g.over.module == "" || g.m.switches.frozen {
		return
	}
	if _, now, _, ok := s.Swept(g.over.module, g.over.name); ok {
		at := &g.moves[g.moved%movesKept]
		at.clock, at.value = g.m.end[g.m.switches.gramOf], now
		g.moved++
	}
}

// watch chooses the control that is drawn over.
func (g *spectrogram) watch(s *desk.Session, c control) {
	g.over, g.moved = c, 0
	set, ok := s.Setting(c.module, c.name)
	if !ok {
		g.over = control{}
		return
	}
	spec := s.Kind(c.module).Control(c.name)
	g.unit, g.scale = set.Unit, &spec.Scales[max(spec.Scale(set.Unit), 0)]
	g.onScale = g.scale.Fraction
	if set.Unit == "Hz" { // stands where it does among the frequencies
		g.onScale = func(v float64) float64 { return g.m.axis().Fraction(v) }
	}
}

// chooseFirst draws the first control that moves over the spectrogram, unless
// somebody has chosen another, or the one that was drawn moves no more.
func (g *spectrogram) chooseFirst(s *desk.Session) {
	list := moving(s)
	if g.chosen && (g.over.module == "" || slices.Contains(list, g.over)) || len(list) == 0 {
		return
	}
	if !slices.Contains(list, g.over) {
		g.watch(s, list[0])
	}
}

// moving returns the controls of the bench that cords move, those of the chosen
// module first.
func moving(s *desk.Session) []control {
	var first, rest []control
	for _, c := range s.Patch().Cords {
		k := s.Kind(c.To.Module)
		if k == nil || k.Control(c.To.Name) == nil {
			continue
		}
		if at := (control{c.To.Module, c.To.Name}); c.To.Module == s.Chosen() {
			first = append(first, at)
		} else {
			rest = append(rest, at)
		}
	}
	return append(first, rest...)
}

// draw is called by the toolkit with the size in pixels of the screen.
func (g *spectrogram) draw(w, h int) image.Image {
	w, h = max(w, 1), max(h, 1)
	if fresh := g.fit(w, h); !fresh && g.image != nil && g.calm.Waits(calm.Clock()) {
		return g.image
	}
	unit := max(1, float64(w)/float64(max(g.raster.Size().Width, 1)))
	defer func() { g.calm.Saw(g.image, look.Now().Ground, unit, calm.Clock()) }()
	clear(g.image.Pix)
	ink := look.Now().Drawn
	count := g.gram.Len()
	for x := range w {
		g.rows[x] = nil
		if back := w - 1 - x; back < count {
			g.rows[x], _ = g.gram.Frame(back)
		}
	}
	perDB := float32(255 / g.m.switches.gramSpan)
	for y := range h {
		line := g.image.Pix[g.image.PixOffset(0, y):][:4*w]
		for x, row := range g.rows {
			if row == nil {
				continue
			}
			v := 255 + row[h-1-y]*perDB
			if v <= 0 {
				continue
			}
			a := uint32(min(v, 255))
			p := line[4*x : 4*x+4 : 4*x+4]
			p[0], p[1], p[2], p[3] = uint8(uint32(ink.R)*a/255), uint8(uint32(ink.G)*a/255), uint8(uint32(ink.B)*a/255), uint8(a)
		}
	}
	g.drawMoves(w, h)
	return g.image
}

// drawMoves draws the control's movement in ochre, on a hem of the ground's
// colour so that it is seen on dense ink as well.
func (g *spectrogram) drawMoves(w, h int) {
	if g.over.module == "" || g.gram.Len() == 0 {
		return
	}
	_, newest := g.gram.Frame(0)
	hop := float64(g.gram.Settings().Hop)
	for _, pass := range [2]struct {
		ink   [4]uint8
		thick int
	}{{rgba(look.Now().Ground.R, look.Now().Ground.G, look.Now().Ground.B), 2}, {rgba(look.Now().Modulation.R, look.Now().Modulation.G, look.Now().Modulation.B), 1}} {
		lastX, lastY := math.NaN(), 0.0
		for i := max(g.moved-movesKept, 0); i < g.moved; i++ {
			m := &g.moves[i%movesKept]
			x := float64(w-1) - float64(newest-m.clock)/hop
			y := (1 - min(max(g.onScale(m.value), 0), 1)) * float64(h-1)
			if x >= float64(w) {
				break
			}
			if x >= 0 && !math.IsNaN(lastX) && lastX >= 0 {
				g.stroke(lastX, lastY, x, y, pass.thick, pass.ink)
			}
			lastX, lastY = x, y
		}
	}
}

func rgba(r, g, b uint8) [4]uint8 { return [4]uint8{r, g, b, 255} }

// stroke draws a line of that many pixels to either side of its middle.
func (g *spectrogram) stroke(x0, y0, x1, y1 float64, thick int, ink [4]uint8) {
	n := int(max(math.Abs(x1-x0), math.Abs(y1-y0))) + 1
	bounds := g.image.Bounds()
	for k := range n + 1 {
		part := float64(k) / float64(n)
		x, y := int(x0+(x1-x0)*part), int(y0+(y1-y0)*part)
		for dy := -thick + 1; dy <= thick; dy++ {
			for dx := -thick + 1; dx <= thick; dx++ {
				if (image.Point{X: x + dx, Y: y + dy}).In(bounds) {
					copy(g.image.Pix[g.image.PixOffset(x+dx, y+dy):], ink[:])
				}
			}
		}
	}
}
