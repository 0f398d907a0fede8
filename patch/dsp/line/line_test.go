package line

import (
	"math"
	"testing"
)

func sine(f float64) func(n float64) float64 {
	return func(n float64) float64 { return math.Sin(2 * math.Pi * f * n) }
}

func TestWholePlacesAreCopied(t *testing.T) {
	l, h := New(1000), Head{}
	for n := range 5000 {
		l.Put(float64(n))
		if n < 1000 {
			continue
		}
		for _, d := range []int{0, 1, 7, 15, 16, 17, 500, 1000} {
			h.Jump(float64(d))
			if got := h.Read(&l); got != float64(n-d) {
				t.Fatalf("%d samples before sample %d lies %g", d, n, got)
			}
		}
	}
}

// Band-limited interpolation theory: a sine is known between its samples.
func TestSinesAreReadBetweenTheirSamples(t *testing.T) {
	for _, c := range []struct {
		from, to, f, most float64 // places; of the rate; error in dB
	}{
		{15, 300, 0.01, -96}, {15, 300, 0.1, -96}, {15, 300, 0.3, -96}, {15, 300, 0.375, -96}, {15, 300, 0.4, -75},
		{8, 15, 0.3, -80}, {4, 8, 0.2, -70}, {2, 4, 0.1, -50}, {0, 2, 0.02, -30},
	} {
		l, h, s := New(400), Head{}, sine(c.f)
		n := 0
		for ; n < 1000; n++ {
			l.Put(s(float64(n)))
		}
		worst := 0.0
		for d := c.from; d < c.to; d += 0.01237 {
			h.Jump(d)
			worst = max(worst, math.Abs(h.Read(&l)-s(float64(n-1)-d)))
		}
		t.Logf("places %g to %g, %g of the rate: error %.1f dB", c.from, c.to, c.f, 20*math.Log10(worst))
		if db := 20 * math.Log10(worst); db > c.most {
			t.Errorf("places %g to %g, %g of the rate: error %.1f dB; want %g", c.from, c.to, c.f, db, c.most)
		}
	}
}

// What stands is read with kept weights, what moves without: the same bits.
func TestKeptWeightsAreTheSame(t *testing.T) {
	l := New(100)
	for n := range 300 {
		l.Put(sine(0.123)(float64(n)))
	}
	for d := 15.0; d < 90; d += 0.317 {
		var kept, other, both Head
		kept.Jump(d)
		other.Jump(d)
		both.Jump(d)
		a := kept.Read(&l)
		x, y := both.Both(&l, &l)
		if b, c := kept.Read(&l), other.Read(&l); a != b || a != c || a != x || a != y {
			t.Fatalf("place %g gives %g, %g, %g, %g, %g", d, a, b, c, x, y)
		}
	}
}

// Read at speed s, a tone of f becomes one of f s; above half the rate it must
// vanish.
func TestFastReadingFiltersWhatWouldFold(t *testing.T) {
	for _, c := range []struct{ f, gain float64 }{{0.05, 1}, {0.18, 1}, {0.31, 0}, {0.45, 0}} {
		l, h, s := New(9000), Head{}, sine(c.f)
		n := 0
		for ; n < 9000; n++ {
			l.Put(s(float64(n)))
		}
		h.Jump(8000.5)
		worst := 0.0
		for i := range 7500 {
			l.Put(s(float64(n)))
			h.Toward(0, 0.01)
			if y := h.Read(&l); i > 200 && h.Place() > 100 { // at full speed
				worst = max(worst, math.Abs(y-c.gain*s(float64(n)-h.Place())))
			}
			n++
		}
		if db := 20 * math.Log10(worst); db > -80 {
			t.Errorf("%g of the rate at twice the speed: off by %.1f dB from gain %g", c.f, db, c.gain)
		}
	}
}

