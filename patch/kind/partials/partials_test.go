package partials

import (
	"fmt"
	"math"
	"testing"

	"lampblack/patch/kind/rig"
	"lampblack/patch/module"
)

func with(rows [][]float64) *rig.Rig {
	return rig.NewSetup(Kind(), module.Setup{Rate: 48000, Seed: 1, Rows: rows})
}

// Line test: a second at 48 kHz, whole Hz, no window: line k is k Hz. Tolerance
// 1e-6 of full scale.
func lines(t *testing.T, r *rig.Rig, want map[int]float64) {
	t.Helper()
	got := rig.Lines(r.Out("out", 48000))
	for hz, a := range got {
		if math.Abs(a-want[hz]) > 1e-6 {
			t.Errorf("the line at %d Hz is %.7f; want %.7f", hz, a, want[hz])
		}
	}
}

// Source: Fourier series of the saw, 2/(pi n); the table has hundredths of a dB.
func TestItStartsAsASaw(t *testing.T) {
	got := rig.Lines(rig.New(Kind()).Set("frequency", 100, "Hz").Out("out", 48000))
	for n := 1; n <= 16; n++ {
		if db := rig.DB(got[100*n] * math.Pi * float64(n) / 2); math.Abs(db) > 0.00501 {
			t.Errorf("harmonic %d is off by %.4f dB", n, db)
		}
	}
	for hz, a := range got {
		if (hz%100 != 0 || hz > 1600 || hz == 0) && a > 1e-11 {
			t.Errorf("there is a line of %g at %d Hz", a, hz)
		}
	}
}

func TestEveryRowIsALineOfItsRatioAndLevel(t *testing.T) {
	lines(t, with([][]float64{{1, 0}, {1.25, -6}, {0.05, -20}, {2.5, -96}, {47.9, -40}}).Set("frequency", 400, "Hz"), map[int]float64{
		400: 1, 500: math.Pow(10, -0.3), 20: 0.1, 19160: 0.01,
	})
}

// Fletcher and Rossing, The Physics of Musical Instruments, eq. 2.67a:
// f_n = n f (1 + B n^2)^(1/2), here with ratio 1 kept in its place.
func TestStretchAndStiffnessMoveTheRatios(t *testing.T) {
	rows := [][]float64{{1, -20}, {2, -20}, {8, -20}, {0.5, -20}}
	for _, c := range []struct{ stretch, stiffness float64 }{{0, 0.0003}, {0, 0.05}, {0.01, 0}, {-0.5, 0}, {1, 0}, {0.3, 0.01}} {
		s := with(rows)
		s.Set("stretch", 100*c.stretch, "%").Set("stiffness", 100*c.stiffness, "%").Set("frequency", 110, "Hz")
		x := s.Out("out", 4*48000)
		for _, row := range rows {
			r := math.Pow(row[0], 1+c.stretch)
			hz := 110 * r * math.Sqrt(1+c.stiffness*r*r) / math.Sqrt(1+c.stiffness)
			if cents := 1200 * math.Log2(frequency(x, hz)/hz); math.Abs(cents) > 0.001 {
				t.Errorf("stretch %g, B %g, ratio %g: off by %.5f cent", c.stretch, c.stiffness, row[0], cents)
			}
		}
	}
}

// frequency measures a tone near hz by how far its phase turns between the
// halves of x, through the fourth power of a sine.
func frequency(x []float64, hz float64) float64 {
	half := len(x) / 2
	phase := func(from int) float64 {
		var re, im float64
		for i := range half {
			w := 0.5 - 0.5*math.Cos(2*math.Pi*(float64(i)+0.5)/float64(half))
			sin, cos := math.Sincos(2 * math.Pi * math.Mod(hz*float64(from+i)/48000, 1))
			re += w * w * x[from+i] * cos
			im += w * w * x[from+i] * sin
		}
		return math.Atan2(re, im)
	}
	return hz + math.Remainder(phase(half)-phase(0), 2*math.Pi)/(2*math.Pi)*48000/float64(half)
}

// ISO 16: A4 is 440 Hz. After an hour's worth of steps a partial is still where
// the formula has it: the phase is a sum of whole numbers.
func TestNothingDrifts(t *testing.T) {
	s := newSound(module.Setup{Rate: 48000}).(*sound)
	s.shape.follow(&s.table, settings{0, 0, 1, 0, 1, 1})
	before := s.phases[6]
	s.add(make([]float64, 1), []float64{440.0 / 48000}, true, 0, 6)
	step := s.phases[6] - before // cycles a sample, in 2^-64
	exact := 7 * 440.0 / 48000 * (1 << 64)
	if cents := 1200 * math.Log2(float64(step)/exact); math.Abs(cents) > 1e-9 {
		t.Errorf("harmonic 7 is off by %g cent", cents)
	}
	for _, note := range []float64{0, 21, 60, 69, 108, 127} {
		hz := 440 * math.Exp2((note-69)/12)
		x := with([][]float64{{1, 0}}).Set("frequency", hz, "Hz").Out("out", 4*48000)
		if cents := 1200 * math.Log2(frequency(x, hz)/hz); math.Abs(cents) > 0.001 {
			t.Errorf("note %g is off by %.5f cent", note, cents)
		}
	}
}

