package oscillator

import (
	"math"
	"testing"

	"lampblack/patch/dsp/step"
	"lampblack/patch/kind/rig"
	"lampblack/patch/module"
)

// second runs a second of a shape of 100 Hz: harmonic n is line 100 n.
func second(shape string, width float64) []float64 {
	r := rig.New(Kind()).Choose("shape", shape).Set("frequency", 100, "Hz").Set("width", width, "%")
	return rig.Lines(r.Out("out", 48000))
}

// Source: Fourier series of the ideal shapes with peaks at +-1.
func TestHarmonicsAreThoseOfTheFourierSeries(t *testing.T) {
	for _, c := range []struct {
		shape  string
		width  float64
		first  float64         // amplitude of the fundamental
		others map[int]float64 // harmonic: dB re the fundamental
		rms    float64         // dB re 1
		mean   float64
	}{
		{"sine", 50, 1, nil, -3.0103, 0},
		{"saw", 50, 0.63662, map[int]float64{2: -6.021, 3: -9.542, 4: -12.041, 5: -13.979, 6: -15.563, 8: -18.062, 10: -20}, -4.771, 0},
		{"pulse", 50, 1.27324, map[int]float64{3: -9.542, 5: -13.979, 7: -16.902, 9: -19.085}, 0, 0},
		{"triangle", 50, 0.81057, map[int]float64{3: -19.085, 5: -27.959, 7: -33.804, 9: -38.170}, -4.771, 0},
		{"pulse", 25, 0.90032, map[int]float64{2: -3.010, 3: -9.542, 5: -13.979, 6: -12.553}, 0, -0.5},
		{"pulse", 10, 0.39345, map[int]float64{2: -0.436, 3: -1.180, 5: -3.78, 9: -19.085}, 0, -0.8},
	} {
		lines := second(c.shape, c.width)
		if d := rig.DB(lines[100] / c.first); math.Abs(d) > 0.001 {
			t.Errorf("%s, width %g %%: fundamental %.5f; the series says %.5f", c.shape, c.width, lines[100], c.first)
		}
		for n, want := range c.others {
			if got := rig.DB(lines[100*n] / lines[100]); math.Abs(got-want) > 0.005 {
				t.Errorf("%s, width %g %%: harmonic %d is %.3f dB re the first; the series says %.3f", c.shape, c.width, n, got, want)
			}
		}
		if math.Abs(lines[0]-math.Abs(c.mean)) > 1e-4 {
			t.Errorf("%s, width %g %%: mean %g; the series says %g", c.shape, c.width, lines[0], c.mean)
		}
		power := lines[0] * lines[0]
		for _, a := range lines[1:] {
			power += a * a / 2
		}
		// What lies above half the rate is missing: 0.02 dB of a pulse of 100 Hz.
		if got := 10 * math.Log10(power); math.Abs(got-c.rms) > 0.03 {
			t.Errorf("%s, width %g %%: rms %.3f dB; the series says %.3f", c.shape, c.width, got, c.rms)
		}
	}
}

// Harmonic n of a pulse is missing where n times the width is whole.
func TestPulseHasItsNulls(t *testing.T) {
	for _, c := range []struct {
		width float64
		null  int
	}{{50, 2}, {25, 4}, {10, 10}, {100.0 / 3, 3}, {20, 5}} {
		lines := second("pulse", c.width)
		for n := c.null; n*100 < 18000; n += c.null {
			if db := rig.DB(lines[100*n] / lines[100]); db > -110 {
				t.Errorf("width %g %%: harmonic %d is at %.1f dB; it should be missing", c.width, n, db)
			}
		}
	}
}

// AES17 measures with 997 Hz: everything but the tone, over its level.
func TestSineIsPure(t *testing.T) {
	lines := rig.Lines(rig.New(Kind()).Set("frequency", 997, "Hz").Out("out", 48000))
	var rest float64
	for i, a := range lines {
		if i != 997 {
			rest += a * a
		}
	}
	thd := 10 * math.Log10(rest/(lines[997]*lines[997]))
	t.Logf("THD+N of 997 Hz: %.1f dB", thd)
	if thd > -130 {
		t.Errorf("THD+N is %.1f dB; want -130 or less", thd)
	}
}

// ISO 16:1975: A4 is 440 Hz; MIDI 1.0: note n stands (n - 69)/12 octaves from
// it. The printed values are equal temperament to four digits.
func TestEqualTemperamentIsInTune(t *testing.T) {
	for _, c := range []struct {
		note int
		hz   float64
	}{
		{0, 8.1758}, {21, 27.5}, {24, 32.7032}, {36, 65.4064}, {48, 130.8128}, {60, 261.6256}, {61, 277.1826},
		{69, 440}, {72, 523.2511}, {84, 1046.5023}, {96, 2093.0045}, {108, 4186.0090}, {127, 12543.8540},
	} {
		exact := 440 * math.Exp2(float64(c.note-69)/12)
		if math.Abs(exact-c.hz) > 0.00006 {
			t.Fatalf("note %d is %.4f Hz by formula, %.4f in the table", c.note, exact, c.hz)
		}
		for _, shape := range []string{"sine", "triangle", "saw", "pulse"} {
			r := rig.New(Kind()).Choose("shape", shape).Set("frequency", exact, "Hz")
			got := frequency(r.Out("out", 4*48000), exact)
			if cents := 1200 * math.Log2(got/exact); math.Abs(cents) > 0.001 {
				t.Errorf("note %d, %s: %.6f Hz, %+.5f cent off; want 0.001 at most", c.note, shape, got, cents)
			}
		}
	}
}

