package plucked

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/dsp/fourier"
	"gonum.org/v1/gonum/dsp/window"

	"lampblack/patch/dsp/hash"
	"lampblack/patch/kind/rig"
	"lampblack/patch/module"
)

// ring returns frequency and T60 of the partial near hz from how far its phase
// and level go between the halves of x, through the square of Hann's window.
func ring(x []float64, rate, hz float64) (heard, t60 float64) {
	half := len(x) / 2
	l0, p0 := look(x[:half], 0, rate, hz)
	l1, p1 := look(x[half:2*half], half, rate, hz)
	span := float64(half) / rate
	return hz + math.Remainder(p1-p0, 2*math.Pi)/(2*math.Pi)/span, -span * math.Log(1000) / math.Log(l1/l0)
}

func look(x []float64, from int, rate, hz float64) (level, phase float64) {
	var re, im float64
	for i, y := range x {
		w := 0.5 - 0.5*math.Cos(2*math.Pi*(float64(i)+0.5)/float64(len(x)))
		sin, cos := math.Sincos(2 * math.Pi * math.Mod(hz*float64(from+i)/rate, 1))
		re += w * w * y * cos
		im += w * w * y * sin
	}
	return math.Hypot(re, im), math.Atan2(re, im)
}

// Equal temperament (ISO 16) in fifths from 27.5 Hz to 11.8 kHz. The claims: 0.01
// cent and 0.1 % of T60, whatever the damping, at any rate.
func TestTheFundamentalIsInTuneAndLastsAsLongAsWritten(t *testing.T) {
	for _, rate := range []float64{44100, 48000, 96000} {
		for _, damping := range []float64{1, 20, 1000} {
			var cents, decay float64
			for note := 21.0; note < 127; note += 7 {
				hz := 440 * math.Exp2((note-69)/12)
				r := rig.NewSetup(Kind(), module.Setup{Rate: rate, Seed: 1}).Set("frequency", hz, "Hz")
				x := r.Set("damping", damping, "").Out("out", int(2*rate))
				f, d := ring(x[int(rate/2):], rate, hz)
				cents = max(cents, math.Abs(1200*math.Log2(f/hz)))
				decay = max(decay, math.Abs(d/4-1))
			}
			t.Logf("%g Hz, damping %g, 27.5 Hz to 11.2 kHz: off by %.5f cent at most, T60 by %.4f %%", rate, damping, cents, 100*decay)
			if cents > 0.01 || decay > 0.001 {
				t.Errorf("%g Hz, damping %g: off by %.4f cent, T60 by %.3f %%; want 0.01 and 0.1", rate, damping, cents, 100*decay)
			}
		}
	}
}

// A short note is in tune as well: where it dies 60 dB within 22 to 88 rounds,
// the claim is 1 cent and 2 %.
func TestShortNotesAreInTune(t *testing.T) {
	for _, hz := range []float64{110, 220, 440, 1760} {
		for _, damping := range []float64{1, 20} {
			const t60 = 0.2
			r := rig.New(Kind()).Set("frequency", hz, "Hz").Set("decay", t60, "s").Set("damping", damping, "")
			x := r.Out("out", 12000)
			f, d := ring(x[2000:], 48000, hz)
			cents := 1200 * math.Log2(f/hz)
			t.Logf("%g Hz, damping %g, T60 0.2 s: %+.3f cent, T60 %.4f s", hz, damping, cents, d)
			if math.Abs(cents) > 1 || math.Abs(d/t60-1) > 0.02 {
				t.Errorf("%g Hz, damping %g: %+.2f cent, T60 %.3f s; want 0.2 s", hz, damping, cents, d)
			}
		}
	}
}

// Harmonic n is missing where n times the position is whole (Fletcher and
// Rossing, The Physics of Musical Instruments, ch. 2); what goes round is
// 1 - e^(-j 2 pi n position), so the others stand at 2 |sin(pi n position)|.
func TestThePlaceOfThePluckLeavesHarmonicsOut(t *testing.T) {
	for _, c := range []struct {
		percent float64
		null    int
	}{{50, 2}, {20, 5}, {25, 4}, {12.5, 8}} {
		r := rig.New(Kind()).Set("frequency", 240, "Hz").Set("damping", 1, "").Set("position", c.percent, "%")
		x := r.Set("decay", 60, "s").Set("hardness", 20000, "Hz").Out("out", 96000)[48000:]
		level := func(n int) float64 { l, _ := look(x, 0, 48000, 240*float64(n)); return l }
		for n := c.null; n <= 24; n += c.null {
			if db := rig.DB(level(n) / (level(n-1) + level(n+1))); db > -40 {
				t.Errorf("plucked at %g %%: harmonic %d is %.1f dB under its neighbours; it should be missing", c.percent, n, db)
			}
		}
	}
}

