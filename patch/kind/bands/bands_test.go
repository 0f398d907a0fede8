package bands

import (
	"math"
	"math/cmplx"
	"testing"

	"gonum.org/v1/gonum/dsp/fourier"

	"lampblack/patch/dsp/hash"
	"lampblack/patch/kind/rig"
	"lampblack/patch/module"
)

// length is how long an impulse response is watched: the lowest band has died.
const length = 1 << 17

// response returns gains in dB at multiples of rate/length, of one output.
func response(rate float64, rows [][]float64, output string, set func(*rig.Rig)) func(hz float64) float64 {
	r := rig.NewSetup(Kind(), module.Setup{Rate: rate, Rows: rows}).Feed("in", rig.Impulse)
	if set != nil {
		set(r)
	}
	c := fourier.NewFFT(length).Coefficients(nil, r.Out(output, length))
	return func(hz float64) float64 { return rig.DB(cmplx.Abs(c[int(math.Round(hz*length/rate))])) }
}

// only leaves one band on.
func only(k int) [][]float64 {
	rows := start()
	for i := range rows {
		if i != k {
			rows[i][1] = -96
		}
	}
	return rows
}

// mid are the exact mid-bands of IEC 61260-1, as printed to six digits.
var mid = []float64{
	25.1189, 31.6228, 39.8107, 50.1187, 63.0957, 79.4328, 100, 125.893, 158.489, 199.526, 251.189, 316.228, 398.107, 501.187, 630.957, 794.328,
	1000, 1258.93, 1584.89, 1995.26, 2511.89, 3162.28, 3981.07, 5011.87, 6309.57, 7943.28, 10000, 12589.3, 15848.9, 19952.6,
}

func TestBandsLieAtTheExactMidBands(t *testing.T) {
	for k, hz := range mid {
		low, high := edge(first+k), edge(first+k+1)
		if got := math.Sqrt(low * high); math.Abs(got/hz-1) > 5e-6 {
			t.Errorf("band %d lies at %.7g Hz; the standard says %.6g", k, got, hz)
		}
		if nearest(nominal[k]) != k || nearest(hz) != k || nearest(low*1.001) != k || nearest(high*0.999) != k {
			t.Errorf("a row at %g or %g Hz is not that of band %d", nominal[k], hz, k)
		}
	}
	if got := edge(0); math.Abs(got-891.251) > 0.001 { // IEC 61260-1: edges at 10^(+-1/20)
		t.Errorf("the lower edge at 1 kHz is %.3f Hz", got)
	}
}

// butterworth is the gain in dB of a Butterworth band-pass of order 6, w in the
// scale of the bilinear transform, tan(pi f/rate): 1/sqrt(1 + p^6).
func butterworth(rate, low, high, hz float64) float64 {
	if rate < 80000 && low > rate/24 {
		rate *= 2
	}
	tan := func(f float64) float64 { return math.Tan(math.Pi * min(f/rate, 0.4975)) }
	w1, w2, w := tan(low), tan(high), math.Tan(math.Pi*hz/rate)
	p := (w*w - w1*w2) / (w * (w2 - w1) * 1.052)
	return -1.98 - 10*math.Log10(1+math.Pow(p, 6))
}

// The claim is 0.1 dB; the formula itself is met to a thousandth.
func TestEveryBandIsTheButterworthBandPass(t *testing.T) {
	for _, rate := range []float64{44100, 48000, 96000} {
		worst := 0.0
		for k, f := range mid {
			gain := response(rate, only(k), "out", nil)
			for x := 0.25; x <= 4; x *= 1.05 {
				hz := math.Round(f*x*length/rate) * rate / length
				want := butterworth(rate, f*math.Pow(10, -0.05), f*math.Pow(10, 0.05), hz)
				if hz > min(0.43*rate, 20000) || hz < 10 || want < -85 || k == 0 || k == thirds-1 {
					continue // the outer bands have a companion beyond them
				}
				worst = max(worst, math.Abs(gain(hz)-want))
			}
		}
		t.Logf("%g Hz: largest difference from the formula %.4f dB down to -85 dB", rate, worst)
		if worst > 0.01 {
			t.Errorf("%g Hz: a band differs by %.3f dB from the formula; want 0.01", rate, worst)
		}
	}
}

