package loop

import (
	"fmt"
	"math"
	"testing"

	"lampblack/patch/dsp/hash"
)

// run lets a loop ring for n samples of in, tuned as t says from sample to
// sample, in blocks of the given lengths in turn.
func run(l *Loop, n int, in func(n int) float64, t func(n int) Tuning, blocks ...int) []float64 {
	x := make([]float64, n)
	for i := range x {
		x[i] = in(i)
	}
	var clamped bool
	for at, k := 0, 0; at < n; k++ {
		end := min(at+blocks[k%len(blocks)], n)
		for at < end {
			if l.Left() == 0 {
				l.Tune(t(at))
			}
			m := min(l.Left(), end-at)
			l.Run(x[at:at+m], x[at:at+m], nil, &clamped)
			at += m
		}
	}
	return x
}

func still(t Tuning) func(int) Tuning { return func(int) Tuning { return t } }

func impulse(n int) float64 {
	if n == 0 {
		return 1
	}
	return 0
}

// ring returns frequency and T60 of the resonance near hz, from how far its
// phase and level go between two stretches of x, each seen through a window
// whose side lobes fall fast (the square of Hann's).
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
	turn := math.Remainder(p1-p0, 2*math.Pi)
	span := float64(half) / rate
	return hz + turn/(2*math.Pi)/span, -span * math.Log(1000) / math.Log(l1/l0)
}

// The claim: the lowest resonance is in tune within 0.01 cent and its T60 within
// 0.1 %, from 20 Hz to 12 kHz, at any rate and damping, with either sign.
// Sources: Jaffe and Smith, Computer Music Journal 7(2), 1983 (phase of a whole
// round); T60 = D ln 1000/(-ln g) of a round of D seconds and gain g.
func TestPitchAndDecayAreWhatIsWritten(t *testing.T) {
	for _, rate := range []float64{44100, 48000, 96000} {
		for _, odd := range []bool{false, true} {
			for _, damping := range []float64{1, 3, 30, 1000} {
				var cents, decay float64
				for _, hz := range []float64{20, 27.5, 55.3, 110, 261.6256, 440, 1046.5, 2093, 3951.07, 4186, 7902.13, 11000, 12000} {
					const t60 = 5.0
					tuning := Tuning{Hz: hz, Odd: odd, T60: t60, Damping: damping}
					x := run(New(rate, 20), int(2*rate), impulse, still(tuning), 64)
					want := hz
					if odd {
						want /= 2
					}
					f, d := ring(x[int(rate/2):], rate, want)
					cents = max(cents, math.Abs(1200*math.Log2(f/want)))
					decay = max(decay, math.Abs(d/t60-1))
				}
				t.Logf("%5g Hz, odd %5v, damping %4g, 20 Hz to 12 kHz: off by %.5f cent at most, T60 by %.4f %%", rate, odd, damping, cents, 100*decay)
				if cents > 0.01 || decay > 0.001 {
					t.Errorf("%g Hz, odd %v, damping %g: off by %.4f cent, T60 by %.3f %%; want 0.01 and 0.1", rate, odd, damping, cents, 100*decay)
				}
			}
		}
	}
}

// The highest resonances die as many times faster as the damping says: of a
// loop of 500 Hz at 48 kHz, the 45th of 48 harmonics.
func TestDampingIsHowMuchFasterTheTopDies(t *testing.T) {
	for _, damping := range []float64{1, 2, 10} {
		x := run(New(48000, 20), 48000, impulse, still(Tuning{Hz: 500, T60: 4, Damping: damping}), 64)
		_, low := ring(x, 48000, 500)
		_, high := ring(x[:24000], 48000, 22500)
		t.Logf("damping %g: T60 of the first harmonic %.3f s, of the 45th %.3f s", damping, low, high)
		if got := low / high; math.Abs(got/damping-1) > 0.02 {
			t.Errorf("damping %g: the 45th harmonic dies %.3f times as fast", damping, got)
		}
	}
}

