package ladder

import (
	"math"
	"math/cmplx"
	"testing"

	"lampblack/patch/dsp/hash"
	"lampblack/patch/kind/rig"
	"lampblack/patch/module"
)

// analogue is the gain in dB of 1/((1+s)^4 + k) at s = j tan(pi hz/r)/tan(pi
// cutoff/r), r the rate at which the filter runs (bilinear transform with the
// cutoff in its exact place). Source: Stilson and Smith, ICMC 1996.
func analogue(rate, cutoff, k, hz float64) float64 {
	if rate < 88200 {
		rate *= 2
	}
	s := complex(1, math.Tan(math.Pi*hz/rate)/math.Tan(math.Pi*cutoff/rate))
	return -rig.DB(cmplx.Abs(s*s*s*s + complex(k, 0)))
}

func TestWeakSignalsMeetTheAnalogueFilter(t *testing.T) {
	const weak = 1e-4 // tanh bends it by 1e-9
	worst := 0.0
	for _, rate := range []float64{44100, 48000, 96000} {
		for _, cutoff := range []float64{220, 1000, 5000, 15000} {
			for _, k := range []float64{0, 1, 2, 3, 3.9} {
				r := rig.NewSetup(Kind(), module.Setup{Rate: rate}).Feed("in", func(n int) float64 { return weak * rig.Impulse(n) })
				r.Set("cutoff", cutoff, "Hz").Set("resonance", 25*k, "%")
				n := int(4 * rate) // lines 0.25 Hz apart
				lines := rig.Lines(r.Out("out", n))
				for i := range 20 {
					hz := math.Round(4*20*math.Pow(1000, float64(i)/19)) / 4
					got, want := rig.DB(lines[int(hz*4)]*float64(n)/2/weak), analogue(rate, cutoff, k, hz)
					if want < -150 {
						continue // below what rounding leaves of 1e-4
					}
					worst = max(worst, math.Abs(got-want))
					if math.Abs(got-want) > 0.002 {
						t.Errorf("rate %g, cutoff %g Hz, k %g, at %g Hz: %.4f dB; the formula says %.4f", rate, cutoff, k, hz, got, want)
					}
				}
			}
		}
	}
	t.Logf("largest difference to the analogue filter %.5f dB", worst)
}

// frequency measures a sine near hz: how far its phase advances between two
// windows (Hann), half of y apart.
func frequency(y []float64, rate, hz float64) float64 {
	n := len(y) / 2
	phase := func(from int) float64 {
		var re, im float64
		for i, v := range y[from : from+n] {
			w := v * (1 - math.Cos(2*math.Pi*float64(i)/float64(n)))
			sin, cos := math.Sincos(2 * math.Pi * hz / rate * float64(from+i))
			re += w * cos
			im -= w * sin
		}
		return math.Atan2(im, re)
	}
	return hz + math.Remainder(phase(n)-phase(0), 2*math.Pi)/(2*math.Pi)*rate/float64(n)
}

func cents(got, want float64) float64 { return 1200 * math.Log2(got/want) }

// Loop theory (Stilson and Smith, 1996): four equal poles turn by half a cycle
// at the cutoff, whatever the feedback, so it sings there. How far saturation
// draws it away is what is measured.
func TestItSingsInTune(t *testing.T) {
	for _, rate := range []float64{44100, 48000, 96000} {
		worst := 0.0
		for _, feedback := range []float64{4.05, 4.5, 5, 6} {
			for _, hz := range []float64{20, 100, 440, 1000, 3000, 5000, 8000, 9600, 10000, 11000, 11025, 11900, 12000} {
				if hz == 20 && feedback < 4.5 {
					continue // it takes minutes to settle
				}
				r := rig.NewSetup(Kind(), module.Setup{Rate: rate, Seed: 1}).Feed("in", rig.Impulse)
				r.Set("cutoff", hz, "Hz").Set("resonance", 25*feedback, "%").Set("drive", 20, "dB")
				r.Run(int(rate * (1 + 30/hz/(feedback-3.9))))
				y := r.Out("out", int(rate*max(0.5, 100/hz)))
				off := cents(frequency(y, rate, hz), hz)
				worst = max(worst, math.Abs(off))
				if level := rig.DB(rig.RMS(y)) + 3.01; math.Abs(off) > 0.5 || level < -26 || level > -11 {
					t.Errorf("rate %g, cutoff %g Hz, feedback %g: sings %.3f cents off, with a peak of %.1f dB", rate, hz, feedback, off, level)
				}
			}
		}
		t.Logf("rate %g: sings at most %.3f cents off", rate, worst)
	}
}

