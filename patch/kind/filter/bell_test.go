package filter

import (
	"math"
	"testing"

	"lampblack/patch/kind/rig"
	"lampblack/patch/module"
)

// peakingEQ is the gain in dB of the cookbook's peaking filter, from its
// formulas. Source: Audio EQ Cookbook, W3C Note, 8 June 2021.
func peakingEQ(rate, cutoff, q, boost, hz float64) float64 {
	w0, w := 2*math.Pi*cutoff/rate, 2*math.Pi*hz/rate
	alpha, a := math.Sin(w0)/(2*q), math.Pow(10, boost/40)
	size := func(c0, c1, c2 float64) float64 {
		return math.Hypot(c0+c1*math.Cos(w)+c2*math.Cos(2*w), c1*math.Sin(w)+c2*math.Sin(2*w))
	}
	return rig.DB(size(1+alpha*a, -2*math.Cos(w0), 1-alpha*a) / size(1+alpha/a, -2*math.Cos(w0), 1-alpha/a))
}

func TestBellIsThePeakingFilterOfTheCookbook(t *testing.T) {
	worst := 0.0
	for _, rate := range []float64{44100, 48000, 96000} {
		for _, cutoff := range []float64{100, 1000, 8000, 18000} {
			for _, q := range []float64{0.4, 30} {
				for _, boost := range []float64{-24, 0.1, 12} {
					r := rig.NewSetup(Kind(), module.Setup{Rate: rate}).Feed("in", rig.Impulse)
					r.Set("cutoff", cutoff, "Hz").Set("width", q, "Q").Set("boost", boost, "dB")
					n := int(4 * rate)
					lines := rig.Lines(r.Out("bell", n))
					for i := range 20 {
						hz := math.Round(4*20*math.Pow(21000.0/20, float64(i)/19)) / 4
						got, want := rig.DB(lines[int(hz*4)]*float64(n)/2), peakingEQ(rate, cutoff, q, boost, hz)
						worst = max(worst, math.Abs(got-want))
						if math.Abs(got-want) > 0.002 {
							t.Errorf("rate %g, cutoff %g Hz, Q %g, boost %g dB, at %g Hz: %.4f dB; the formula says %.4f", rate, cutoff, q, boost, hz, got, want)
						}
					}
				}
			}
		}
	}
	t.Logf("largest difference to the cookbook %.5f dB", worst)
}

func TestABellUndoesItsOpposite(t *testing.T) {
	r := rig.New(Kind()).Feed("in", rig.Impulse).Set("width", 1, "oct").Set("boost", 9, "dB")
	raised := r.Out("bell", 24000)
	r = rig.New(Kind()).Set("width", 1, "oct").Set("boost", -9, "dB")
	r.Feed("in", func(n int) float64 { return raised[n] })
	for n, y := range r.Out("bell", 24000) {
		if math.Abs(y-rig.Impulse(n)) > 1e-9 {
			t.Fatalf("sample %d of +9 dB and -9 dB in a row is %g; the impulse is %g", n, y, rig.Impulse(n))
		}
	}
}

// Half of a bell's decibels are left at the two frequencies that its width says
// (cookbook: "the bandwidth ... between midpoint gain frequencies").
func TestABellIsAsWideAsItSays(t *testing.T) {
	for _, boost := range []float64{-12, 18} {
		for _, c := range []struct {
			width float64
			unit  string
		}{{200, "Hz"}, {1, "oct"}} {
			set := func(r *rig.Rig) { r.Set("width", c.width, c.unit).Set("boost", boost, "dB") }
			low := bisect(1, 1000, func(hz float64) bool { return math.Abs(response("bell", []float64{hz}, set)[0]) > math.Abs(boost)/2 })
			high := bisect(1000, 20000, func(hz float64) bool { return math.Abs(response("bell", []float64{hz}, set)[0]) < math.Abs(boost)/2 })
			got := high - low
			if c.unit == "oct" {
				got = math.Log2(high / low)
			}
			if math.Abs(got/c.width-1) > 1e-5 {
				t.Errorf("a bell of %g dB, %g %s wide, has half of it left %g %s apart", boost, c.width, c.unit, got, c.unit)
			}
		}
	}
}

func bisect(lo, hi float64, reached func(float64) bool) float64 {
	for range 45 {
		if m := (lo + hi) / 2; reached(m) {
			hi = m
		} else {
			lo = m
		}
	}
	return lo
}

// The width of a digital band in octaves is exact, where the cookbook's own
// formula (1/Q = 2 sinh(ln 2/2 BW w0/sin w0)) is 1 % off at 8 kHz.
func TestWidthInOctavesIsTheDistanceOfTheEdges(t *testing.T) {
	worst := 0.0
	for _, cutoff := range []float64{200, 1000, 8000, 18000} {
		for _, width := range []float64{0.1, 1. / 3, 1, 4, 6} {
			set := func(r *rig.Rig) { r.Set("cutoff", cutoff, "Hz").Set("width", width, "oct") }
			h := impulse("band", 48000, set)
			gain := func(hz float64) float64 {
				var re, im float64
				for i, y := range h {
					sin, cos := math.Sincos(2 * math.Pi * hz / 48000 * float64(i))
					re += y * cos
					im += y * sin
				}
				return re*re + im*im
			}
			low := bisect(0.001, cutoff, func(hz float64) bool { return gain(hz) > 0.5 })
			high := bisect(cutoff, 24000, func(hz float64) bool { return gain(hz) < 0.5 })
			off := math.Abs(math.Log2(high/low)/width - 1)
			worst = max(worst, off)
			if off > 2e-6 {
				t.Errorf("%g oct wide at %g Hz: edges at %.3f and %.3f Hz, %.6f oct apart", width, cutoff, low, high, math.Log2(high/low))
			}
		}
	}
	t.Logf("largest error of a width in octaves %.2g of it", worst)
}
