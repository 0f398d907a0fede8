package predict

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"lampblack/patch"
)

// lineOf returns the predicted line at hz, or one of nothing.
func lineOf(p Prediction, hz float64) Line {
	for _, l := range p.Lines {
		if math.Abs(l.Hz-hz) < 0.01 {
			return l
		}
	}
	return Line{Hz: hz, Level: math.Inf(-1)}
}

// modulated is a sine of fc whose phase is moved by one of fm: phase modulation
// needs no correction of the index for the sampling.
func modulated(t *testing.T, fc, fm, index float64) Prediction {
	d := &desk{t, build()}
	d.put("carrier", "oscillator", "frequency", fmt.Sprintf("%g Hz", fc))
	d.put("modulator", "oscillator", "frequency", fmt.Sprintf("%g Hz", fm))
	d.cord("modulator/out", "carrier/phase", fmt.Sprintf("%.12f deg", index*180/math.Pi))
	return Predict(*d.p, patch.Socket{Module: "carrier", Name: "out"}, usual)
}

// Source: Abramowitz & Stegun, tables 9.1 and 9.2.
func TestSidebandsAreThoseOfTheTable(t *testing.T) {
	for index, want := range map[float64][]float64{
		0.5:      {.938470, .242268, .030604, .002564, .000161, .000008, 0, 0, 0, 0, 0},
		1:        {.765198, .440051, .114903, .019563, .002477, .000250, .000021, .000002, 0, 0, 0},
		2:        {.223891, .576725, .352834, .128943, .033996, .007040, .001202, .000175, .000022, .000002, 0},
		2.404826: {0, .519147, .431755, .199000, .064747, .016389, .003405, .000601, .000092, .000013, .000002},
		5:        {-.177597, -.327579, .046565, .364831, .391232, .261141, .131049, .053376, .018405, .005520, .001468},
		8:        {.171651, .234636, -.112992, -.291132, -.105357, .185775, .337576, .320589, .223455, .126321, .060767},
	} {
		p := modulated(t, 10000, 150, index)
		for n, v := range want {
			for _, side := range []float64{-1, 1} {
				l := lineOf(p, 10000+side*float64(n)*150)
				if math.Abs(l.Amplitude-math.Abs(v)) > 1e-6 {
					t.Errorf("index %g, order %g: %.6f; want %.6f", index, side*float64(n), l.Amplitude, math.Abs(v))
				}
			}
		}
	}
}

// Ratios of carrier to modulator whose lines meet, at an index of 2: check by line
// test; A&S table 9.1 for the Bessel functions. Lines below 0 Hz come back with
// their sign turned. At 0 Hz a line of a sine vanishes.
func TestLinesThatComeBackMeetWithTheirSign(t *testing.T) {
	for _, c := range []struct {
		fc, fm float64
		want   map[float64]float64
	}{
		{100, 100, map[float64]float64{0: 0, 100: .1289, 200: .7057, 300: .3188, 400: .1360}},
		{100, 200, map[float64]float64{100: .8006, 200: 0, 300: .2239, 400: 0, 500: .4818}},
		{200, 280, map[float64]float64{40: 0, 80: .5767, 120: 0, 160: 0, 200: .2239, 360: .3528, 480: .5767, 640: .1289}},
	} {
		p := modulated(t, c.fc, c.fm, 2)
		for hz, want := range c.want {
			if l := lineOf(p, hz); math.Abs(l.Amplitude-want) > 5e-5 {
				t.Errorf("%g:%g, %g Hz: %.5f (%s: %s); want %.4f", c.fc, c.fm, hz, l.Amplitude, l.Name, l.Formula, want)
			}
		}
	}
	l := lineOf(modulated(t, 100, 200, 2), 100)
	if l.Meets != 1 || l.Name != "modulator - carrier" && l.Name != "carrier" || !strings.Contains(l.Formula, "J0(2)") && !strings.Contains(l.Formula, "J1(2)") {
		t.Errorf("the line at 100 Hz is %+v; want one of J0(2) and J1(2) that meet", l)
	}
}

// Source: trigonometric identity, sidebands of m/2.
func TestAmplitudeModulationIsThatOfTheIdentity(t *testing.T) {
	for m, want := range map[string]float64{"50 %": -12.041, "80 %": -7.959, "100 %": -6.021} {
		d := &desk{t, build()}
		d.put("c", "oscillator", "frequency", "1000 Hz")
		d.put("m", "oscillator", "frequency", "100 Hz")
		d.put("a", "amplifier", "depth", m)
		d.cord("c/out", "a/in", "")
		d.cord("m/out", "a/modulation", "")
		p := Predict(*d.p, patch.Socket{Module: "a", Name: "out"}, usual)
		for _, hz := range []float64{900, 1100} {
			if l := lineOf(p, hz); math.Abs(l.Level-want) > 0.001 {
				t.Errorf("m of %s, %g Hz: %.4f dB; want %.3f", m, hz, l.Level, want)
			}
		}
	}
	d := &desk{t, build()}
	d.put("c", "oscillator", "frequency", "440 Hz")
	d.put("m", "oscillator", "frequency", "100 Hz")
	d.put("r", "ring")
	d.cord("c/out", "r/carrier", "")
	d.cord("m/out", "r/signal", "")
	p := Predict(*d.p, patch.Socket{Module: "r", Name: "out"}, usual)
	if len(p.Lines) != 2 || math.Abs(lineOf(p, 340).Amplitude-0.5) > 1e-9 || math.Abs(lineOf(p, 540).Amplitude-0.5) > 1e-9 {
		t.Errorf("440 x 100 Hz gives %+v; want 340 and 540 Hz at 0.5", p.Lines)
	}
	if f := lineOf(p, 540).Formula; f != "sine x sine / 2 = 0.5" {
		t.Errorf("the formula is %q", f)
	}
}

