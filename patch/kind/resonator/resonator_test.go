package resonator

import (
	"math"
	"testing"

	"lampblack/patch/dsp/hash"
	"lampblack/patch/kind/rig"
	"lampblack/patch/module"
)

// ring returns frequency and T60 of the resonance near hz from how far its
// phase and level go between the halves of x, through the square of Hann's
// window.
func ring(x []float64, rate, hz float64) (heard, t60 float64) {
	half := len(x) / 2
	look := func(from int) (level, phase float64) {
		var re, im float64
		for i := range half {
			w := 0.5 - 0.5*math.Cos(2*math.Pi*(float64(i)+0.5)/float64(half))
			sin, cos := math.Sincos(2 * math.Pi * math.Mod(hz*float64(from+i)/rate, 1))
			re += w * w * x[from+i] * cos
			im += w * w * x[from+i] * sin
		}
		return math.Hypot(re, im), math.Atan2(re, im)
	}
	l0, p0 := look(0)
	l1, p1 := look(half)
	span := float64(half) / rate
	return hz + math.Remainder(p1-p0, 2*math.Pi)/(2*math.Pi)/span, -span * math.Log(1000) / math.Log(l1/l0)
}

// Equal temperament (ISO 16) from 27.5 Hz to 11.8 kHz: the claim is 0.01 cent,
// at any damping and rate, with all harmonics or the odd ones. T60 as ISO 3382
// has it.
func TestItRingsInTuneAndAsLongAsWritten(t *testing.T) {
	for _, rate := range []float64{44100, 48000, 96000} {
		for _, harmonics := range []string{"all", "odd"} {
			var cents, decay float64
			for i, damping := range []float64{1, 4, 1000} {
				for octave := -4 + 0.25*float64(i); octave <= 4.75; octave++ {
					hz := 440 * math.Exp2(octave)
					r := rig.NewSetup(Kind(), module.Setup{Rate: rate}).Feed("in", rig.Impulse).Choose("harmonics", harmonics)
					x := r.Set("frequency", hz, "Hz").Set("damping", damping, "").Set("decay", 4, "s").Out("out", int(2*rate))
					if harmonics == "odd" {
						hz /= 2
					}
					f, d := ring(x[int(rate/2):], rate, hz)
					cents = max(cents, math.Abs(1200*math.Log2(f/hz)))
					decay = max(decay, math.Abs(d/4-1))
				}
			}
			t.Logf("%g Hz, harmonics %s: off by %.5f cent at most, T60 by %.4f %%", rate, harmonics, cents, 100*decay)
			if cents > 0.01 || decay > 0.001 {
				t.Errorf("%g Hz, harmonics %s: off by %.4f cent, T60 by %.3f %%; want 0.01 and 0.1", rate, harmonics, cents, 100*decay)
			}
		}
	}
}

// gain is the gain in dB at hz, from an impulse response long enough to be over.
func gain(hz float64, set func(*rig.Rig)) float64 {
	const n = 1 << 19
	r := rig.New(Kind()).Feed("in", rig.Impulse)
	set(r)
	var re, im float64
	for i, y := range r.Out("out", n) {
		sin, cos := math.Sincos(2 * math.Pi * math.Mod(hz*float64(i)/48000, 1))
		re += y * cos
		im += y * sin
	}
	return rig.DB(math.Hypot(re, im))
}

// A feedback comb of T = 1 ms has peaks of 1/(1-g) at k/T and dips of 1/(1+g) at
// (2k+1)/(2T); with the sign turned they change places. Source: geometric
// series of the rounds. Here T is 48 samples, so that all peaks lie exactly.
func TestPeaksAndDipsAreThoseOfTheComb(t *testing.T) {
	for _, c := range []struct{ percent, peak, dip float64 }{
		{50, 6.021, -3.522}, {70, 10.458, -4.609}, {90, 20, -5.575},
	} {
		for _, turn := range []float64{1, -1} {
			set := func(r *rig.Rig) {
				r.Set("frequency", 1000, "Hz").Set("decay", turn*c.percent, "%").Set("damping", 1, "").Choose("kept", "strike")
			}
			for _, hz := range []float64{500, 1000, 1500, 2000, 2500} {
				want := c.peak
				if (int(hz)%1000 == 0) != (turn > 0) {
					want = c.dip
				}
				if got := gain(hz, set); math.Abs(got-want) > 0.002 {
					t.Errorf("%g %%, %g Hz: %.4f dB; the formula says %.3f", turn*c.percent, hz, got, want)
				}
			}
		}
	}
}

