package probing

import (
	"math"
	"testing"

	"lampblack/patch"
	"lampblack/patch/kind"
	"lampblack/scope/sounding"
)

// First-order circuit theory: 63.2 % of the way in a time constant.
func TestEnvelopesMeasureTheirTimeConstants(t *testing.T) {
	for _, c := range []struct {
		kind, in         string
		settings         []string
		gate             float64
		top              float64 // when it is reached, in s
		decay, sustain   float64
		release          float64
		attackTau, which float64
	}{
		{kind: "envelope", settings: []string{"attack", "50 ms", "decay", "0.2 s", "sustain", "70 %", "release", "0.3 s"}, gate: 1,
			top: 0.05, decay: 0.2, sustain: 0.7, release: 0.3, attackTau: 0.05},
		{kind: "ahd", settings: []string{"attack", "20 ms", "hold", "0.1 s", "decay", "0.4 s"}, gate: 3,
			top: 0.02, decay: 0.4, attackTau: 0.02, release: math.NaN()},
		{kind: "slew", in: "in", settings: []string{"rise", "0.1 s", "fall", "0.2 s", "curve", "exponential"}, gate: 0.5,
			top: 0.5, decay: math.NaN(), sustain: math.NaN(), release: 0.2, attackTau: 0.1},
	} {
		w := alone(t, c.in, "out", c.kind, c.settings...)
		seconds := w.ShapeSeconds(c.gate)
		y, at, err := w.Gate(c.gate, seconds)
		if err != nil {
			t.Fatal(err)
		}
		s := sounding.ReadShape(y, at, c.gate)
		for _, f := range []struct {
			what      string
			got, want float64
		}{{"top after", s.Top.X, c.top}, {"attack's time constant", s.AttackTau, c.attackTau}, {"decay", s.DecayTau, c.decay}, {"sustain", s.Sustain, c.sustain}, {"release", s.ReleaseTau, c.release}} {
			if f.want == f.want && math.Abs(f.got-f.want) > 1e-3*f.want+1e-6 {
				t.Errorf("%s: %s %.6f; want %.6f", c.kind, f.what, f.got, f.want)
			}
		}
		times := make([]float64, len(y))
		for i := range times {
			times[i] = float64(i) / at
		}
		computed, err := w.Shape(c.gate, times)
		if err != nil {
			t.Fatal(err)
		}
		worst := 0.0
		for i := range computed {
			worst = math.Max(worst, math.Abs(computed[i]-y[i]))
		}
		t.Logf("%s: computed against measured: %.2g of the top at worst", c.kind, worst)
		if len(y) < int(seconds*at) || worst > 1e-3 {
			t.Errorf("%s: %d samples, computed and measured differ by %.4f", c.kind, len(y), worst)
		}
	}
}

func TestAContourIsDrawnAndRunAlike(t *testing.T) {
	w := alone(t, "", "out", "contour", "sustain", "0")
	y, at, err := w.Gate(1, w.ShapeSeconds(1))
	if err != nil {
		t.Fatal(err)
	}
	var times, want []float64
	for i := 0; i < len(y); i += 100 {
		times, want = append(times, float64(i)/at), append(want, y[i])
	}
	got, err := w.Shape(10, times)
	if err != nil {
		t.Fatal(err)
	}
	for i := range got {
		if math.Abs(got[i]-want[i]) > 2e-3 {
			t.Fatalf("at %.3f s computed %.4f, measured %.4f", times[i], got[i], want[i])
		}
	}
}

// Fourier series: saw 2/(pi n), triangle 8/(pi n)^2 (n odd), pulse 4/(pi n)
// |sin(pi n w)|.
func TestACycleHasItsFourierSeries(t *testing.T) {
	for _, c := range []struct {
		shape string
		want  func(n float64) float64
	}{
		{"sine", func(n float64) float64 { return map[float64]float64{1: 1}[n] }},
		{"saw", func(n float64) float64 { return 2 / math.Pi / n }},
		{"triangle", func(n float64) float64 { return math.Abs(math.Sin(math.Pi*n/2)) * 8 / (math.Pi * math.Pi * n * n) }},
		{"pulse", func(n float64) float64 { return 4 / math.Pi / n * math.Abs(math.Sin(math.Pi*n*0.3)) }},
	} {
		w := alone(t, "", "out", "oscillator", "shape", c.shape, "frequency", "110 Hz", "width", "30 %")
		cycle, err := w.ComputedCycle()
		if err != nil {
			t.Fatal(err)
		}
		if cycle, err = w.Measure(cycle); err != nil {
			t.Fatal(err)
		}
		if math.Abs(cycle.Hz-110) > 1e-6 || len(cycle.Computed) != cyclePoints || len(cycle.Measured) < 50 {
			t.Fatalf("%s: %g Hz, %d and %d points", c.shape, cycle.Hz, len(cycle.Computed), len(cycle.Measured))
		}
		for _, h := range cycle.Harmonics {
			want := 20 * math.Log10(c.want(float64(h.N)))
			if want > -80 && (math.Abs(h.Computed-want) > 0.01 || math.Abs(h.Measured-want) > 0.01) {
				t.Errorf("%s: harmonic %d computed %.3f, measured %.3f, want %.3f dB", c.shape, h.N, h.Computed, h.Measured, want)
			}
		}
		worst := 0.0
		for _, p := range cycle.Measured {
			k := p.X * (cyclePoints - 1)
			i := min(int(k), cyclePoints-2)
			a, b := cycle.Computed[i].Y, cycle.Computed[i+1].Y
			if math.Abs(b-a) < 0.05 { // not within a jump
				worst = math.Max(worst, math.Abs(a+(b-a)*(k-float64(i))-p.Y))
			}
		}
		t.Logf("%s: the cycles differ by %.2g at worst", c.shape, worst)
		if worst > 0.02 {
			t.Errorf("%s: the cycles differ by %.4f", c.shape, worst)
		}
	}
}

