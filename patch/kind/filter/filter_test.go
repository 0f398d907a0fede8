package filter

import (
	"math"
	"testing"

	"lampblack/patch/dsp/hash"
	"lampblack/patch/kind/rig"
	"lampblack/patch/module"
)

// response returns the gain in dB at hz of an output, from the impulse response.
func response(output string, hz []float64, set func(*rig.Rig)) []float64 {
	h := impulse(output, 48000, set)
	out := make([]float64, len(hz))
	for k, f := range hz {
		var re, im float64
		for i, y := range h {
			sin, cos := math.Sincos(2 * math.Pi * f * float64(i) / 48000)
			re += y * cos
			im -= y * sin
		}
		out[k] = rig.DB(math.Hypot(re, im))
	}
	return out
}

func impulse(output string, n int, set func(*rig.Rig)) []float64 {
	r := rig.New(Kind()).Feed("in", rig.Impulse)
	set(r)
	return r.Out(output, n)
}

// Sources: Butterworth, Wireless Engineer 7 (1930) for -3.01 dB; Audio EQ
// Cookbook, W3C Note, 8 June 2021, whose filters at 48 kHz have these
// magnitudes.
func TestMagnitudesAreThoseOfTheCookbook(t *testing.T) {
	for _, c := range []struct {
		name, output string
		cutoff, q    float64
		hz, dB       []float64
	}{
		{"Butterworth low-pass", "low", 1000, math.Sqrt2 / 2, []float64{100, 500, 1000, 2000, 10000}, []float64{-.0004, -.2622, -3.0103, -12.3749, -42.7383}},
		{"low-pass of Q 5", "low", 1000, 5, []float64{100, 500, 1000, 2000, 10000}, []float64{.0853, 2.4163, 13.9794, -9.7175, -42.6757}},
		{"band-pass of Q 10", "band", 440, 10, []float64{110, 220, 440, 880, 5000}, []float64{-31.4863, -23.5441, 0, -23.5530, -41.3635}},
		{"its edges", "band", 440, 10, []float64{418.56, 462.54}, []float64{-3.01, -3.01}},
		{"band-pass of Q 20", "band", 1000, 20, []float64{100, 500, 1000, 2000, 10000}, []float64{-45.946, -29.563, 0, -29.609, -47.326}},
	} {
		got := response(c.output, c.hz, func(r *rig.Rig) { r.Set("cutoff", c.cutoff, "Hz").Set("width", c.q, "Q") })
		for i, want := range c.dB {
			if math.Abs(got[i]-want) > 0.002 {
				t.Errorf("%s at %g Hz: %.4f dB; the cookbook says %.4f", c.name, c.hz[i], got[i], want)
			}
		}
	}
}

// cookbook returns the gain in dB of the cookbook's filter, from its formulas.
func cookbook(output string, rate, cutoff, q, hz float64) float64 {
	w0, w := 2*math.Pi*cutoff/rate, 2*math.Pi*hz/rate
	alpha, cos := math.Sin(w0)/(2*q), math.Cos(w0)
	b := map[string][3]float64{
		"low":   {(1 - cos) / 2, 1 - cos, (1 - cos) / 2},
		"high":  {(1 + cos) / 2, -1 - cos, (1 + cos) / 2},
		"band":  {alpha, 0, -alpha},
		"notch": {1, -2 * cos, 1},
	}[output]
	size := func(c0, c1, c2 float64) float64 {
		return math.Hypot(c0+c1*math.Cos(w)+c2*math.Cos(2*w), c1*math.Sin(w)+c2*math.Sin(2*w))
	}
	return rig.DB(size(b[0], b[1], b[2]) / size(1+alpha, -2*cos, 1-alpha))
}

func TestAllOutputsFollowTheCookbookEverywhere(t *testing.T) {
	hz := []float64{20, 50, 100, 200, 500, 900, 1100, 2000, 5000, 7900, 8100, 12000, 16000, 20000, 23000}
	for _, output := range []string{"low", "band", "high", "notch"} {
		for _, cutoff := range []float64{100, 1000, 8000, 18000} {
			for _, q := range []float64{0.3, 0.7071, 3, 30} {
				const n = 4 * 48000 // lines 0.25 Hz apart; the longest ring is over by then
				lines := rig.Lines(impulse(output, n, func(r *rig.Rig) { r.Set("cutoff", cutoff, "Hz").Set("width", q, "Q") }))
				for _, f := range hz {
					got, want := rig.DB(lines[int(f*4)]*n/2), cookbook(output, 48000, cutoff, q, f)
					if math.Abs(got-want) > 0.001 && want > -150 {
						t.Errorf("%s, cutoff %g Hz, Q %g, at %g Hz: %.4f dB; the formula says %.4f", output, cutoff, q, f, got, want)
					}
				}
			}
		}
	}
}