// The gain at 0 Hz is 1/(1 + k) of the loop, and with bass that of drive.
func TestBassGivesBackWhatResonanceTakes(t *testing.T) {
	for _, c := range []struct{ resonance, bass, drive, want float64 }{
		{75, 0, 0, -12.0412}, {25, 0, 0, -6.0206}, {75, 100, 0, 0}, {75, 100, -12, -12}, {75, 50, 6, -12.0412 + 6 + 7.9588},
	} {
		r := rig.New(Kind()).Feed("in", func(int) float64 { return 1e-4 })
		r.Set("resonance", c.resonance, "%").Set("bass", c.bass, "%").Set("drive", c.drive, "dB")
		y := r.Out("out", 9600)
		if got := rig.DB(y[9599] / 1e-4); math.Abs(got-c.want) > 0.001 {
			t.Errorf("resonance %g %%, bass %g %%, drive %g dB: %.4f dB at 0 Hz; want %.4f", c.resonance, c.bass, c.drive, got, c.want)
		}
	}
}

func TestItStartsToSingByItself(t *testing.T) {
	r := rig.New(Kind()).Set("resonance", 110, "%")
	y := r.Out("out", 48000)
	if early := rig.RMS(y[:480]); early > 1e-5 {
		t.Errorf("it starts with an rms of %g; want a trace", early)
	}
	if late := rig.DB(rig.RMS(y[7200:9600])) + 3.01; late < -18 || late > -15 {
		t.Errorf("after 0.15 s it sings with a peak of %.2f dB; want -16.5 dB", late)
	}
	for i, v := range rig.New(Kind()).Set("resonance", 99, "%").Out("out", 48000) {
		if v != 0 {
			t.Fatalf("below 100 %% sample %d of silence is %g", i, v)
		}
	}
}

// tanh's slope falls steadily to nothing; the bend's own polynomial has to stay
// within what its comment says.
func TestTheBendIsThatOfTanh(t *testing.T) {
	worst, before := 0.0, -2.0
	for v := -5.0; v <= 5; v += 0.001 {
		y := saturate(v)
		worst = max(worst, math.Abs(y-math.Tanh(v)))
		if y < before {
			t.Fatalf("the bend falls at %g", v)
		}
		before = y
	}
	t.Logf("largest difference to tanh %.4f", worst)
	if worst > 0.024 || saturate(5) != 1 || saturate(-5) != -1 {
		t.Errorf("the bend is %.4f from tanh, and reaches %g", worst, saturate(5))
	}
}

// Driven by 20 dB at 5 kHz, the lines between the harmonics are aliases.
// Without doubling tanh leaves one at -19 dB, with it at -33 dB (measured with
// tanh alone, without a filter).
func TestDoublingKeepsAliasesDown(t *testing.T) {
	r := rig.New(Kind()).Feed("in", rig.Sine(5000)).Set("cutoff", 20000, "Hz").Set("resonance", 0, "%").Set("drive", 20, "dB")
	r.Run(48000)
	lines := rig.Lines(r.Out("out", 48000))
	worst, at := 0.0, 0
	for hz := 20; hz <= 20000; hz++ {
		if hz%5000 != 0 && lines[hz] > worst {
			worst, at = lines[hz], hz
		}
	}
	over := rig.DB(worst / lines[5000])
	t.Logf("worst alias %.1f dB, at %d Hz", over, at)
	if over > -33 {
		t.Errorf("worst alias %.1f dB, at %d Hz; want -33 at most", over, at)
	}
}

func TestBadInputIsForgottenAndSaid(t *testing.T) {
	for _, bad := range []float64{math.NaN(), math.Inf(1), 1e300} {
		r := rig.New(Kind()).Feed("in", func(n int) float64 {
			if n < 100 {
				return bad
			}
			return 0
		})
		y := r.Out("out", 48000)
		if y[47999] != 0 || !r.Clamped {
			t.Errorf("after %g the output ends at %g, clamped %v", bad, y[47999], r.Clamped)
		}
	}
}

// 20 Hz and a resonance of 97 % ring for seconds, and then there is nothing.
func TestTheTailEndsInExactSilence(t *testing.T) {
	r := rig.New(Kind()).Feed("in", rig.Impulse).Set("cutoff", 200, "Hz").Set("resonance", 90, "%")
	y := r.Out("out", 96000)
	if y[95999] != 0 {
		t.Errorf("after two seconds the output is %g", y[95999])
	}
	if y[4800] == 0 {
		t.Error("after a tenth of a second there is silence already")
	}
}

func BenchmarkLadder(b *testing.B) {
	noise := func(n int) float64 { return hash.Signed(1, uint64(n)) }
	sway := func(n int) float64 { return 1000 * math.Exp2(math.Sin(float64(n)/3000)) }
	at := func(rate float64) *rig.Rig {
		return rig.NewSetup(Kind(), module.Setup{Rate: rate, Seed: 1}).Feed("in", noise)
	}
	b.Run("steady", at(48000).Bench)
	b.Run("steady, singing", at(48000).Set("resonance", 110, "%").Bench)
	b.Run("swept", at(48000).Move("cutoff", "Hz", sway).Bench)
	b.Run("at 96 kHz", at(96000).Bench)
}
