package delay

import (
	"math"
	"testing"

	"lampblack/patch/dsp/hash"
	"lampblack/patch/kind/rig"
	"lampblack/patch/module"
)

func wet() *rig.Rig { return rig.New(Kind()).Set("mix", 100, "%") }

// soft is a sine below half the ceiling, where the tape is linear.
func soft(hz float64) rig.Wave { return func(n int) float64 { return 0.4 * rig.Sine(hz)(n) } }

// A repeat after a whole number of samples is the sound itself, to the bit, and
// each further one is feedback times the one before.
func TestRepeatsAreExactAtWholeSamples(t *testing.T) {
	for _, rate := range []float64{44100, 48000, 96000} {
		for _, samples := range []int{5, 441, 7200, 60000} {
			r := rig.NewSetup(Kind(), module.Setup{Rate: rate}).Set("mix", 100, "%")
			r.Set("time", float64(samples)/rate, "s").Set("feedback", -50, "%")
			noise := func(n int) float64 { // shorter than the time, and within the linear part
				if n < samples {
					return 0.5 * hash.Signed(3, uint64(n))
				}
				return 0
			}
			y := r.Feed("in", noise).Out("out", 4*samples)
			for n, v := range y {
				want := 0.0
				if k := n / samples; k > 0 {
					want = noise(n%samples) * math.Pow(-0.5, float64(k-1))
				}
				if v != want {
					t.Fatalf("%d samples at %g Hz: sample %d is %g; want %g", samples, rate, n, v, want)
				}
			}
		}
	}
}

// T60 = D ln 1000 / -ln g: 0.3 s at 50 % is 2.990 s; 30 ms at 81.283 % is 1 s.
func TestDecayIsThatOfTheFormula(t *testing.T) {
	for _, c := range []struct{ time, feedback, t60 float64 }{{0.3, 50, 2.990}, {0.03, 81.283, 1}} {
		y := wet().Set("time", c.time, "s").Set("feedback", c.feedback, "%").Feed("in", rig.Impulse).Out("out", 4*48000)
		// From the bend of the first repeat's height (an impulse of 1 is bent) on.
		first := int(c.time * 48000)
		last := first * int(3/c.time)
		db := rig.DB(y[last]) - rig.DB(y[2*first])
		if got := -60 / db * float64(last-2*first) / 48000; math.Abs(got-c.t60) > 0.001*c.t60 {
			t.Errorf("%g s at %g %%: T60 is %.4f s; want %.4f", c.time, c.feedback, got, c.t60)
		}
	}
}

// x + g x(t - T): 1 ms has peaks at 1 and 2 kHz, notches at 0.5, 1.5 and 2.5
// kHz; g = 0.5: +3.522 and -6.021 dB, 0.7: +4.609 and -10.458, 0.9: +5.575 and -20.
func TestCombs(t *testing.T) {
	for _, c := range []struct{ g, peak, notch float64 }{{0.5, 3.522, -6.021}, {0.7, 4.609, -10.458}, {0.9, 5.575, -20}} {
		for _, hz := range []float64{500, 1000, 1500, 2000, 2500} {
			want := c.notch
			if math.Mod(hz, 1000) == 0 {
				want = c.peak
			}
			r := rig.New(Kind()).Set("time", 0.001, "s").Set("feedback", 0, "%").Set("mix", 50*c.g, "%").Feed("in", soft(hz))
			r.Run(4800)
			if got := rig.DB(rig.RMS(r.Out("out", 48000)) / (0.4 * math.Sqrt(0.5))); math.Abs(got-want) > 0.002 {
				t.Errorf("g %g: %g Hz is at %.3f dB; want %.3f", c.g, hz, got, want)
			}
		}
	}
}

// Pitch ratio 1 - dT/dt: a swing of 2 ms at 0.5 Hz gives +10.844/-10.912 cent,
// 1 ms at 5 Hz +53.55/-55.26.
func TestAMovingHeadMovesThePitch(t *testing.T) {
	for _, c := range []struct{ swing, rate, up, down float64 }{{0.002, 0.5, 10.844, -10.912}, {0.001, 5, 53.55, -55.26}} {
		play := func(phase float64) []float64 {
			r := wet().Set("feedback", 0, "%").Feed("in", func(n int) float64 { return 0.4 * math.Sin(2*math.Pi*float64(n)/48+phase) })
			r.Move("time", "s", func(n int) float64 { return 0.02 + c.swing*math.Sin(2*math.Pi*c.rate*float64(n)/48000) })
			return r.Out("out", 3*48000)
		}
		sin, cos := play(0), play(math.Pi/2)
		up, down := math.Inf(-1), math.Inf(1)
		for n := 4800; n+24 < len(sin); n += 24 {
			turn := math.Atan2(sin[n+24], cos[n+24]) - math.Atan2(sin[n], cos[n])
			for turn < 0 {
				turn += 2 * math.Pi
			}
			cents := 1200 * math.Log2(turn/math.Pi)
			up, down = max(up, cents), min(down, cents)
		}
		if math.Abs(up-c.up) > 0.01 || math.Abs(down-c.down) > 0.01 {
			t.Errorf("%g s at %g Hz: %+.3f/%+.3f cent; want %+.3f/%+.3f", c.swing, c.rate, up, down, c.up, c.down)
		}
	}
}