// A two-pole band-pass is 3.01 dB down at two frequencies whose product is the
// square of the cutoff (in the bilinear transform's scale) and whose distance
// is the width.
func TestWidthInHzIsTheDistanceOfTheEdges(t *testing.T) {
	const half = -3.0103
	for _, c := range []struct{ cutoff, width float64 }{{440, 44}, {1000, 50}, {1000, 1000}, {8000, 4000}, {15000, 500}, {2100, 45}} {
		set := func(r *rig.Rig) { r.Set("cutoff", c.cutoff, "Hz").Set("width", c.width, "Hz") }
		find := func(lo, hi float64) float64 { // gain rises from lo to hi
			for range 40 {
				m := (lo + hi) / 2
				if response("band", []float64{m}, set)[0] < half {
					lo = m
				} else {
					hi = m
				}
			}
			return lo
		}
		low, high := find(1, c.cutoff), find(23999, c.cutoff)
		if math.Abs(high-low-c.width) > 0.002*c.width {
			t.Errorf("%g Hz wide at %g Hz: edges at %.2f and %.2f Hz, %.2f Hz apart", c.width, c.cutoff, low, high, high-low)
		}
		if db := response("band", []float64{c.cutoff}, set)[0]; math.Abs(db) > 0.001 {
			t.Errorf("%g Hz wide at %g Hz: centre at %.4f dB; want 0", c.width, c.cutoff, db)
		}
	}
}

func TestPeakIsTheGainAtTheCentreOfBandAlone(t *testing.T) {
	at := []float64{1000}
	for _, peak := range []float64{-24, -6, 12, 24} {
		set := func(r *rig.Rig) { r.Set("width", 10, "Q").Set("peak", peak, "dB") }
		if db := response("band", at, set)[0]; math.Abs(db-peak) > 0.001 {
			t.Errorf("peak %g dB: band has %.3f dB at its centre", peak, db)
		}
		for output, want := range map[string]float64{"low": 20, "high": 20} {
			if db := response(output, at, set)[0]; math.Abs(db-want) > 0.001 {
				t.Errorf("peak %g dB: %s has %.3f dB at the cutoff; want Q, 20 dB", peak, output, db)
			}
		}
	}
}

// A struck band of width w rings with a time constant of 1/(pi w): first-order
// theory, tau = Q/(pi f0).
func TestBandRingsAsLongAsItIsNarrow(t *testing.T) {
	r := rig.New(Kind()).Feed("in", rig.Impulse).Set("cutoff", 440, "Hz").Set("width", 44, "Hz")
	y := r.Out("band", 4800)
	energy := func(from int) float64 { return rig.RMS(y[from : from+1091]) } // ten cycles
	span := 2000.0 / 48000
	tau := -span / math.Log(energy(2400)/energy(400))
	if math.Abs(tau-1/(math.Pi*44)) > 0.0001 {
		t.Errorf("44 Hz wide at 440 Hz rings with %.3f ms; theory says 7.234", tau*1000)
	}
}

// A bad sample from elsewhere must not silence the filter for ever.
func TestBadInputIsForgottenAndSaid(t *testing.T) {
	for _, bad := range []float64{math.NaN(), math.Inf(1), 1e300} {
		r := rig.New(Kind()).Feed("in", func(n int) float64 {
			if n == 100 {
				return bad
			}
			return math.Sin(float64(n) / 10)
		})
		y := r.Out("low", 48000)
		if end := rig.RMS(y[40000:]); !(end > 0.1 && end < 2) || !r.Clamped {
			t.Errorf("after %g the output's rms is %g, clamped %v", bad, end, r.Clamped)
		}
	}
}

func TestCutoffPastTheRateIsHeldAndSaid(t *testing.T) {
	r := rig.NewSetup(Kind(), module.Setup{Rate: 8000}).Set("cutoff", 20000, "Hz")
	if r.Run(64); !r.Clamped {
		t.Error("20 kHz at a rate of 8 kHz was not marked as clamped")
	}
	r.Clamped = false
	if r.Run(64); !r.Clamped {
		t.Error("it was marked once only; whoever clears the mark must see it again")
	}
	if r := rig.New(Kind()).Set("cutoff", 20000, "Hz"); len(r.Run(64)) > 0 && r.Clamped {
		t.Error("20 kHz at a rate of 48 kHz was marked as clamped")
	}
}

func BenchmarkFilter(b *testing.B) {
	noise := func(n int) float64 { return hash.Signed(1, uint64(n)) }
	sway := func(n int) float64 { return 1000 * math.Exp2(math.Sin(float64(n)/3000)) }
	swept := func() *rig.Rig { return rig.New(Kind()).Feed("in", noise).Move("cutoff", "Hz", sway) }
	b.Run("steady", rig.New(Kind()).Feed("in", noise).Bench)
	b.Run("steady, with bell", rig.New(Kind()).Feed("in", noise).Set("boost", 6, "dB").Bench)
	b.Run("swept, width in Hz", swept().Bench)
	b.Run("swept, width as Q", swept().Set("width", 5, "Q").Bench)
	b.Run("swept, width in octaves", swept().Set("width", 1, "oct").Bench)
	b.Run("swept, with bell", swept().Set("width", 5, "Q").Set("boost", 6, "dB").Bench)
}
