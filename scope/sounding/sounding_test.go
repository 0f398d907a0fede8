package sounding

import (
	"fmt"
	"math"
	"math/cmplx"
	"testing"

	"lampblack/scope/scipy"
)

// biquad runs the difference equation of a filter of the second order, as it is
// written in Oppenheim and Schafer (direct form I).
func biquad(x []float64, b, a [3]float64) []float64 {
	y := make([]float64, len(x))
	at := func(s []float64, i int) float64 {
		if i < 0 {
			return 0
		}
		return s[i]
	}
	for i := range x {
		y[i] = b[0]*x[i] + b[1]*at(x, i-1) + b[2]*at(x, i-2) - a[1]*at(y, i-1) - a[2]*at(y, i-2)
	}
	return y
}

// lowPass is the analogue low-pass of the second order by the bilinear transform.
// Source: Audio EQ Cookbook, W3C Note, 2021.
func lowPass(hz, q, rate float64) (b, a [3]float64) {
	w := 2 * math.Pi * hz / rate
	alpha := math.Sin(w) / 2 / q
	a0 := 1 + alpha
	k := (1 - math.Cos(w)) / a0
	return [3]float64{k / 2, k, k / 2}, [3]float64{1, -2 * math.Cos(w) / a0, (1 - alpha) / a0}
}

const rate = 48000.0

func impulse(n int) []float64 {
	x := make([]float64, n)
	x[0] = 1
	return x
}

func TestAnImpulseTellsTheResponseThatScipyComputes(t *testing.T) {
	for _, c := range []struct{ hz, q float64 }{{100, math.Sqrt2 / 2}, {1000, 10}, {9000, 2}} {
		b, a := lowPass(c.hz, c.q, rate)
		hz := Steps(20, 20000, 60)
		var want struct{ Re, Im, Delay []float64 }
		scipy.Ask(t, fmt.Sprintf("w = np.geomspace(20, 20000, 60)\nb, a = %v, %v\n_, h = s.freqz(b, a, w, fs=48000)\n"+
			"_, g = s.group_delay((b, a), w, fs=48000)\nprint(json.dumps({'Re': list(h.real), 'Im': list(h.imag), 'Delay': list(g)}))",
			list(b), list(a)), nil, &want)
		answer := Answer{Samples: biquad(impulse(60000), b, a), Rate: rate}
		for i, f := range hz {
			got, delay := answer.At(f)
			if d := cmplx.Abs(got - complex(want.Re[i], want.Im[i])); d > 1e-9*math.Max(1, cmplx.Abs(got)) {
				t.Errorf("%g Hz, Q %g, at %.1f Hz: %v is off by %.3g", c.hz, c.q, f, got, d)
			}
			if d := math.Abs(delay*rate - want.Delay[i]); d > 1e-3 && d > 1e-6*want.Delay[i] {
				t.Errorf("%g Hz, Q %g, at %.1f Hz: delayed by %.6f samples, scipy says %.6f", c.hz, c.q, f, delay*rate, want.Delay[i])
			}
		}
	}
}

func list(v [3]float64) string { return fmt.Sprintf("[%.17g, %.17g, %.17g]", v[0], v[1], v[2]) }

// Of a straight system a sweep must tell what an impulse tells.
func TestASweepTellsWhatAnImpulseTells(t *testing.T) {
	b, a := lowPass(1000, 3, rate)
	s := NewSweep(2, 0.49*rate, 3, rate)
	x := append(append([]float64(nil), s.Samples...), make([]float64, 24000)...)
	for i := range x {
		x[i] *= 0.1
	}
	answers := s.Separate(biquad(x, b, a), 0.1, 3)
	straight := Answer{Samples: biquad(impulse(60000), b, a), Rate: rate}
	hz := Steps(20, 18000, 80)
	db, at := Worst(straight.Gains(hz), answers[0].Gains(hz), 100)
	t.Logf("worst %.5f dB at %.0f Hz", db, hz[at])
	if db > 0.01 {
		t.Errorf("the sweep is off by %.4f dB at %.0f Hz", db, hz[at])
	}
	for n, h := range answers[1:] {
		if g, _ := h.At(float64(n+2) * 500); DB(g) > -120 {
			t.Errorf("of a straight system harmonic %d reads %.1f dB", n+2, DB(g))
		}
	}
}

