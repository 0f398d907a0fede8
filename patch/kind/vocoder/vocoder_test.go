package vocoder

import (
	"math"
	"slices"
	"testing"

	"lampblack/patch/dsp/hash"
	"lampblack/patch/kind/rig"
)

// With every band open the bands' sum is level: the aim is 0.1 dB. It holds for
// any number of bands, spacing, edges and shift, from end to end.
func TestAllBandsTogetherAreLevel(t *testing.T) {
	const n = 1 << 17
	worst := 0.0
	for _, c := range []struct{ bands, spacing, lowest, highest, shift float64 }{
		{8, 0, 100, 8000, 0}, {16, 0, 100, 8000, 0}, {16, 1, 100, 8000, 0}, {20, 1, 80, 12000, 0},
		{32, 0, 40, 16000, 0}, {32, 1, 1000, 1500, 0}, {16, 0, 100, 8000, 2}, {16, 0, 100, 8000, -2},
	} {
		x := rig.New(Kind()).Set("bands", c.bands, "").Set("spacing", c.spacing, "").Set("lowest", c.lowest, "Hz").
			Set("highest", c.highest, "Hz").Set("shift", c.shift, "oct").Set("depth", 0, "%").Set("level", 0, "dB").
			Feed("carrier", rig.Impulse).Out("out", n)
		least, most := math.Inf(1), math.Inf(-1)
		for k, a := range rig.Lines(x) {
			if hz := float64(k) * 48000 / n; hz >= 20 && hz <= 20000 {
				db := rig.DB(a * n / 2)
				least, most = min(least, db), max(most, db)
			}
		}
		t.Logf("%2.0f bands, %g to %g Hz, shift %+g oct: %+.6f to %+.6f dB, 20 Hz to 20 kHz", c.bands, c.lowest, c.highest, c.shift, least, most)
		worst = max(worst, most, -least)
	}
	if !(worst <= 0.1) {
		t.Errorf("the sum is off by %.3f dB; want 0.1 at most", worst)
	}
}

// response is the gain in dB at hz of an impulse response at 48 kHz.
func response(h []float64, hz float64) float64 {
	var re, im float64
	for i, y := range h {
		sin, cos := math.Sincos(2 * math.Pi * hz * float64(i) / 48000)
		re, im = re+y*cos, im+y*sin
	}
	return rig.DB(math.Hypot(re, im))
}

// Butterworth, Wireless Engineer 7, 1930: order 5 is 3.0103 dB down at its
// corner and 10 log10(1 + x^10) at x times it, with the frequencies of the
// bilinear transform, tan(pi f/rate).
func TestASplitIsAButterworthFilterOfOrder5(t *testing.T) {
	s := split{corner: newCorner(math.Tan(math.Pi * 1000 / 48000))}
	high, low, ones := make([]float64, 9600), make([]float64, 9600), make([]float64, 9600)
	high[0] = 1
	for i := range ones {
		ones[i] = 1
	}
	s.run(high, low, ones)
	for _, hz := range []float64{250, 500, 900, 1000, 1100, 2000, 4000} {
		x := math.Tan(math.Pi*hz/48000) / math.Tan(math.Pi*1000/48000)
		if got, want := response(low, hz), -10*math.Log10(1+math.Pow(x, 10)); math.Abs(got-want) > 1e-6 {
			t.Errorf("low side at %g Hz: %.4f dB; the formula gives %.4f", hz, got, want)
		}
		if got, want := response(high, hz), -10*math.Log10(1+math.Pow(x, -10)); math.Abs(got-want) > 1e-6 {
			t.Errorf("high side at %g Hz: %.4f dB; the formula gives %.4f", hz, got, want)
		}
	}
}

// reading is the level of band k of 16 for a sine of amplitude 1, after a second.
func reading(s *sound, k int, hz float64) float64 {
	x, env, step, keep := make([]float64, 48000), make([]float64, 48000), make([]float64, 48000), make([]float64, 48000)
	for i := range x {
		x[i], step[i] = rig.Sine(hz)(i), 1.0/4800
	}
	a := s.analysers[k]
	a.run(x, env, step, keep)
	return env[47999]
}