// A round of any length has its lowest peak exactly there, whatever the
// damping; with peak kept, it stands at 0 dB.
func TestKeptPeakIsAtZeroDecibels(t *testing.T) {
	for _, hz := range []float64{110, 440, 3951.07, 11000} {
		for _, damping := range []float64{1, 20} {
			got := gain(hz, func(r *rig.Rig) {
				r.Set("frequency", hz, "Hz").Set("decay", 98, "%").Set("damping", damping, "").Choose("kept", "peak")
			})
			if math.Abs(got) > 0.001 {
				t.Errorf("%g Hz, damping %g: the peak is at %.4f dB; want 0", hz, damping, got)
			}
		}
	}
}

// sqrt(1-g^2) is the root of 1 over the energy of a round after the other
// (Parseval): white noise of rms 1/sqrt(3) keeps it.
func TestKeptNoiseKeepsItsPower(t *testing.T) {
	for _, percent := range []float64{50, 95, -95} {
		r := rig.New(Kind()).Feed("in", func(n int) float64 { return hash.Signed(4, uint64(n)) })
		r.Set("frequency", 1000, "Hz").Set("decay", percent, "%").Set("damping", 1, "")
		y := r.Out("out", 20*48000)
		if db := rig.DB(rig.RMS(y[48000:]) * math.Sqrt(3)); math.Abs(db) > 0.1 {
			t.Errorf("%g %%: the noise comes out at %.3f dB; want 0", percent, db)
		}
	}
}

func TestMixGoesFromTheInputToTheLoop(t *testing.T) {
	in := func(n int) float64 { return hash.Signed(4, uint64(n)) }
	wet := rig.New(Kind()).Feed("in", in).Out("out", 2000)
	for i, y := range rig.New(Kind()).Feed("in", in).Set("mix", 25, "%").Out("out", 2000) {
		if want := 0.25*wet[i] + 0.75*in(i); math.Abs(y-want) > 1e-12 {
			t.Fatalf("mix 25 %%: sample %d is %g; want %g", i, y, want)
		}
	}
}

// A jump of any control that moves freely, smoothed by the engine over 5 ms,
// stays below -60 dB above 4 kHz when a tone of 440 Hz rings.
func TestJumpsOfControlsDoNotClick(t *testing.T) {
	for name, span := range map[string]struct {
		unit     string
		from, to float64
	}{
		"frequency": {"Hz", 440, 500}, "decay": {"s", 2, 0.05}, "damping": {"", 1, 100}, "mix": {"%", 100, 0},
	} {
		r := rig.New(Kind()).Feed("in", func(n int) float64 { return 0.1 * math.Sin(2*math.Pi*440*float64(n)/48000) })
		r.Set("frequency", 440, "Hz").Choose("kept", "peak").Move(name, span.unit, func(n int) float64 {
			x := 1 - math.Exp(-float64(max(n-48000, 0))/240)
			return span.from + x*(span.to-span.from)
		})
		x := r.Out("out", 96000)
		worst := 0.0
		for i := 47000; i < len(x)-4; i++ { // the fourth difference of 440 Hz is 99 dB down, of 4 kHz 23 dB
			worst = max(worst, math.Abs(x[i]-4*x[i+1]+6*x[i+2]-4*x[i+3]+x[i+4]))
		}
		t.Logf("%s: largest fourth difference %.1f dB", name, rig.DB(worst))
		if rig.DB(worst) > -60 {
			t.Errorf("a jump of %s clicks at %.1f dB", name, rig.DB(worst))
		}
	}
}

func TestBadInputIsForgottenAndSaid(t *testing.T) {
	for _, bad := range []float64{math.NaN(), math.Inf(1), 1e300} {
		r := rig.New(Kind()).Set("decay", 0.1, "s").Feed("in", func(n int) float64 {
			if n == 100 {
				return bad
			}
			return 0.5 * math.Sin(float64(n)/10)
		})
		y := r.Out("out", 48000)
		if end := rig.RMS(y[40000:]); !(end > 1e-3 && end < 2) || !r.Clamped {
			t.Errorf("after %g the output's rms is %g, clamped %v", bad, end, r.Clamped)
		}
	}
	r := rig.NewSetup(Kind(), module.Setup{Rate: 8000}).Set("frequency", 12000, "Hz")
	if r.Run(64); !r.Clamped {
		t.Error("12 kHz at a rate of 8 kHz was not marked as clamped")
	}
}

func TestTheTailEndsInExactSilence(t *testing.T) {
	x := rig.New(Kind()).Feed("in", rig.Impulse).Set("decay", 0.1, "s").Out("out", 96000)
	if y := x[len(x)-1]; y != 0 {
		t.Errorf("it still rings at %g", y)
	}
}

func BenchmarkResonator(b *testing.B) {
	noise := func(n int) float64 { return hash.Signed(1, uint64(n)) }
	b.Run("steady", rig.New(Kind()).Feed("in", noise).Bench)
	b.Run("swept", rig.New(Kind()).Feed("in", noise).Move("frequency", "Hz", func(n int) float64 { return 440 + 100*math.Sin(float64(n)/3000) }).Bench)
}