// frequency measures a tone near hz by how far its phase turns between the
// first and second half of x, each seen through a Hann window.
func frequency(x []float64, hz float64) float64 {
	half := len(x) / 2
	phase := func(from int) float64 {
		var re, im float64
		for i := range half {
			w := 0.5 - 0.5*math.Cos(2*math.Pi*(float64(i)+0.5)/float64(half))
			sin, cos := math.Sincos(2 * math.Pi * math.Mod(hz*float64(from+i)/48000, 1))
			re += w * x[from+i] * cos
			im += w * x[from+i] * sin
		}
		return math.Atan2(re, im)
	}
	turn := math.Remainder(phase(half)-phase(0), 2*math.Pi)
	return hz + turn/(2*math.Pi)*48000/float64(half)
}

// All shapes start at phase 0, rising: their fundamentals are sines in step.
func TestAllShapesStartInStep(t *testing.T) {
	for _, shape := range []string{"sine", "triangle", "saw", "pulse"} {
		x := rig.New(Kind()).Choose("shape", shape).Set("frequency", 1000, "Hz").Out("out", 48000)
		var sin, cos float64
		for i, y := range x {
			s, c := math.Sincos(2 * math.Pi * 1000 * float64(i) / 48000)
			sin += y * s
			cos += y * c
		}
		if deg := math.Atan2(cos, sin) * 180 / math.Pi; math.Abs(deg) > 1e-6 {
			t.Errorf("the fundamental of %s starts at %g degrees; want 0", shape, deg)
		}
		if math.Abs(x[0]) > 1e-9 {
			t.Errorf("%s starts at %g; want 0, the middle of its rise", shape, x[0])
		}
	}
}

// A change of shape goes on in phase.
func TestChangingTheShapeKeepsThePhase(t *testing.T) {
	for _, from := range []float64{0, 1, 2, 3} {
		for _, to := range []float64{0, 1, 2, 3} {
			r := rig.New(Kind()).Set("frequency", 441, "Hz").Set("shape", from, "")
			r.Run(1000)
			r.Set("shape", to, "")
			want := rig.New(Kind()).Set("frequency", 441, "Hz").Set("shape", to, "").Out("out", 2000)[1000:]
			for i, y := range r.Out("out", 1000) {
				if math.Abs(y-want[i]) > 1e-9 {
					t.Fatalf("from shape %g to %g: sample %d is %g, but %g had it always been so", from, to, i, y, want[i])
				}
			}
		}
	}
}

// What the help says: a sine follows a new frequency at once, the others
// step.Delay samples later. The step of sample n moves the phase of n+1.
func TestFrequencyIsFollowedWhenTheHelpSays(t *testing.T) {
	for _, c := range []struct {
		shape  string
		change int // where no corner is near
		late   int
	}{{"sine", 500, 0}, {"triangle", 3.5*160 - step.Delay, step.Delay}, {"saw", 3.25*160 - step.Delay, step.Delay}} {
		run := func(then float64) []float64 {
			r := rig.New(Kind()).Choose("shape", c.shape)
			r.Move("frequency", "Hz", func(n int) float64 {
				if n < c.change {
					return 300
				}
				return then
			})
			return r.Out("out", 1000)
		}
		still, moved := run(300), run(400)
		first := 0
		for math.Abs(still[first]-moved[first]) < 1e-5 {
			first++
		}
		if want := c.change + 1 + c.late; first != want {
			t.Errorf("%s: a change at sample %d is heard at %d; want %d", c.shape, c.change, first, want)
		}
	}
}

func TestFrequencyPastHalfTheRateIsHeldAndSaid(t *testing.T) {
	r := rig.NewSetup(Kind(), module.Setup{Rate: 8000}).Set("frequency", 5000, "Hz")
	x := r.Out("out", 8000)
	if got := frequency8k(x); math.Abs(got-0.49*8000) > 0.01 || !r.Clamped {
		t.Errorf("5 kHz at a rate of 8 kHz sounds at %.2f Hz, clamped %v; want 3920 Hz and the mark", got, r.Clamped)
	}
	if r := rig.New(Kind()).Set("frequency", 20000, "Hz"); len(r.Run(64)) > 0 && r.Clamped {
		t.Error("20 kHz at 48 kHz is marked as clamped")
	}
}

func frequency8k(x []float64) float64 { return frequency(x, 3920*6) / 6 }