// A Butterworth band-pass of order 4 is 10 log10(1 + ((x - 1/x)/w)^4) down at x
// times its middle, and so 3.0103 dB at its edges, with the frequencies of the
// bilinear transform. A rectified tone ripples a little in the mean.
func TestTheVoicesBandsAreButterworthBandPasses(t *testing.T) {
	r := rig.New(Kind())
	r.Run(64)
	s := r.Sound.(*sound)
	g := func(hz float64) float64 { return math.Tan(math.Pi * hz / 48000) }
	edges := s.tuned.edges()
	for k := range 16 {
		below, above := edges.at(k), edges.at(k+1)
		if ratio := above / below; math.Abs(ratio-math.Pow(80, 1.0/16)) > 1e-12 {
			t.Errorf("band %d: its edges are %.6f apart", k, ratio)
		}
		middle := math.Sqrt(g(below) * g(above))
		w := (g(above) - g(below)) / middle
		for _, hz := range []float64{below, math.Atan(middle) * 48000 / math.Pi, above, below / 2, above * 1.5} {
			hz *= 1.0013 // a tone whose cycle is a whole number of samples has another mean
			x := g(hz) / middle
			want := -10 * math.Log10(1+math.Pow((x-1/x)/w, 4))
			if got := rig.DB(reading(s, k, hz)); math.Abs(got-want) > 0.05 {
				t.Errorf("band %d, %.0f Hz: %.3f dB; the formula gives %.3f", k, hz, got, want)
			}
		}
	}
}

// Glasberg and Moore's number of critical bands goes from 3.370 at 100 Hz to
// 33.295 at 8 kHz, in even steps.
func TestBandsCanBeEvenToTheEar(t *testing.T) {
	r := rig.New(Kind()).Choose("spacing", "ear")
	r.Run(64)
	s := r.Sound.(*sound)
	edges := s.tuned.edges()
	for k := range 17 {
		want := 3.370 + (33.295-3.370)*float64(k)/16
		if got := 21.4 * math.Log10(4.37*edges.at(k)/1000+1); math.Abs(got-want) > 0.001 {
			t.Errorf("edge %d is at number %.4f; want %.4f", k, got, want)
		}
	}
}

// A tone as the voice lets the carrier through around its own frequency, and
// around the shifted one.
func TestTheCarrierSpeaksWhereTheVoiceDoes(t *testing.T) {
	const n = 1 << 16
	for _, shift := range []float64{-1, 0, 1} {
		r := rig.New(Kind()).Set("shift", shift, "oct").Feed("voice", rig.Sine(1000))
		r.Run(48000)
		lines := rig.Lines(r.Out("out", n))
		power := func(from, to float64) float64 {
			sum := 0.0
			for k := int(from / 48000 * n); k < int(to/48000*n); k++ {
				sum += lines[k] * lines[k]
			}
			return sum
		}
		centre := 1000 * math.Exp2(shift)
		in := power(centre/2, centre*2)
		out := power(20, 20000) - in
		t.Logf("shift %+g: %.1f dB of the rest", shift, 10*math.Log10(in/out))
		if in < 30*out { // the skirts of both banks over the band's own width: about 18 dB
			t.Errorf("shift %+g oct: the band at %.0f Hz is only %.1f dB over the rest", shift, centre, 10*math.Log10(in/out))
		}
	}
}

// First-order theory: a level rises 63.2 % in one attack and falls 8.686 dB in
// one release. The voice is a tone at the top, whose band is quick.
func TestLevelsRiseAndFallWithTheirTimes(t *testing.T) {
	out := rig.New(Kind()).Set("bands", 8, "").Set("width", 400, "%").Set("attack", 0.05, "s").Set("release", 0.2, "s").Set("level", 0, "dB").
		Set("sibilance", -96, "dB").Feed("carrier", rig.Sine(6000)).Feed("voice", func(n int) float64 {
		if n < 48000 {
			return rig.Sine(6000)(n)
		}
		return 0
	}).Out("out", 72000)
	peak := func(at int) float64 { return slices.Max(out[at-8 : at+8]) }
	full := peak(47990)
	if got := peak(2400) / full; math.Abs(got-0.632) > 0.01 {
		t.Errorf("after one attack: %.4f of the level; want 0.632", got)
	}
	if got := rig.DB(peak(48000+14400) / peak(48000+4800)); math.Abs(got+8.686) > 0.05 {
		t.Errorf("one release is %.3f dB; want -8.686", got)
	}
}