// x + 0.1 x^2 + 0.05 x^3 of a sine of amplitude A: by cos^2 and cos^3 the second
// harmonic is 0.1 A/2, the third 0.05 A^2/4, and the gain 1 + 3/4 0.05 A^2
// (Abramowitz & Stegun 4.3.27 and its like).
func TestASweepSeparatesHarmonics(t *testing.T) {
	const amplitude = 0.5
	s := NewSweep(2, 0.49*rate, 3, rate)
	y := make([]float64, len(s.Samples)+24000)
	for i, v := range s.Samples {
		x := amplitude * v
		y[i] = x + 0.1*x*x + 0.05*x*x*x
	}
	answers := s.Separate(y, amplitude, 4)
	for n, want := range []float64{1 + 0.75*0.05*amplitude*amplitude, 0.1 * amplitude / 2, 0.05 * amplitude * amplitude / 4} {
		for _, hz := range []float64{50, 200, 1000, 5000} {
			g, _ := answers[n].At(float64(n+1) * hz)
			if d := DB(g) - 20*math.Log10(want); math.Abs(d) > 0.05 {
				t.Errorf("harmonic %d of %g Hz is %.3f dB off %.4g", n+1, hz, d, want)
			}
		}
	}
}

// An RC charges to 63.2 % in one time constant (first-order circuit theory).
func TestAShapeIsReadByItsTimeConstants(t *testing.T) {
	const attack, decay, sustain, release, gate = 0.0103, 0.2, 0.7, 0.3, 1.0
	y := make([]float64, 3*48000)
	for i := range y {
		x := float64(i) / rate
		held := func(x float64) float64 {
			if x < attack {
				return (1 - math.Exp(-x/attack)) / (1 - math.Exp(-1))
			}
			return sustain + (1-sustain)*math.Exp(-(x-attack)/decay)
		}
		if y[i] = held(x); x > gate {
			y[i] = held(gate) * math.Exp(-(x-gate)/release)
		}
	}
	s := ReadShape(y, rate, gate)
	for _, c := range []struct {
		what            string
		got, want, part float64
	}{
		{"attack", s.Top.X, attack, 0.01}, {"its time constant", s.AttackTau, attack, 1e-4}, {"decay", s.DecayTau, decay, 1e-4},
		{"sustain", s.Sustain, sustain, 1e-4}, {"release", s.ReleaseTau, release, 1e-4},
	} {
		if math.Abs(c.got/c.want-1) > c.part {
			t.Errorf("%s reads %.6f; want %.6f", c.what, c.got, c.want)
		}
	}
	for i := range y { // a straight rise and fall has no time constant
		y[i] = math.Max(0, math.Min(float64(i)/4800, 2-float64(i)/4800))
	}
	if s := ReadShape(y, rate, 0); !math.IsInf(s.AttackTau, 1) || math.Abs(s.Top.X-0.1) > 1e-4 {
		t.Errorf("of a straight rise of 100 ms it reads %+v", s)
	}
}

// Fourier series of the handbooks: of a saw of +-1 harmonic n has 2/(pi n).
func TestALineIsAFourierCoefficient(t *testing.T) {
	const hz = 100.7
	x := make([]float64, 48000)
	for i := range x {
		for n := 1.0; n*hz < 20000; n++ {
			x[i] += 2 / math.Pi / n * math.Sin(2*math.Pi*math.Mod(n*hz*float64(i)/rate, 1))
		}
	}
	for n := 1.0; n < 20; n++ {
		a, phase := Line(x, n*hz, rate)
		if math.Abs(20*math.Log10(a/(2/math.Pi/n))) > 1e-6 || math.Abs(phase+math.Pi/2) > 1e-6 {
			t.Errorf("harmonic %g: %.9f, %.6f rad; want %.9f and a sine", n, a, phase, 2/math.Pi/n)
		}
	}
}

// Near is At at the places that it tells.
func TestManyFrequenciesAtOnceAreTheSame(t *testing.T) {
	b, a := lowPass(777, 30, rate)
	answer := Answer{Samples: biquad(impulse(20000), b, a), Rate: rate, First: -37}
	places, gains, delays := answer.Near(Steps(20, 20000, 200))
	if len(places) < 195 || len(places) != len(delays) {
		t.Fatalf("%d places of 200", len(places))
	}
	for i, hz := range places {
		g, delay := answer.At(hz)
		if cmplx.Abs(g-gains[i]) > 1e-9 || math.Abs(delay-delays[i]) > 1e-9 {
			t.Errorf("at %.2f Hz: %v, %g s; want %v, %g s", hz, gains[i], delays[i], g, delay)
		}
		if i > 0 && hz <= places[i-1] {
			t.Errorf("%.2f Hz comes after %.2f Hz", hz, places[i-1])
		}
	}
}