// The curves are those of the module's help: tanh, clipping, sin(pi x/2).
func TestTransferCurves(t *testing.T) {
	for _, c := range []struct {
		kind, in, out string
		settings      []string
		want          func(x float64) float64
		within        float64
	}{
		{"saturation", "in", "out", []string{"drive", "12 dB", "curve", "soft"}, func(x float64) float64 { return math.Tanh(math.Pow(10, 0.6) * x) }, 1e-3},
		{"saturation", "in", "out", []string{"drive", "12 dB", "curve", "fold"}, func(x float64) float64 { return math.Sin(math.Pi / 2 * math.Pow(10, 0.6) * x) }, 2e-3},
		{"scale", "in", "out", []string{"factor", "-2", "offset", "50 %", "limits", "on"}, func(x float64) float64 { return math.Min(math.Max(-2*x+0.5, -1), 1) }, 1e-9},
		{"amplifier", "in", "out", []string{"level", "-6 dB"}, func(x float64) float64 { return x * math.Pow(10, -0.3) }, 1e-9},
	} {
		w := alone(t, c.in, c.out, c.kind, c.settings...)
		up, down, err := w.Curve(1, 101)
		if err != nil {
			t.Fatal(err)
		}
		var in []float64
		for i := range up {
			in = append(in, up[i].X)
			if d := math.Max(math.Abs(up[i].Y-c.want(up[i].X)), math.Abs(down[i].Y-c.want(down[i].X))); d > c.within {
				t.Errorf("%s %v: at %.3f it measures %.5f and %.5f, want %.5f", c.kind, c.settings, up[i].X, up[i].Y, down[i].Y, c.want(up[i].X))
				break
			}
		}
		computed, err := w.CurveAt(in)
		if err != nil {
			t.Fatal(err)
		}
		for i, x := range in {
			if math.Abs(computed[i]-c.want(x)) > 1e-6 {
				t.Fatalf("%s %v: at %.3f it computes %.7f, want %.7f", c.kind, c.settings, x, computed[i], c.want(x))
			}
		}
	}
}

// A comparator with hysteresis opens higher than it closes.
func TestAComparatorShowsItsHysteresis(t *testing.T) {
	w := alone(t, "in", "gate", "comparator", "threshold", "20 %", "hysteresis", "20 %")
	up, down, err := w.Curve(1, 201)
	if err != nil {
		t.Fatal(err)
	}
	first := func(p []sounding.Point) float64 {
		for i := 1; i < len(p); i++ {
			if p[i].Y != p[i-1].Y {
				return p[i].X
			}
		}
		return math.NaN()
	}
	if opens, closes := first(up), first(down); !(opens > closes+0.1) {
		t.Errorf("it opens at %.3f and closes at %.3f", opens, closes)
	}
}

// Every kind in the catalogue has a form or a reason.
func TestEveryKindHasAFormOrAReason(t *testing.T) {
	for _, k := range kind.All() {
		p := patch.Patch{Modules: []patch.Module{{Name: "it", Kind: k.Name}}}
		all, reason := FormsOf(&k.Kind)
		if (all[0] == Words) != (reason != "") {
			t.Errorf("%s: %v, %q", k.Name, all, reason)
		}
		for _, f := range all {
			in := AudioIn(&k.Kind)
			if f == Shape && k.Inputs[0].Open != patch.OpenSilence || f == Wave || f == Words {
				in = ""
			}
			w, err := Alone(&p, "it", in, AudioOut(&k.Kind), rate)
			if err != nil {
				t.Errorf("%s: %v", k.Name, err)
				continue
			}
			switch f {
			case Response:
				_, err = w.Impulse()
			case Shape:
				_, _, err = w.Gate(0.1, 0.2)
			case Wave:
				_, err = w.ComputedCycle()
			case Transfer:
				_, _, err = w.Curve(1, 21)
			}
			if err != nil {
				t.Errorf("%s, form %d: %v", k.Name, f, err)
			}
		}
	}
}