// IEC 61260-1:2014, class 1, third octave: least and most attenuation relative to
// the middle at frequencies 1 + (G^(1/6) - 1)/(G^(1/2) - 1) (G^x - 1), G = 10^0.3.
// The limits are from memory.
func TestBandsStayWithinClass1(t *testing.T) {
	g := math.Pow(10, 0.3)
	for _, c := range []struct{ x, least, most float64 }{
		{0, -0.4, 0.4}, {1. / 8, -0.4, 0.5}, {1. / 4, -0.4, 0.7}, {3. / 8, -0.4, 1.4}, {0.499, -0.4, 5.3}, {0.501, 1.6, 99},
		{1, 16.6, 999}, {2, 40.5, 999}, {3, 60, 999},
	} {
		ratio := 1 + (math.Pow(g, 1./6)-1)/(math.Pow(g, 0.5)-1)*(math.Pow(g, c.x)-1)
		for k, f := range mid[1 : thirds-1] {
			for _, hz := range []float64{f * ratio, f / ratio} {
				if hz > 20000 {
					continue
				}
				a := -1.98 - butterworth(48000, f*math.Pow(10, -0.05), f*math.Pow(10, 0.05), hz)
				if a < c.least || a > c.most {
					t.Errorf("band %g Hz at %.1f Hz: attenuation %.2f dB; class 1 says %g to %g", mid[k+1], hz, a, c.least, c.most)
				}
			}
		}
	}
}

// What the help says about the sum of all bands at 0 dB.
func TestTheSumIsFlat(t *testing.T) {
	for _, c := range []struct{ rate, from, to, low, high float64 }{
		{44100, 25, 16000, -0.3, 0.3}, {48000, 25, 16000, -0.3, 0.3}, {96000, 25, 16000, -0.3, 0.3},
		{44100, 16000, 20000, -0.45, 0.45}, {48000, 16000, 20000, -0.45, 0.45}, {96000, 16000, 20000, -0.45, 0.45},
	} {
		gain := response(c.rate, nil, "out", nil)
		low, high := math.Inf(1), math.Inf(-1)
		for hz := c.from; hz <= c.to; hz += c.rate / length {
			low, high = min(low, gain(hz)), max(high, gain(hz))
		}
		t.Logf("at %5g Hz, from %5g to %5g Hz: %+.2f to %+.2f dB", c.rate, c.from, c.to, low, high)
		if low < c.low || high > c.high {
			t.Errorf("at %g Hz, from %g to %g Hz: %.3f to %.3f dB; want %g to %g", c.rate, c.from, c.to, low, high, c.low, c.high)
		}
	}
}

func TestControlsMoveTheDrawnSpectrum(t *testing.T) {
	peak := func(k int, db float64) [][]float64 { return [][]float64{{nominal[k], db}} }
	flat := response(48000, nil, "out", nil)
	at := func(rows [][]float64, hz float64, set func(*rig.Rig)) float64 {
		return response(48000, rows, "out", set)(hz) - flat(hz)
	}
	for _, c := range []struct {
		name string
		rows [][]float64
		set  func(*rig.Rig)
		hz   float64
		want float64
	}{
		{"a row alone", peak(16, 12), nil, 1000, 12},
		{"and its neighbour's neighbour", peak(16, 12), nil, 1585, 0},
		{"twice the depth", peak(16, 6), func(r *rig.Rig) { r.Set("depth", 200, "%") }, 1000, 12},
		{"the inverse", peak(16, 6), func(r *rig.Rig) { r.Set("depth", -100, "%") }, 1000, -6},
		{"flat", peak(16, 6), func(r *rig.Rig) { r.Set("depth", 0, "%") }, 1000, 0},
		{"ten thirds up", peak(16, 12), func(r *rig.Rig) { r.Set("shift", 10/perOctave, "oct") }, 10000, 12},
		{"ten thirds down", peak(16, 12), func(r *rig.Rig) { r.Set("shift", -10/perOctave, "oct") }, 100, 12},
		{"a tilt", nil, func(r *rig.Rig) { r.Set("tilt", -3, "dB") }, 7943, -8.97},
		{"an octave", nil, func(r *rig.Rig) { r.Set("1 kHz", -12, "dB") }, 1000, -12},
		{"no more than +24 dB", peak(16, 24), func(r *rig.Rig) { r.Set("depth", 200, "%") }, 1000, 24},
	} {
		// A neighbour that is much louder or softer leaks in, 20 dB down.
		if got := at(c.rows, c.hz, c.set); math.Abs(got-c.want) > 1.8 {
			t.Errorf("%s: %.2f dB at %g Hz; want %g", c.name, got, c.hz, c.want)
		}
	}
}