func TestTiltBalanceReachAndContrastWeighTheLevels(t *testing.T) {
	rows := [][]float64{{1, -6}, {2, -12}, {4, -18}, {8, -24}}
	db := func(x float64) float64 { return math.Pow(10, x/20) }
	for _, c := range []struct {
		name, unit string
		value      float64
		want       [4]float64
	}{
		{"tilt", "dB", -6, [4]float64{db(-6), db(-18), db(-30), db(-42)}},
		{"tilt", "dB", 6, [4]float64{db(-24), db(-24), db(-24), db(-24)}},
		{"balance", "%", -100, [4]float64{db(-6), 0, db(-18), 0}},
		{"balance", "%", 100, [4]float64{0, db(-12), 0, db(-24)}},
		{"balance", "%", 50, [4]float64{db(-6) / 2, db(-12), db(-18) / 2, db(-24)}},
		{"reach", "%", 50, [4]float64{db(-6), db(-12), 0, 0}},
		{"reach", "%", 62.5, [4]float64{db(-6), db(-12), db(-18) / 2, 0}},
		{"contrast", "%", 0, [4]float64{db(-6), db(-6), db(-6), db(-6)}},
		{"contrast", "%", 200, [4]float64{db(-6), db(-18), db(-30), db(-42)}},
	} {
		t.Run(fmt.Sprint(c.name, c.value), func(t *testing.T) {
			lines(t, with(rows).Set("frequency", 100, "Hz").Set(c.name, c.value, c.unit), map[int]float64{
				100: c.want[0], 200: c.want[1], 400: c.want[2], 800: c.want[3],
			})
		})
	}
}

func TestOddAndEvenAddUp(t *testing.T) {
	out := rig.New(Kind()).Run(1000)
	for i, y := range out[0] {
		if y != out[1][i]+out[2][i] {
			t.Fatalf("sample %d: %g is not %g and %g", i, y, out[1][i], out[2][i])
		}
	}
	odd := rig.Lines(rig.New(Kind()).Set("frequency", 100, "Hz").Out("odd", 48000))
	if odd[200] > 1e-12 || odd[300] < 0.2 {
		t.Errorf("odd has %g of the second and %g of the third harmonic", odd[200], odd[300])
	}
}

// What would lie above half the rate is not there: no line but harmonics below
// 0.49 of the rate.
func TestNothingFolds(t *testing.T) {
	rows := make([][]float64, Most)
	for i := range rows {
		rows[i] = []float64{float64(i + 1), -20}
	}
	for _, hz := range []int{997, 4001, 11003} {
		for k, a := range rig.Lines(with(rows).Set("frequency", float64(hz), "Hz").Out("out", 48000)) {
			want := 0.0
			if k > 0 && k%hz == 0 && k/hz <= Most {
				want = 0.1 * min(max((0.49-float64(k)/48000)/0.03, 0), 1)
			}
			if math.Abs(a-want) > 1e-9 {
				t.Errorf("%d Hz: the line at %d Hz is %g; want %g", hz, k, a, want)
			}
		}
	}
}

// Sweeping a partial out of the audible range over 50 ms leaves nothing over -60
// dB re full scale away from it: below 18 kHz, where a click would be.
func TestAPartialLeavesWithoutAClick(t *testing.T) {
	r := with([][]float64{{1, 0}, {1, 0}}).Move("frequency", "Hz", func(n int) float64 {
		return 19000 + 4500*min(float64(n)/2400, 1)
	})
	x := r.Out("out", 4096)
	worst := 0.0
	for k, a := range rig.Lines(windowed(x)) {
		if float64(k)*48000/4096 < 16000 {
			worst = max(worst, a)
		}
	}
	t.Logf("loudest line below 16 kHz: %.1f dB", rig.DB(worst))
	if rig.DB(worst) > -60 {
		t.Errorf("a click of %.1f dB", rig.DB(worst))
	}
}

func windowed(x []float64) []float64 {
	y := make([]float64, len(x))
	for i := range x {
		w := math.Sin(math.Pi * (float64(i) + 0.5) / float64(len(x)))
		y[i] = x[i] * w * w * w * w
	}
	return y
}

// A frequency moved at audio rate: sidebands of the first partial are Bessel
// functions (Chowning, JAES 21(7), 1973; Abramowitz and Stegun, table 9.1, b = 2).
func TestAFrequencyMovedAtAudioRateMakesItsSidebands(t *testing.T) {
	r := with([][]float64{{1, 0}}).Move("frequency", "Hz", func(n int) float64 {
		return 3000 + 400*math.Cos(2*math.Pi*200*(float64(n)+0.5)/48000)/(math.Pi*200/48000)*math.Sin(math.Pi*200/48000)
	})
	got := rig.Lines(r.Out("out", 48000))
	for n, want := range []float64{.223891, .576725, .352834, .128943, .033996, .007040} {
		if a := got[3000+200*n]; math.Abs(a-want) > 1e-6 {
			t.Errorf("sideband %d is %.6f; the table says %.6f", n, a, want)
		}
	}
}

func BenchmarkPartials(b *testing.B) {
	rows := make([][]float64, Most)
	for i := range rows {
		rows[i] = []float64{float64(i + 1), -20}
	}
	report := func(b *testing.B, r *rig.Rig) { b.ReportMetric(r.Cost(b)/Most, "ns/partial") }
	sway := func(n int) float64 { return 110 + 20*math.Sin(float64(n)/3000) }
	b.Run("steady", func(b *testing.B) { report(b, with(rows).Set("frequency", 110, "Hz")) })
	b.Run("vibrato", func(b *testing.B) { report(b, with(rows).Move("frequency", "Hz", sway)) })
	b.Run("tilt moves", func(b *testing.B) {
		report(b, with(rows).Set("frequency", 110, "Hz").Move("tilt", "dB", func(n int) float64 { return -6 + float64(n%100)/100 }))
	})
	b.Run("all move", func(b *testing.B) {
		report(b, with(rows).Move("frequency", "Hz", sway).Move("tilt", "dB", func(n int) float64 { return -6 + float64(n%100)/100 }).Move("stretch", "%", func(n int) float64 { return float64(n%100) / 100 }))
	})
}
