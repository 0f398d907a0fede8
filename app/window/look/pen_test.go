package look

import (
	"image"
	"image/color"
	"math"
	"testing"

	"lampblack/patch"
)

// cover adds up how much of the picture is inked, in pixels.
func cover(i *image.RGBA) (sum float64) {
	for p := 3; p < len(i.Pix); p += 4 {
		sum += float64(i.Pix[p]) / 255
	}
	return sum
}

func TestAStrokeHasTheAreaOfItsLengthTimesItsWidth(t *testing.T) {
	for _, c := range []struct {
		name           string
		x0, y0, x1, y1 float32
		width          float32
	}{
		{"level", 10, 20, 90, 20, 1}, {"upright", 50, 10, 50, 90, 1.2}, {"aslant", 10, 10, 90, 70, 1.2}, {"thick", 20, 80, 80, 20, 6}, {"backwards", 90, 50, 10, 50, 2},
	} {
		to := Canvas(100, 100)
		p := NewPen(to, color.White)
		p.Width = c.width
		p.Move(c.x0, c.y0)
		p.Line(c.x1, c.y1)
		p.Ink()
		want := math.Hypot(float64(c.x1-c.x0), float64(c.y1-c.y0)) * float64(c.width)
		if got := cover(to); math.Abs(got/want-1) > 0.02 {
			t.Errorf("%s: %.1f pixels are inked, the stroke has %.1f", c.name, got, want)
		}
	}
}

func TestACrossedLineHasNoHole(t *testing.T) {
	to := Canvas(60, 60)
	p := NewPen(to, color.White)
	p.Width = 8
	p.Move(10, 10)
	p.Line(50, 50)
	p.Move(50, 10)
	p.Line(10, 50)
	p.Ink()
	if a := to.RGBAAt(30, 30).A; a != 255 {
		t.Errorf("where the lines cross the cover is %d of 255", a)
	}
}

func TestADiscHasItsArea(t *testing.T) {
	to := Canvas(60, 60)
	p := NewPen(to, color.White)
	p.Circle(30, 30, 20)
	p.Fill()
	if got, want := cover(to), math.Pi*400; math.Abs(got/want-1) > 0.01 {
		t.Errorf("a disc of radius 20 covers %.0f pixels, want %.0f", got, want)
	}
}

// rowOf returns the middle of the ink in a column.
func rowOf(i *image.RGBA, x int) float64 {
	sum, at := 0.0, 0.0
	for y := range i.Bounds().Dy() {
		a := float64(i.RGBAAt(x, y).A)
		sum += a
		at += a * (float64(y) + 0.5)
	}
	return at / sum
}

func TestATraceStandsAtItsValues(t *testing.T) {
	const w, h = 200, 101
	for _, n := range []int{50, 200, 5000} {
		samples := make([]float32, n)
		for i := range samples {
			samples[i] = float32(0.8 * math.Sin(2*math.Pi*float64(i)/float64(n-1)))
		}
		to := Canvas(w, h)
		p := NewPen(to, color.White)
		p.Width = 1.2
		p.Trace(samples, -1, 1)
		for x := 5; x < w-5; x += 10 {
			phase := (float64(x) + 0.5) / w
			want := h/2. - 0.8*math.Sin(2*math.Pi*phase)*(h-1.2)/2
			if got := rowOf(to, x); math.Abs(got-want) > 0.8 {
				t.Errorf("%d samples: at %d the trace stands at %.2f, the value at %.2f", n, x, got, want)
			}
		}
	}
}

func TestNoPeakIsLostInManySamples(t *testing.T) {
	samples := make([]float32, 48000)
	samples[24321] = 1
	to := Canvas(100, 50)
	NewPen(to, color.White).Trace(samples, -1, 1)
	if a := to.RGBAAt(50, 1).A; a < 100 {
		t.Errorf("one sample of 48,000 stands out with %d of 255", a)
	}
}

func TestATraceBearsWhatIsNoNumber(t *testing.T) {
	nan, inf := float32(math.NaN()), float32(math.Inf(1))
	for _, samples := range [][]float32{nil, {1}, {nan, nan, nan}, {0, nan, 0, inf, 0}, make([]float32, 1000)} {
		to := Canvas(20, 10)
		NewPen(to, color.White).Trace(samples, -1, 1)
		NewPen(to, color.White).Trace(samples, 1, 1)
		NewPen(to, color.White).Trace(samples, nan, 1)
	}
	many := make([]float32, 1000)
	for i := range many {
		many[i] = nan
	}
	to := Canvas(20, 10)
	NewPen(to, color.White).Trace(many, -1, 1)
	if cover(to) != 0 {
		t.Error("numbers that are none were drawn")
	}
}

func TestEveryKindOfModuleCanHaveItsSymbol(t *testing.T) {
	for _, name := range patch.Symbols() {
		if !HasSymbol(name) {
			t.Errorf("the symbol %q is not drawn", name)
		}
	}
}

func TestEverySymbolIsDrawnAtAnySize(t *testing.T) {
	for name := range symbols {
		for _, side := range []int{8, 24, 100} {
			to := Canvas(side, side)
			DrawSymbol(to, name, color.White, 1)
			if cover(to) < float64(side)/3 {
				t.Errorf("%s is hardly to be seen at %d pixels", name, side)
			}
		}
	}
	if HasSymbol("valve") {
		t.Error("there is a symbol that nobody drew")
	}
}