func TestHoldKeepsTheVowel(t *testing.T) {
	run := func(hold float64) float64 {
		x := rig.New(Kind()).Feed("voice", func(n int) float64 {
			if n < 24000 {
				return 0.5 * rig.Sine(700)(n)
			}
			return 0
		}).Feed("hold", func(n int) float64 {
			if n > 23000 {
				return hold
			}
			return 0
		}).Out("out", 96000)
		return rig.DB(rig.RMS(x[72000:]) / rig.RMS(x[12000:23000]))
	}
	if db := run(1); math.Abs(db) > 1 {
		t.Errorf("held, the sound is %+.1f dB off a second later", db)
	}
	if db := run(0); db > -60 {
		t.Errorf("not held, the sound is only %.1f dB down a second later", db)
	}
}

// Pulses through formants have their power low, noise above 4 kHz has it high.
func TestHissOpensForHissAlone(t *testing.T) {
	var y1, y2 float64
	vowel := func(n int) float64 { // pulses of 120 Hz through a resonance at 600 Hz
		x := 0.0
		if n%400 == 0 {
			x = 1
		}
		y := x + 1.98*math.Cos(2*math.Pi*600/48000)*y1 - 0.9801*y2
		y1, y2 = y, y1
		return 0.3 * y
	}
	before := 0.0
	s := func(n int) float64 { // noise, 6 dB an octave upwards
		x := hash.Signed(3, uint64(n))
		y := x - before
		before = x
		return 0.2 * y
	}
	out := rig.New(Kind()).Feed("voice", func(n int) float64 {
		if n/12000%2 == 0 {
			return vowel(n)
		}
		return s(n)
	}).Out("hiss", 96000)
	for k := 2; k < 8; k++ {
		half := out[k*12000+2400 : (k+1)*12000]
		if k%2 == 0 && slices.Max(half) > 0.02 || k%2 == 1 && slices.Min(half) < 0.9 {
			t.Errorf("part %d: open between %.2f and %.2f", k, slices.Min(half), slices.Max(half))
		}
	}
}

func TestBandsMayChangeInNumberWhileItSounds(t *testing.T) {
	x := rig.New(Kind()).Set("depth", 0, "%").Set("level", 0, "dB").Feed("carrier", rig.Sine(440)).
		Move("bands", "", func(n int) float64 { return 8 + float64(n/4800*7%25) }).Out("out", 96000)
	for i := 9600; i+4800 <= len(x); i += 4800 {
		if a := rig.RMS(x[i+2400:i+4800]) * math.Sqrt2; math.Abs(a-1) > 0.01 {
			t.Errorf("between %d and %d the amplitude is %.3f; want 1", i+2400, i+4800, a)
		}
		if top := slices.Max(x[i : i+4800]); top > 3 {
			t.Errorf("between %d and %d it jumps to %.2f", i, i+4800, top)
		}
	}
}

func TestItEndsInExactSilence(t *testing.T) {
	short := func(n int) float64 {
		if n < 4800 {
			return hash.Signed(1, uint64(n))
		}
		return 0
	}
	for o, out := range rig.New(Kind()).Feed("voice", short).Feed("carrier", short).Run(5 * 48000) {
		if y := out[len(out)-1]; y != 0 {
			t.Errorf("output %d is still %g", o, y)
		}
	}
}

func BenchmarkVocoder(b *testing.B) {
	bench := func(n float64) *rig.Rig {
		return rig.New(Kind()).Set("bands", n, "").Feed("voice", rig.Sine(333)).Feed("carrier", rig.Sine(777))
	}
	b.Run("16 bands", bench(16).Bench)
	b.Run("32 bands", bench(32).Bench)
	b.Run("16 bands moving", bench(16).Move("shift", "oct", func(n int) float64 { return float64(n%1000) / 1000 }).Bench)
}
