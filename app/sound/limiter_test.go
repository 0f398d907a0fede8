package sound

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/dsp/fourier"
)

// AES17 takes all that is not the tone for distortion and noise.
func TestALimitedToneStaysATone(t *testing.T) {
	for _, hz := range []float64{30, 50.5, 97.5, 440.5, 997, 5000} {
		for _, over := range []float64{1, 6, 20} {
			c := newChain(&tone{Hz: hz, Level: ceiling * math.Pow(10, over/20)}, 48000)
			c.setLevel(MaxLevel)
			x := render(c, 4)[96000:] // lines are half a hertz apart
			power, rest := 0.0, 0.0
			for k, v := range fourier.NewFFT(len(x)).Coefficients(nil, x) {
				if p := real(v)*real(v) + imag(v)*imag(v); float64(k)/2 == hz {
					power = p
				} else {
					rest += p
				}
			}
			db := 10 * math.Log10(rest/power)
			t.Logf("%g Hz, %g dB over the ceiling: %.1f dB", hz, over, db)
			if db > -80 {
				t.Errorf("a tone of %g Hz, %g dB over the ceiling, comes out with %.1f dB of distortion; want -80 at most", hz, over, db)
			}
		}
	}
}

// After a peak the gain waits, then comes back with its time constant, and all
// of it.
func TestTheLimiterLetsGo(t *testing.T) {
	var l limiter
	l.init(48000)
	gainAfter := func(seconds float64) (gain float64) {
		for range int(seconds * 48000) {
			_, _, gain = l.next(0, 0)
		}
		return gain
	}
	for range 100 {
		l.next(2*ceiling, 0)
	}
	if g := gainAfter(holdSeconds); math.Abs(g-0.5) > 0.001 {
		t.Errorf("%g s after a peak the gain is %.3f; want 0.5 still", holdSeconds, g)
	}
	if g := gainAfter(releaseSeconds + 0.001); math.Abs(g-(1-0.5/math.E)) > 0.01 {
		t.Errorf("a time constant later it is %.3f; want %.3f", g, 1-0.5/math.E)
	}
	if g := gainAfter(5); g != 1 {
		t.Errorf("in the end it is %g; want exactly 1", g)
	}
}

func TestTheLowestOfTheLastValues(t *testing.T) {
	for _, n := range []int{1, 2, 7, 100} {
		var w lowest
		w.init(n)
		var all []float64
		for i := range 2000 {
			all = append(all, math.Floor(5*rand.Float64()+3*math.Sin(float64(i)/50)))
			if got, want := w.next(all[i]), slices.Min(all[max(0, i+1-n):]); got != want {
				t.Fatalf("of the last %d of %d values the lowest is %g, want %g", n, i+1, got, want)
			}
		}
	}
}

// Listening from one take to the next must not click.
func TestAnAuditionThatIsReplacedFades(t *testing.T) {
	c := newChain(silence{}, 48000)
	c.setLevel(-1)
	loud, quiet := make([]float64, 96000), make([]float64, 96000)
	for i := range loud {
		loud[i] = 0.8
	}
	c.audition.Store(&audition{left: loud, right: loud, gain: 1})
	last := render(c, 1)[47999]
	c.audition.Store(&audition{left: quiet, right: quiet, gain: 1})
	for i, x := range render(c, 0.2) {
		if step := math.Abs(x - last); step > 0.001 { // 60 dB under full scale
			t.Fatalf("sample %d after it was replaced jumps by %g", i, step)
		}
		last = x
	}
	if last != 0 {
		t.Errorf("it still sounds, at %g", last)
	}
}