// A jump of any control, smoothed by the engine over 5 ms, adds no line over -60
// dB re full scale above 4 kHz to a tone of 440 Hz.
func TestJumpsDoNotClick(t *testing.T) {
	for name, span := range map[string]struct {
		unit     string
		from, to float64
	}{
		"shift": {"oct", 0, 1}, "depth": {"%", 100, -100}, "tilt": {"dB", 0, 6}, "500 Hz": {"dB", 0, -96},
	} {
		r := rig.NewSetup(Kind(), module.Setup{Rate: 48000, Rows: [][]float64{{400, -24}, {500, 6}, {315, 12}}})
		r.Feed("in", func(n int) float64 { return 0.5 * math.Sin(2*math.Pi*440*float64(n)/48000) })
		to, from := rig.Arrives(span.to, span.unit), rig.Arrives(span.from, span.unit)
		r.MoveRaw(name, span.unit, func(n int) float64 {
			return to + (from-to)*math.Exp(-float64(max(n-48000, 0))/240)
		})
		x := r.Out("out", 96000)[40000:]
		for i := range x {
			w := math.Sin(math.Pi * (float64(i) + 0.5) / float64(len(x)))
			x[i] *= w * w * w * w
		}
		worst := 0.0
		for k, a := range rig.Lines(x) {
			if float64(k)*48000/float64(len(x)) > 4000 {
				worst = max(worst, a)
			}
		}
		t.Logf("%s: loudest line above 4 kHz %.1f dB", name, rig.DB(worst))
		if rig.DB(worst) > -60 {
			t.Errorf("a jump of %s clicks at %.1f dB", name, rig.DB(worst))
		}
	}
}

func TestOddAndEvenAddUpAndTailsEnd(t *testing.T) {
	r := rig.New(Kind()).Feed("in", rig.Impulse)
	out := r.Run(6 * 48000)
	for i, y := range out[0] {
		if y != out[1][i]+out[2][i] {
			t.Fatalf("sample %d: %g is not %g and %g", i, y, out[1][i], out[2][i])
		}
	}
	if y := out[0][len(out[0])-1]; y != 0 {
		t.Errorf("after six seconds there is still %g", y)
	}
}

func TestBadInputIsForgottenAndSaid(t *testing.T) {
	for _, bad := range []float64{math.NaN(), math.Inf(1), 1e300} {
		r := rig.New(Kind()).Feed("in", func(n int) float64 {
			if n == 100 {
				return bad
			}
			return math.Sin(float64(n) / 10)
		})
		y := r.Out("out", 96000)
		if end := rig.RMS(y[90000:]); !(end > 0.5 && end < 1) || !r.Clamped {
			t.Errorf("after %g the output's rms is %g, clamped %v", bad, end, r.Clamped)
		}
	}
}

func BenchmarkBands(b *testing.B) {
	noise := func(n int) float64 { return hash.Signed(1, uint64(n)) }
	b.Run("steady", rig.New(Kind()).Feed("in", noise).Bench)
	b.Run("an octave moves", rig.New(Kind()).Feed("in", noise).Move("1 kHz", "dB", func(n int) float64 { return float64(n%100) / 100 }).Bench)
	b.Run("shift moves", rig.New(Kind()).Feed("in", noise).Move("shift", "oct", func(n int) float64 { return float64(n%100) / 100 }).Bench)
}