// Whatever moves, the loop is fed by what it was given: with the gain of a round
// below 1 it never grows past what a still loop of the longest decay would hold.
func TestNothingGrowsHoweverItMoves(t *testing.T) {
	random := func(k uint64, n int) float64 { return 0.5 + 0.5*hash.Signed(k, uint64(n)) }
	for name, tuning := range map[string]func(n int) Tuning{
		"any pitch": func(n int) Tuning {
			hz := 20 * math.Pow(600, random(1, n))
			return Tuning{Hz: hz, T60: 60, Damping: 1}
		},
		"all": func(n int) Tuning {
			hz := 20 * math.Pow(600, random(1, n))
			return Tuning{Hz: hz, T60: math.Pow(60, random(2, n)), Damping: math.Pow(1000, random(3, n)), Odd: random(4, n) > 0.5}
		},
		"vibrato": func(n int) Tuning {
			hz := 440 * math.Exp2(0.3*math.Sin(float64(n)/300))
			return Tuning{Hz: hz, T60: 60, Damping: 2}
		},
	} {
		x := run(New(48000, 20), 480000, func(n int) float64 {
			if n < 2400 {
				return hash.Signed(9, uint64(n))
			}
			return 0
		}, tuning, 64)
		peak := func(x []float64) (p float64) {
			for _, y := range x {
				p = max(p, math.Abs(y))
			}
			return p
		}
		first, last := peak(x[2400:50400]), peak(x[432000:])
		t.Logf("%s: peak %.3f in the first second after the noise, %.3f in the last of ten", name, first, last)
		if last > first || first > 60 {
			t.Errorf("%s: it grows from %g to %g", name, first, last)
		}
	}
}

func TestBlockLengthDoesNotMatter(t *testing.T) {
	tuning := func(n int) Tuning {
		hz := 300 + 200*math.Sin(float64(n)/2000)
		return Tuning{Hz: hz, T60: 2, Damping: 4}
	}
	noise := func(n int) float64 { return hash.Signed(3, uint64(n)) }
	want := run(New(48000, 20), 5000, noise, tuning, 64)
	for _, blocks := range [][]int{{1}, {7}, {64, 3}} {
		for i, y := range run(New(48000, 20), 5000, noise, tuning, blocks...) {
			if y != want[i] {
				t.Fatalf("blocks of %v change the sound from sample %d on", blocks, i)
			}
		}
	}
}

// A still loop and a slow glide sound alike but for the pitch: no line of a
// click between the harmonics. The measure is the loudest line of the second
// difference against that of a still loop.
func TestAGlideDoesNotClick(t *testing.T) {
	rough := func(tuning func(n int) Tuning) float64 {
		x := run(New(48000, 20), 48000, func(n int) float64 { return math.Sin(2*math.Pi*440*float64(n)/48000) * 0.01 }, tuning, 64)
		worst := 0.0
		for i := 24000; i < len(x)-4; i++ { // fourth difference: a tone of 440 Hz is 99 dB down in it
			worst = max(worst, math.Abs(x[i]-4*x[i+1]+6*x[i+2]-4*x[i+3]+x[i+4]))
		}
		return 20 * math.Log10(worst)
	}
	glide := rough(func(n int) Tuning {
		hz := 440 * math.Exp2(0.02*math.Sin(float64(n)/4000))
		return Tuning{Hz: hz, T60: 1, Damping: 4}
	})
	t.Logf("largest fourth difference of a glide: %.1f dB", glide)
	if glide > -70 {
		t.Errorf("a glide clicks at %.1f dB; want -70", glide)
	}
}

func TestAngleIsTheArcTangent(t *testing.T) {
	for x := 0.0; x <= 1; x += 0.001 {
		if got, want := angle(x), math.Atan(x)/(2*math.Pi); math.Abs(got-want) > 1e-12 {
			t.Fatalf("angle(%g) is %.15f; want %.15f", x, got, want)
		}
	}
}

func TestSilenceBecomesExact(t *testing.T) {
	x := run(New(48000, 20), 96000, impulse, still(Tuning{Hz: 440, T60: 0.1, Damping: 4}), 64)
	if y := x[len(x)-1]; y != 0 {
		t.Errorf("after 20 times T60 the line still holds %g", y)
	}
}

func BenchmarkLoop(b *testing.B) {
	for _, moving := range []bool{false, true} {
		b.Run(fmt.Sprintf("moving=%v", moving), func(b *testing.B) {
			l, x, clamped, n := New(48000, 20), make([]float64, Segment), false, 0
			for b.Loop() {
				hz := 440.0
				if moving {
					n++
					hz += float64(n & 63)
				}
				l.Tune(Tuning{Hz: hz, T60: 0.5, Damping: 4})
				l.Run(x, x, nil, &clamped)
				x[0] = 0.001
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*Segment), "ns/sample")
		})
	}
}