// A head that can follow does so exactly; one that cannot keeps to its speeds,
// does not jerk, and arrives, passing by no more than a twentieth of a sample.
func TestAHeadFollowsArrivesAndNeverJerks(t *testing.T) {
	const gain = 1.0 / 480
	var h Head
	for n := range 48000 { // 1 ms at 5 Hz
		place := 500 + 48*math.Sin(2*math.Pi*5*float64(n)/48000)
		h.Toward(place, gain)
		if n > 2000 && h.Place() != place {
			t.Fatalf("at sample %d the head stands at %g; want %g", n, h.Place(), place)
		}
	}
	for _, to := range []float64{20000, 500, 500.25, 0, 3, 3000} {
		before, n := h.step, 0
		from := h.Place()
		for h.Place() != to || h.step != 0 {
			h.Toward(to, gain)
			if math.Abs(h.step-before) > gain*1.000001 || h.step > Further || h.step < -Nearer {
				t.Fatalf("to %g: the step goes from %g to %g", to, before, h.step)
			}
			if (h.Place()-to)*(from-to) < -0.05*math.Abs(from-to) {
				t.Fatalf("from %g to %g the head passes by, to %g", from, to, h.Place())
			}
			before = h.step
			if n++; n > 100000 {
				t.Fatalf("to %g: it never arrives", to)
			}
		}
	}
}

// The way from one kind of reading to another makes no step.
func TestReadingHasNoSteps(t *testing.T) {
	l, h := New(200), Head{}
	s := sine(0.05)
	n := 0
	for ; n < 400; n++ {
		l.Put(s(float64(n)))
	}
	before, beforeSlope := 0.0, 0.0
	for i := range 60000 {
		h.Jump(float64(i) * 0.001)
		y := h.Read(&l)
		if i > 1 && math.Abs((y-before)-beforeSlope) > 3e-5 { // 0.1 of a cycle's curve is 1e-7
			t.Fatalf("at place %g the slope jumps by %g", h.Place(), (y-before)-beforeSlope)
		}
		before, beforeSlope = y, y-before
	}
}

func TestSafeKeepsLoopsSane(t *testing.T) {
	for x, want := range map[float64]float64{0.5: 0.5, -299: -299, 1e-16: 0, math.Inf(1): 300, -1e300: -300} {
		clamped := false
		if got := Safe(x, &clamped); got != want || clamped != (math.Abs(x) > 300) {
			t.Errorf("%g becomes %g, limited %v", x, got, clamped)
		}
	}
	clamped := false
	if Safe(math.NaN(), &clamped) != 0 || !clamped {
		t.Error("what is no number passes")
	}
}

// First-order theory: 3.01 dB down at the frequency; at the last mark exactly off.
func TestCutsAreThreeDecibelsDownWhereTheySay(t *testing.T) {
	level := func(hz float64, f func(x float64) float64) float64 {
		re, im := 0.0, 0.0
		for n := range 96000 {
			sin, cos := math.Sincos(2 * math.Pi * hz * float64(n) / 48000)
			y := f(sin)
			if n >= 48000 {
				re += y * sin / 24000
				im += y * cos / 24000
			}
		}
		return 20 * math.Log10(math.Hypot(re, im))
	}
	for _, hz := range []float64{100, 1000, 8000} {
		var a, b Cut
		if db := level(hz, func(x float64) float64 { return a.HighCut(x, hz, 1.0/48000) }); math.Abs(db+3.0103) > 0.001 {
			t.Errorf("a high cut of %g Hz is at %.4f dB there", hz, db)
		}
		if db := level(hz, func(x float64) float64 { return b.LowCut(x, hz, 1.0/48000) }); math.Abs(db+3.0103) > 0.001 {
			t.Errorf("a low cut of %g Hz is at %.4f dB there", hz, db)
		}
	}
	var a, b Cut
	for n := range 1000 {
		x := sine(0.0123)(float64(n))
		if a.HighCut(x, NoHighCut, 1.0/48000) != x || b.LowCut(x, NoLowCut, 1.0/48000) != x {
			t.Fatal("at its last mark a cut is not off")
		}
	}
}

var sink float64

func BenchmarkRead(b *testing.B) {
	l := New(1000)
	for n := range 2000 {
		l.Put(sine(0.123)(float64(n)))
	}
	for name, place := range map[string]func(i int) float64{
		"whole":  func(int) float64 { return 100 },
		"steady": func(int) float64 { return 100.5 },
		"moving": func(i int) float64 { return 100 + float64(i%1000)*0.0317 },
		"near":   func(i int) float64 { return 8 + float64(i%1000)*0.00317 },
		"fast":   func(i int) float64 { return 500 - float64(i%400) },
	} {
		b.Run(name, func(b *testing.B) {
			var h Head
			for i := 0; b.Loop(); i++ {
				if name == "steady" || i%400 == 0 {
					h.Jump(place(i))
				}
				h.Toward(place(i), 2)
				sink += h.Read(&l)
			}
		})
	}
}