// First-order theory: each repeat is 3.01 dB weaker at either cut.
func TestRepeatsDarken(t *testing.T) {
	for _, name := range []string{"low cut", "high cut"} {
		r := wet().Set("time", 0.5, "s").Set("feedback", 100, "%").Set(name, 1000, "Hz").Feed("in", func(n int) float64 {
			if n < 24000 {
				return soft(1000)(n)
			}
			return 0
		})
		y := r.Out("echo", 4*24000)
		for k := 1; k <= 3; k++ {
			part := y[k*24000+12000 : k*24000+21600]
			if got, want := rig.DB(rig.RMS(part)/(0.4*math.Sqrt(0.5))), -3.0103*float64(k); math.Abs(got-want) > 0.005 {
				t.Errorf("%s: repeat %d is at %.3f dB; want %.3f", name, k, got, want)
			}
		}
	}
}

// Over 100 % it grows, and the tape holds it.
func TestGrowthEndsAtTheCeiling(t *testing.T) {
	for _, ceiling := range []float64{-20, 0, 12} {
		r := wet().Set("time", 0.01, "s").Set("feedback", 110, "%").Set("ceiling", ceiling, "dB").Feed("in", func(n int) float64 {
			if n < 480 {
				return 0.01 * rig.Sine(500)(n)
			}
			return 0
		})
		r.Run(96000)
		y := r.Out("echo", 4800)
		peak := 0.0
		for _, v := range y {
			peak = max(peak, math.Abs(v))
		}
		if most := math.Pow(10, ceiling/20); peak > most || peak < most*0.5 {
			t.Errorf("a ceiling of %g dB is filled to %.2f dB", ceiling, rig.DB(peak))
		}
	}
}

// A change of the time as the engine smooths it. A click of -60 dB shows as a
// second difference of 0.001; what moves at twice the pitch has (2 pi 2 f/rate)^2.
func TestANewTimeDoesNotClick(t *testing.T) {
	for _, change := range []string{"glide", "cross-fade"} {
		for _, to := range []float64{0.0004, 0.05, 0.4} {
			r := wet().Choose("change", change).Set("feedback", 0, "%").Feed("in", func(n int) float64 { return 0.4 * rig.Sine(200)(n) })
			r.Move("time", "s", func(n int) float64 {
				return 0.1 * math.Pow(to/0.1, 1-math.Exp(-float64(max(n-48000, 0))/240))
			})
			r.Run(47000)
			y := r.Out("echo", 60000)
			most := 0.4*math.Pow(2*math.Pi*400/48000, 2) + 0.0004
			for i := 2; i < len(y); i++ {
				if d := math.Abs(y[i] - 2*y[i-1] + y[i-2]); d > most {
					t.Fatalf("%s to %g s: at sample %d the second difference is %g; want below %g", change, to, i-1000, d, most)
				}
			}
		}
	}
}

// A cross-fade ends at the new time, with no pitch moved on the way: the repeats
// of a tone keep its frequency, in and after the fade.
func TestACrossFadeArrives(t *testing.T) {
	r := wet().Choose("change", "cross-fade").Set("feedback", 0, "%").Feed("in", soft(1000))
	r.Move("time", "s", func(n int) float64 {
		if n < 9600 {
			return 0.1
		}
		return 0.1234567
	})
	y := r.Out("echo", 19200)
	for n := 9600 + 1441; n < len(y); n++ {
		if want := soft(1)(0) + 0.4*math.Sin(2*math.Pi*1000*(float64(n)/48000-0.1234567)); math.Abs(y[n]-want) > 1e-5 {
			t.Fatalf("sample %d is %g; want %g", n, y[n], want)
		}
	}
}

func TestItForgetsWhatIsNoNumberAndEndsInSilence(t *testing.T) {
	r := wet().Set("time", 0.0123, "s").Set("feedback", 70, "%").Set("high cut", 3000, "Hz").Set("low cut", 100, "Hz").Feed("in", func(n int) float64 {
		return map[int]float64{5: math.NaN(), 6: math.Inf(1), 9: -1e300, 40: 0.3}[n]
	})
	y := r.Out("echo", 144000)
	for n, v := range y {
		if !(math.Abs(v) <= 2) {
			t.Fatalf("sample %d is %g", n, v)
		}
	}
	if !r.Clamped || y[len(y)-1] != 0 {
		t.Errorf("it said so: %v; after 3 s it is still at %g", r.Clamped, y[len(y)-1])
	}
}

func BenchmarkDelay(b *testing.B) {
	in := func() *rig.Rig { return rig.New(Kind()).Feed("in", soft(440)) }
	b.Run("whole", in().Bench)
	b.Run("between", in().Set("time", 0.12345678, "s").Bench)
	b.Run("cut", in().Set("high cut", 3000, "Hz").Set("low cut", 100, "Hz").Bench)
	b.Run("moving", in().Move("time", "s", func(n int) float64 { return 0.1 + 0.001*rig.Sine(1)(n) }).Bench)
}

// In cross-fades, a time that never stands still is followed too: within the 110 ms
// that one wait and one fade take.
func TestACrossFadeFollowsAMovingTime(t *testing.T) {
	r := wet().Choose("change", "cross-fade").Set("feedback", 0, "%").Feed("in", func(n int) float64 {
		return 1 - float64(min(n%24000, 1)) // a click twice a second
	})
	r.Move("time", "s", func(n int) float64 { return 0.1 + 0.05*float64(n)/48000 })
	y := r.Out("echo", 4*48000)
	at := 0
	for n := 3*48000 + 2400; n < len(y) && n < 3*48000+24000; n++ {
		if math.Abs(y[n]) > math.Abs(y[at]) {
			at = n
		}
	}
	// A click at 3 s is heard at the time of then, or at that of up to 110 ms before.
	if late := float64(at)/48000 - 3; late < 0.25-0.05*0.11 || late > 0.25+0.05*0.3 {
		t.Errorf("a click after 3 s comes back %.4f s late; want 0.25", late)
	}
}