// Source: Fourier series; mean of a pulse 2d - 1, nulls where n d is whole.
func TestHarmonicsArethoseOfFourier(t *testing.T) {
	for _, c := range []struct {
		shape, width string
		want         map[int]float64 // re the first, in dB; 1: the amplitude
	}{
		{"saw", "50 %", map[int]float64{1: .63662, 2: -6.021, 3: -9.542, 10: -20}},
		{"triangle", "50 %", map[int]float64{1: .81057, 2: -200, 3: -19.085, 9: -38.170}},
		{"pulse", "50 %", map[int]float64{1: 1.27324, 2: -200, 3: -9.542, 9: -19.085}},
		{"pulse", "25 %", map[int]float64{0: -.5, 1: .90032, 2: -3.010, 3: -9.542, 4: -200, 5: -13.979, 6: -12.553, 8: -200}},
		{"pulse", "10 %", map[int]float64{0: -.8, 1: .39345, 2: -.44, 3: -1.18, 5: -3.78, 9: -19.08, 10: -200}},
	} {
		d := &desk{t, build()}
		d.put("a", "oscillator", "frequency", "100 Hz", "shape", c.shape, "width", c.width)
		p := Predict(*d.p, patch.Socket{Module: "a", Name: "out"}, usual)
		first := lineOf(p, 100)
		for n, want := range c.want {
			l := lineOf(p, 100*float64(n))
			switch {
			case n < 2:
				if math.Abs(l.Amplitude-want) > 1e-5 {
					t.Errorf("%s %s, %d: %.6f; want %.5f", c.shape, c.width, n, l.Amplitude, want)
				}
			case want == -200:
				if l.Level-first.Level > -150 {
					t.Errorf("%s %s, %d: %.1f dB; want none", c.shape, c.width, n, l.Level)
				}
			case math.Abs(l.Level-first.Level-want) > 0.006:
				t.Errorf("%s %s, %d: %.4f dB; want %.3f", c.shape, c.width, n, l.Level-first.Level, want)
			}
		}
	}
}

// Source: Audio EQ Cookbook, W3C Note, 2021, by scipy.signal.freqz; Stilson & Smith
// 1996 for the ladder, at frequencies far below the rate.
func TestResponsesAreThoseOfTheCookbook(t *testing.T) {
	for _, c := range []struct {
		kind, out string
		settings  []string
		within    float64
		want      map[float64]float64
	}{
		{"filter", "low", []string{"cutoff", "1 kHz", "width", "Q 0.70710678"}, 1e-3, map[float64]float64{100: -.0004, 500: -.2622, 1000: -3.0103, 2000: -12.3749, 10000: -42.7383}},
		{"filter", "low", []string{"cutoff", "1 kHz", "width", "Q 5"}, 1e-3, map[float64]float64{100: .0853, 500: 2.4163, 1000: 13.9794, 2000: -9.7175, 10000: -42.6757}},
		{"filter", "band", []string{"cutoff", "440 Hz", "width", "Q 10"}, 1e-3, map[float64]float64{110: -31.4863, 220: -23.5441, 440: 0, 880: -23.5530, 5000: -41.3635, 418.56: -3.01, 462.54: -3.01}},
		{"filter", "band", []string{"cutoff", "1 kHz", "width", "Q 20"}, 1e-3, map[float64]float64{100: -45.946, 500: -29.563, 1000: 0, 2000: -29.609, 10000: -47.326}},
		{"ladder", "out", []string{"cutoff", "100 Hz", "resonance", "75 %", "drive", "0 dB"}, 0.01, map[float64]float64{0: -12.041, 100: 0}},
		{"ladder", "out", []string{"cutoff", "100 Hz", "resonance", "0 %", "drive", "0 dB"}, 0.01, map[float64]float64{43.498: -3.01, 100: -12.041}},
	} {
		d := &desk{t, build()}
		d.put("n", "noise")
		d.put("quiet", "amplifier", "level", "-60 dB")
		d.put("f", c.kind, c.settings...)
		d.cord("n/out", "quiet/in", "")
		d.cord("quiet/out", "f/in", "")
		for hz, want := range c.want {
			level, _, err := Response(*d.p, patch.Socket{Module: "quiet", Name: "out"}, patch.Socket{Module: "f", Name: c.out}, usual, []float64{hz})
			if err != nil {
				t.Fatal(err)
			}
			if within := max(c.within, 0.002*b2f(hz == 418.56 || hz == 462.54)); math.Abs(level[0]-want) > within {
				t.Errorf("%s %s %v at %g Hz: %.4f dB; want %.4f", c.kind, c.out, c.settings, hz, level[0], want)
			}
		}
	}
}

func b2f(b bool) float64 {
	if b {
		return 1
	}
	return 0
}
