package scope

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Two sines a quarter of a period apart draw a circle at even speed; the points
// of a single line drawn by a sine are spread as 1/speed: arcsine distribution.
func TestPlaneDrawsEvenlyInTime(t *testing.T) {
	x, y := sine(2000, 0.5, 9700, 0), sine(2000, 0.5, 9700, math.Pi/2)
	points := Plane(make([]Point, 500), x, y, View{100, 400})
	apart := math.Hypot(points[1].X-points[0].X, points[1].Y-points[0].Y)
	for i, p := range points {
		if math.Abs(math.Hypot(p.X, p.Y)-0.5) > 2e-5 {
			t.Fatalf("point %d lies %g from the middle, want 0.5", i, math.Hypot(p.X, p.Y))
		}
		if i > 0 && math.Abs(math.Hypot(p.X-points[i-1].X, p.Y-points[i-1].Y)-apart) > 5e-5 {
			t.Fatalf("points %d and %d are not as far apart as the first two", i-1, i)
		}
	}
	if points[0].X != x[100] || points[499].Y != y[500] {
		t.Errorf("the way leads from %v to %v, not from edge to edge", points[0], points[499])
	}
	if first := Plane(make([]Point, 1), x, y, View{100, 400})[0]; first.X != x[100] {
		t.Errorf("a single point lies at %v", first)
	}
}

// Of a sine's time the part below level v is 1/2 + asin(v)/pi: its distribution.
func TestPersistenceCountsTimeByLevel(t *testing.T) {
	const width, height = 100, 40
	p := NewPersistence(width, height, -1.25, 1.25)
	random := rand.New(rand.NewPCG(31, 32))
	for range 400 {
		p.Add(sine(1200, 1, 1000, 6.2832*random.Float64()), View{100, 960})
	}
	for row := range height {
		count := 0.0
		for c := range width {
			count += p.Count(c, row)
		}
		low, high := -1.25+2.5*float64(row)/height, -1.25+2.5*float64(row+1)/height
		part := func(v float64) float64 { return 0.5 + math.Asin(min(max(v, -1), 1))/math.Pi }
		got, want := count/(400*width), part(high)-part(low)
		if math.Abs(got-want) > 2e-3 {
			t.Errorf("from %.3f to %.3f the sine is %.5f of the time, counted %.5f", low, high, want, got)
		}
	}
}

// No hit is lost or made, in 100,000 columns of traces that leave the picture, and
// decay is in proportion: counts are conserved to 1e-6 (anchors, target 9).
func TestPersistenceConservesCounts(t *testing.T) {
	p, want := NewPersistence(100, 64, -0.5, 0.5), 0.0
	random := rand.New(rand.NewPCG(33, 34))
	signal := make([]float32, 400)
	for range 1000 {
		for i := range signal {
			signal[i] = float32(random.NormFloat64())
		}
		p.Add32(signal, View{50, 250})
		want += 100
		keep := 0.7 + 0.3*random.Float64()
		p.Decay(keep)
		want *= keep
	}
	cells, beside := p.Total()
	if got := cells + beside; math.Abs(got-want) > 1e-6*want || cells <= 0 || beside <= 0 {
		t.Errorf("%.9f hits in cells and %.9f beside make %.9f, want %.9f", cells, beside, cells+beside, want)
	}
	p.Decay(0)
	if cells, beside := p.Total(); cells+beside != 0 {
		t.Errorf("after a decay to nothing there are %g hits", cells+beside)
	}
}

func TestIntensitiesStandUpright(t *testing.T) {
	p := NewPersistence(10, 4, 0, 1)
	high := make([]float64, 100)
	for i := range high {
		high[i] = 0.9
	}
	p.Add(high, View{20, 50})
	p.Add(high, View{20, 50})
	got := p.Intensities(make([]float32, 40), 4)
	if got[0] != 0.5 || got[9] != 0.5 || got[10] != 0 || got[39] != 0 {
		t.Errorf("two hits of four at the top are drawn as %v", got)
	}
	if got := p.Intensities(make([]float32, 40), 1); got[0] != 1 {
		t.Errorf("two hits of one are drawn as %v", got[0])
	}
	p.Add(high, View{-300, 50})
	if cells, _ := p.Total(); math.Abs(cells-20) > 1e-9 {
		t.Errorf("a trace beyond the ends counts: %g hits, want 20", cells)
	}
}

func BenchmarkPersistence(b *testing.B) {
	p, tap := NewPersistence(1000, 400, -1, 1), make([]float32, 48000)
	for i, x := range tone(48000, 997) {
		tap[i] = float32(x)
	}
	dst := make([]float32, 400000)
	for name, v := range map[string]View{"add 10 ms": {100, 480}, "add 200 ms": {100, 9600}} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				p.Add32(tap, v)
				p.Decay(0.9)
			}
		})
	}
	b.Run("intensities", func(b *testing.B) {
		for b.Loop() {
			p.Intensities(dst, 10)
		}
	})
}
