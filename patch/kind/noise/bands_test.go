package noise

import (
	"math"
	"testing"

	"lampblack/patch/dsp/pink"
)

// thirds calls f with the third octaves of IEC 61260-1:2014 (exact middles 1000 x
// 10^(k/10), edges 10^(1/20) to either side) from 25 Hz to 16 kHz.
func thirds(f func(middle, from, to float64)) {
	for k := -16; k <= 12; k++ {
		middle := 1000 * math.Pow(10, float64(k)/10)
		f(middle, middle/math.Pow(10, 0.05), middle*math.Pow(10, 0.05))
	}
}

// power is the mean of g over the lines that mean takes.
func power(rate float64, n int, from, to float64, g func(hz float64) float64) float64 {
	hz := rate / float64(n)
	var sum, count float64
	for k := math.Ceil(from / hz); k*hz < to; k++ {
		sum += g(k * hz)
		count++
	}
	return sum / count
}

// Third octaves, over ten minutes in the long test and 30 s else. A band b Hz
// wide that is measured for T seconds scatters by 4.34/sqrt(b T) dB, in ten
// minutes by 0.07 dB at 25 Hz, by 0.01 dB from 1.6 kHz on. The bound is 0.1 dB, or
// three times the scatter where that is more.
func TestThirdOctavesOfWhiteAndPink(t *testing.T) {
	const rate, n = 48000, 1 << 16
	seconds := 30.0
	if long {
		seconds = 600
	}
	for name, want := range map[string]func(hz float64) float64{
		"white": func(float64) float64 { return 2.0 / 3 / rate },
		"pink":  func(hz float64) float64 { return 0.04 / math.Log(1000) / hz },
	} {
		d := density(run(rate, 3, name, 0, int(seconds*rate)), n, rate)
		worst, at, far := 0.0, 0.0, 0.0
		thirds(func(middle, from, to float64) {
			db := 10 * math.Log10(mean(d, rate, from, to)/power(rate, n, from, to, want))
			sigma := 4.34 / math.Sqrt((to-from)*seconds)
			if math.Abs(db) > worst {
				worst, at = math.Abs(db), middle
			}
			far = max(far, math.Abs(db)/sigma)
			if bound := max(0.1, 3*sigma); math.Abs(db) > bound {
				t.Errorf("%s, third octave at %.1f Hz: %+.3f dB off; want %.3f at most", name, middle, db, bound)
			}
		})
		t.Logf("%s, %g s: worst third octave %.3f dB off, at %.1f Hz; at most %.2f times its scatter", name, seconds, worst, at, far)
	}
}

// What is heard is what the filter's computed response promises: pink over the
// white noise that it was made from, line by line, without the scatter of chance.
func TestPinkOverItsWhiteIsTheComputedResponse(t *testing.T) {
	for rate, n := range map[float64]int{44100: 1 << 16, 48000: 1 << 16, 96000: 1 << 17, 192000: 1 << 18} {
		samples := 15 * int(rate)
		w := density(run(rate, 3, "white", 0, samples), n, rate)
		p := density(run(rate, 3, "pink", 0, samples), n, rate)
		f := pink.Design(rate, pinkDensity*1.5*rate)
		worst, slope := 0.0, 0.0
		thirds(func(middle, from, to float64) {
			// The mean of the ratios, each line weighed alike.
			var got, want float64
			hz, count := rate/float64(n), 0.0
			for k := math.Ceil(from / hz); k*hz < to; k++ {
				got += p[int(k)] * k * hz
				want += w[int(k)] * f.Power(k*hz/rate) * k * hz
				count++
			}
			worst = max(worst, math.Abs(10*math.Log10(got/want)))
			slope = max(slope, math.Abs(10*math.Log10(f.Power(middle/rate)*middle/1000/(pinkDensity*1.5*rate))))
		})
		t.Logf("%6.0f Hz: third octaves within %.4f dB of the computed response, which is within %.4f dB of the slope", rate, worst, slope)
		if worst > 0.005 || slope > 0.005 {
			t.Errorf("at %g Hz pink is %.4f dB off its response, that %.4f dB off the slope", rate, worst, slope)
		}
	}
}

// Brown falls by 6.02 dB an octave, blue rises by 3.01, violet by 6.02, and each is
// as loud as its help says.
func TestBrownBlueAndVioletKeepTheirSlopesAndLevels(t *testing.T) {
	const seconds, n = 20, 1 << 16
	for name, c := range map[string]struct{ slope, least float64 }{"brown": {-6.0206, 50}, "blue": {3.0103, 25}, "violet": {6.0206, 25}} {
		for _, rate := range []float64{44100, 192000} {
			x := run(rate, 4, name, 0, seconds*int(rate))
			d := density(x, n, rate)
			level := meanSquare(x)
			// Octave bands, each held against that at 1 kHz.
			at := func(k int) (db, scatter float64) {
				from := 1000 * math.Pow(2, float64(k)-0.5)
				shape := func(hz float64) float64 { return math.Pow(hz/1000, c.slope/3.010299957) }
				db = 10 * math.Log10(mean(d, rate, from, 2*from)/power(rate, n, from, 2*from, shape))
				return db, 4.34 / math.Sqrt(from*seconds)
			}
			middle, own := at(0)
			for k := -5; 1000*math.Pow(2, float64(k)+0.5) < 20000; k++ {
				if 1000*math.Pow(2, float64(k)-0.5) < c.least {
					continue
				}
				db, scatter := at(k)
				if off := db - middle; math.Abs(off) > 0.05+4*math.Hypot(scatter, own) {
					t.Errorf("%s at %g Hz, octave at %.0f Hz: %+.3f dB off the slope", name, rate, 1000*math.Pow(2, float64(k)), off)
				}
			}
			// Brown: few, slow swings; its power scatters by 4.34/sqrt(pi/2 5 Hz T) dB.
			db, bound := 10*math.Log10(level/0.04), 0.1
			if name == "brown" {
				bound = 4 * 4.34 / math.Sqrt(5*math.Pi/2*seconds)
			}
			t.Logf("%s at %g Hz: rms %.4f (%+.3f dB re 0.2)", name, rate, math.Sqrt(level), db)
			if math.Abs(db) > bound {
				t.Errorf("%s at %g Hz has an rms of %.4f; want 0.2 within %.2f dB", name, rate, math.Sqrt(level), bound)
			}
		}
	}
}

func meanSquare(x []float64) float64 {
	var sum float64
	for _, y := range x {
		sum += y * y
	}
	return sum / float64(len(x))
}