// Struck by an impulse from outside, without damping, the harmonics are those of
// the place alone.
func TestTheInputStrikesTheStringAtThePlace(t *testing.T) {
	r := rig.New(Kind()).Feed("trigger", func(int) float64 { return 0 }).Feed("in", rig.Impulse)
	x := r.Set("frequency", 480, "Hz").Set("damping", 1, "").Set("position", 15, "%").Set("decay", 60, "s").Out("out", 96000)[48000:]
	first, _ := look(x, 0, 48000, 480)
	for n := 2; n <= 12; n++ {
		l, _ := look(x, 0, 48000, 480*float64(n))
		want := rig.DB(math.Sin(math.Pi*0.15*float64(n)) / math.Sin(math.Pi*0.15))
		if got := rig.DB(l / first); math.Abs(got-want) > 0.01 {
			t.Errorf("harmonic %d is %.3f dB re the first; the place says %.3f", n, got, want)
		}
	}
}

func TestHardnessColoursAndKeepsThePower(t *testing.T) {
	power, bright := map[float64]float64{}, map[float64]float64{}
	for _, hz := range []float64{1000, 20000} {
		r := rig.New(Kind()).Set("frequency", 20, "Hz").Set("damping", 1, "").Set("hardness", hz, "Hz").Set("decay", 60, "s")
		x := r.Out("out", 24000)
		power[hz] = rig.DB(rig.RMS(x))
		d := make([]float64, len(x)-1)
		for i := range d {
			d[i] = x[i+1] - x[i]
		}
		bright[hz] = rig.DB(rig.RMS(d) / rig.RMS(x))
	}
	if math.Abs(power[1000]-power[20000]) > 1 {
		t.Errorf("hardness 1 kHz has %.2f dB, 20 kHz %.2f; want the same within 1 dB", power[1000], power[20000])
	}
	if math.Abs(power[20000]+7.8) > 1 {
		t.Errorf("a pluck starts at %.2f dB rms; the help says about -8", power[20000])
	}
	if bright[20000]-bright[1000] < 6 {
		t.Errorf("hardness 20 kHz is only %.1f dB brighter than 1 kHz", bright[20000]-bright[1000])
	}
}

func plucksAt(every int) rig.Wave {
	return func(n int) float64 {
		if n%every < 10 {
			return 1
		}
		return 0
	}
}

func TestPlucksAreAlikeOrDifferentAndTheSameInEveryRender(t *testing.T) {
	play := func(word string) []float64 {
		return rig.New(Kind()).Feed("trigger", plucksAt(24000)).Choose("plucks", word).Set("touch", 100, "%").Set("decay", 0.05, "s").Out("out", 48000)
	}
	same := func(a, b []float64) bool {
		for i := range a {
			if math.Abs(a[i]-b[i]) > 1e-9 {
				return false
			}
		}
		return true
	}
	alike, different := play("alike"), play("different")
	if !same(alike[:20000], alike[24000:44000]) {
		t.Error("alike plucks differ")
	}
	if same(different[:20000], different[24000:44000]) {
		t.Error("different plucks are alike")
	}
	if !same(different, play("different")) {
		t.Error("two renders differ")
	}
}

// With full touch a pluck replaces what rings; without it comes on top.
func TestTouchTakesAwayWhatRings(t *testing.T) {
	last := func(percent float64) float64 {
		r := rig.New(Kind()).Feed("trigger", plucksAt(4800)).Set("touch", percent, "%").Set("decay", 20, "s").Set("damping", 1, "")
		return rig.DB(rig.RMS(r.Out("out", 96000)[92000:]))
	}
	full, none := last(100), last(0)
	t.Logf("after 20 plucks: %.1f dB with full touch, %.1f dB with none", full, none)
	if math.Abs(full+7.8) > 2.5 || none < full+8 {
		t.Errorf("after 20 plucks: %.1f dB with full touch, %.1f dB with none; want about -8, and 13 more", full, none)
	}
}

