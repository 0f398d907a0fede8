package engine

import (
	"fmt"
	"maps"
	"math"
	"testing"

	"gonum.org/v1/gonum/dsp/fourier"

	"lampblack/patch"
	"lampblack/patch/memory"
	"lampblack/patch/module"
)

// lines returns the amplitudes of all lines of p's left side, by whole Hz: the
// transform of one second, taken after a second in which everything settles.
// Frequencies in p are whole numbers of Hz, so that no window is needed.
func lines(t *testing.T, p patch.Patch) []float64 {
	t.Helper()
	r := render(t, p, noMemory, RenderOptions{Seconds: 2, Kinds: defaultKinds})
	amplitudes := make([]float64, testRate/2)
	for k, c := range fourier.NewFFT(testRate).Coefficients(nil, r.Left[testRate:])[:testRate/2] {
		amplitudes[k] = 2 * math.Hypot(real(c), imag(c)) / testRate
	}
	return amplitudes
}

func decibels(ratio float64) float64 { return 20 * math.Log10(ratio) }

// modulated is a sine of 1 kHz through an amplifier.
func modulated() patch.Patch {
	p := build([]string{"carrier", "oscillator", "modulator", "oscillator", "amp", "amplifier", "out", "output"},
		cord{from: "carrier", out: "out", to: "amp", in: "in"}, cord{from: "amp", out: "out", to: "out", in: "left"})
	p = setting(p, "carrier", "frequency", 1000, "Hz")
	p = setting(p, "modulator", "frequency", 100, "Hz")
	p = setting(p, "amp", "level", -12, "dB")
	return setting(p, "out", "level", 0, "dB")
}

// Source: (1 + m cos a) sin b = sin b + m/2 sin(b+a) + m/2 sin(b-a), the
// trigonometric identity of amplitude modulation.
func TestAmplitudeModulationPutsSidebandsAtHalfTheDepth(t *testing.T) {
	for _, m := range []float64{0.5, 0.8, 1} {
		p := modulated()
		p.Cords = append(p.Cords, patch.Cord{From: patch.Socket{Module: "modulator", Name: "out"}, To: patch.Socket{Module: "amp", Name: "modulation"}})
		a := lines(t, setting(p, "amp", "depth", 100*m, "%"))
		if db := decibels(a[1000]); math.Abs(db+12) > 0.001 {
			t.Errorf("depth %g: the carrier is at %.4f dB, want -12", m, db)
		}
		for _, f := range []int{900, 1100} {
			if got, want := decibels(a[f]/a[1000]), decibels(m/2); math.Abs(got-want) > 0.001 {
				t.Errorf("depth %g: %d Hz is %.4f dB re carrier, want %.4f", m, f, got, want)
			}
		}
		expectNoOther(t, a, -120, 900, 1000, 1100)
	}
}

// A tremolo of full depth at 6 Hz, by a cord into the level: no line but carrier
// and sidebands above -120 dB, for the level moves with every sample.
func TestATremoloByACordLeavesNoSpuriousLine(t *testing.T) {
	p := modulated()
	p.Modules[1] = patch.Module{Name: "modulator", Kind: "slow"}
	p = setting(p, "modulator", "rate", 6, "Hz")
	p.Cords = append(p.Cords, patch.Cord{
		From: patch.Socket{Module: "modulator", Name: "out"}, To: patch.Socket{Module: "amp", Name: "level"},
		Depth: patch.Setting{Value: 0.5, Unit: "x"}, // 1 - 0.5 + 0.5 s: from 1 to 0
	})
	a := lines(t, p)
	for _, f := range []int{994, 1006} {
		// The level stops at -96 dB, 2e-5 of full depth before 0.
		if got := decibels(a[f] / a[1000]); math.Abs(got-decibels(0.5)) > 0.001 {
			t.Errorf("%d Hz is %.4f dB re carrier, want -6.0206", f, got)
		}
	}
	expectNoOther(t, a, -120, 994, 1000, 1006)
}

// expectNoOther allows no line above limit (dB re the line at 1 kHz) but these.
func expectNoOther(t *testing.T, amplitudes []float64, limit float64, allowed ...int) {
	t.Helper()
	worst, at := math.Inf(-1), 0
	for f, a := range amplitudes {
		wanted := false
		for _, w := range allowed {
			wanted = wanted || f == w
		}
		if db := decibels(a / amplitudes[1000]); !wanted && db > worst {
			worst, at = db, f
		}
	}
	t.Logf("worst other line: %.1f dB at %d Hz", worst, at)
	if worst > limit {
		t.Errorf("a line of %.1f dB at %d Hz; the limit is %g", worst, at, limit)
	}
}