// A pluck with a soft hand while the string rings: above 4 kHz nothing over -60
// dB re full scale appears, and the finger that takes the ringing away makes no
// click either.
func TestPluckingAgainDoesNotClick(t *testing.T) {
	r := rig.New(Kind()).Feed("trigger", plucksAt(24000)).Set("frequency", 110, "Hz").Set("touch", 100, "%")
	r.Set("damping", 300, "").Set("position", 50, "%").Set("hardness", 100, "Hz").Set("level", -96, "dB")
	r.Feed("in", func(n int) float64 { // set swinging by a tone that fades in and out
		if n > 20000 {
			return 0
		}
		return 0.02 * math.Sin(2*math.Pi*110*float64(n)/48000) * math.Pow(math.Sin(math.Pi*float64(n)/20000), 2)
	})
	x := r.Out("out", 30000)
	before, worst := rig.RMS(x[22000:23900]), click(x[22000:])
	t.Logf("ringing at %.1f dB rms; loudest line above 4 kHz when the finger comes %.1f dB", rig.DB(before), worst)
	if rig.DB(before) < -30 || worst > -60 {
		t.Errorf("ringing at %.1f dB, a click of %.1f dB", rig.DB(before), worst)
	}
}

// click returns the loudest line above 4 kHz of x in dB re a full-scale sine,
// over frames of 1024 samples (Blackman-Harris window, side lobes below -92 dB).
func click(x []float64) float64 {
	const n = 1024
	w := make([]float64, n)
	for i := range w {
		w[i] = 1
	}
	sum := 0.0
	for _, v := range window.BlackmanHarris(w) {
		sum += v
	}
	fft := fourier.NewFFT(n)
	loudest := 0.0
	for at := 0; at+n <= len(x); at += n / 4 {
		frame := make([]float64, n)
		for i := range frame {
			frame[i] = x[at+i] * w[i]
		}
		for k, c := range fft.Coefficients(nil, frame) {
			if float64(k)*48000/n >= 4000 {
				loudest = max(loudest, 2*math.Hypot(real(c), imag(c))/sum)
			}
		}
	}
	return rig.DB(loudest)
}

func TestVelocityAndLevelCount(t *testing.T) {
	base := rig.New(Kind()).Out("out", 4800)
	for i, y := range rig.New(Kind()).Set("level", -6, "dB").Out("out", 4800) {
		if want := base[i] * math.Pow(10, -0.3); math.Abs(y-want) > 1e-12 {
			t.Fatalf("level -6 dB: sample %d is %g; want %g", i, y, want)
		}
	}
	half := rig.New(Kind())
	block := half.Fill(64)
	for i := range block.Played.Velocity {
		block.Played.Velocity[i] = 0.5
	}
	half.Sound.Block(block)
	for i, y := range block.Out[0][:64] {
		if math.Abs(y-base[i]/2) > 1e-12 {
			t.Fatalf("velocity 0.5: sample %d is %g; want %g", i, y, base[i]/2)
		}
	}
}

func TestItEndsInExactSilence(t *testing.T) {
	x := rig.New(Kind()).Set("decay", 0.1, "s").Out("out", 96000)
	if y := x[len(x)-1]; y != 0 {
		t.Errorf("it still rings at %g", y)
	}
	r := rig.New(Kind()).Set("decay", 0.1, "s").Feed("in", func(n int) float64 {
		if n == 100 {
			return math.NaN()
		}
		return 0
	})
	if y := r.Out("out", 96000)[95999]; y != 0 || !r.Clamped {
		t.Errorf("after a bad sample: %g, clamped %v", y, r.Clamped)
	}
}

func BenchmarkString(b *testing.B) {
	b.Run("ringing", rig.New(Kind()).Set("decay", 60, "s").Bench)
	b.Run("bowed", rig.New(Kind()).Feed("in", func(n int) float64 { return hash.Signed(1, uint64(n)) }).Bench)
	b.Run("glide", rig.New(Kind()).Set("decay", 60, "s").Move("frequency", "Hz", func(n int) float64 { return 440 + 100*math.Sin(float64(n)/3000) }).Bench)
}