// Lines of a carrier whose frequency is moved linearly: the line n sidebands out
// is |Jn(index)|, index = deviation / modulating frequency.
// Source: Abramowitz & Stegun, tables 9.1 and 9.2; Chowning, JAES 21(7), 1973.
func TestFrequencyModulationFollowsTheBesselFunctions(t *testing.T) {
	for _, test := range []struct {
		index float64
		j     [5]float64
	}{
		{0.5, [5]float64{.938470, .242268, .030604, .002564, .000161}},
		{2, [5]float64{.223891, .576725, .352834, .128943, .033996}},
		{5, [5]float64{-.177597, -.327579, .046565, .364831, .391232}},
	} {
		p := modulated()
		p = setting(p, "carrier", "frequency", 8000, "Hz")
		p = setting(p, "amp", "level", 0, "dB")
		p.Cords = append(p.Cords, patch.Cord{
			From: patch.Socket{Module: "modulator", Name: "out"}, To: patch.Socket{Module: "carrier", Name: "frequency"},
			Depth: patch.Setting{Value: 100 * test.index, Unit: "Hz"},
		})
		a := lines(t, p)
		for n, j := range test.j {
			for _, f := range []int{8000 - 100*n, 8000 + 100*n} {
				if math.Abs(a[f]-math.Abs(j)) > 2e-5 { // the table's last digit, and the sum that stands for the integral
					t.Errorf("index %g: line %d (%d Hz) is %.6f, want %.6f", test.index, n, f, a[f], math.Abs(j))
				}
			}
		}
	}
}

// Equal temperament through memory, cord and oscillator: f = 440 * 2^((n-69)/12)
// for MIDI note n. Source: ISO 16:1975 (A4 = 440 Hz); MIDI Tuning Standard.
func TestNotesSoundInEqualTemperament(t *testing.T) {
	for _, test := range []struct {
		midi int
		hz   float64
	}{{21, 27.5}, {36, 65.4064}, {60, 261.6256}, {61, 277.1826}, {69, 440}, {72, 523.2511}, {96, 2093.0045}, {108, 4186.0090}} {
		t.Run(fmt.Sprint("note ", test.midi), func(t *testing.T) {
			p := build([]string{"keys", "memory", "tone", "oscillator", "out", "output"},
				cord{"keys", "pitch", "tone", "frequency", patch.Setting{Value: 1, Unit: "oct"}}, cord{from: "tone", out: "out", to: "out", in: "left"})
			m := memory.Memory{Length: 2, Notes: []memory.Note{{At: 0, For: 2, Pitch: float64(test.midi-69) / 12, Velocity: 1}}}
			r := render(t, setting(p, "out", "level", 0, "dB"), m, RenderOptions{Seconds: 2, Kinds: defaultKinds})
			got := cycles(r.Left) * testRate
			if cents := 1200 * math.Log2(got/test.hz); math.Abs(cents) > 0.01 {
				t.Errorf("%.5f Hz, %.4f cent from %.4f", got, cents, test.hz)
			}
		})
	}
}

// cycles returns the cycles a sample of a sine: from its first to its last
// rising zero, found by the sine through the two samples around each.
func cycles(x []float64) float64 {
	count, first, last := 0, 0.0, 0.0
	for i := 1; i < len(x); i++ {
		if !(x[i-1] < 0 && x[i] >= 0) {
			continue
		}
		a, b := math.Asin(x[i-1]/0.9999999999), math.Asin(x[i]/0.9999999999)
		at := float64(i-1) - a/(b-a)
		if count == 0 {
			first = at
		}
		last = at
		count++
	}
	return float64(count-1) / (last - first)
}

// Two numbers that are moved by each other, in octaves, decibels, factors and
// plainly: a loop in which one wrong bit soon changes all others. The hash is our
// last one; it changes when the engine's arithmetic does, or when a processor
// rounds otherwise.
func TestTheEnginesArithmeticIsTheSameOnEveryProcessor(t *testing.T) {
	p := build([]string{"a", "value", "b", "value", "n", "noise", "n2", "noise", "half", "half", "out", "output"},
		cord{"n", "out", "a", "value", patch.Setting{Value: 0.75, Unit: "oct"}},
		cord{"b", "out", "a", "value", patch.Setting{Value: -0.3, Unit: "x"}},
		cord{"n2", "out", "a", "value", patch.Setting{Value: 0.2}},
		cord{"a", "out", "b", "value", patch.Setting{Value: -7, Unit: "dB"}},
		cord{"half", "out", "b", "value", patch.Setting{Value: 0.6}},
		cord{from: "a", out: "out", to: "half", in: "in"},
		cord{from: "a", out: "out", to: "out", in: "left"}, cord{from: "b", out: "out", to: "out", in: "right"})
	kinds := set{"noise": {Kind: patch.Kind{Name: "noise", Outputs: out("out")}, New: func(module.Setup) module.Sound { return &xorshift{1} }}}
	maps.Copy(kinds, testKinds)
	p = setting(setting(p, "a", "value", 0.4, ""), "b", "value", 0.7, "")
	r := render(t, p, noMemory, RenderOptions{Seconds: 1, Kinds: kinds})
	const last = "4295c776f7c4dec6c61eeae5d2ff51265945c35434bc24e0cd643de84f7f50ae"
	if got := fmt.Sprintf("%x", r.SHA256()); got != last {
		t.Errorf("SHA-256 %s\nwas     %s (peak %g)", got, last, r.Peak())
	}
}

// xorshift is noise of +-1 in whole-number arithmetic (Marsaglia, J. Stat. Soft.
// 8(14), 2003).
type xorshift struct{ x uint64 }

func (s *xorshift) Block(b *module.Block) {
	for i := range b.N {
		s.x ^= s.x << 13
		s.x ^= s.x >> 7
		s.x ^= s.x << 17
		b.Out[0][i] = float64(int64(s.x)) / (1 << 63)
	}
}
