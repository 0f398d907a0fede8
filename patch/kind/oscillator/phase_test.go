package oscillator

import (
	"math"
	"math/cmplx"
	"testing"

	"gonum.org/v1/gonum/dsp/fourier"

	"lampblack/patch/kind/rig"
)

// modulated is a sine of fc Hz whose phase a sine of fm Hz moves by so many
// radians: its lines, 1 Hz apart.
func modulated(fc, fm, index float64) []float64 {
	r := rig.New(Kind()).Set("frequency", fc, "Hz")
	r.Move("phase", "deg", func(n int) float64 { return index * 180 / math.Pi * math.Sin(2*math.Pi*fm*float64(n)/48000) })
	return rig.Lines(r.Out("out", 48000))
}

// Line n of a sine modulated with index b is Jn(b).
func TestPhaseModulationHasBesselsLines(t *testing.T) {
	const source = "Abramowitz & Stegun, tables 9.1 and 9.2"
	for _, c := range []struct {
		index float64
		lines [11]float64
	}{
		{0.5, [11]float64{.938470, .242268, .030604, .002564, .000161, .000008}},
		{1, [11]float64{.765198, .440051, .114903, .019563, .002477, .000250, .000021, .000002}},
		{2, [11]float64{.223891, .576725, .352834, .128943, .033996, .007040, .001202, .000175, .000022, .000002}},
		{2.404826, [11]float64{0, .519147, .431755, .199000, .064747, .016389, .003405, .000601, .000092, .000013, .000002}},
		{5, [11]float64{.177597, .327579, .046565, .364831, .391232, .261141, .131049, .053376, .018405, .005520, .001468}},
		{8, [11]float64{.171651, .234636, .112992, .291132, .105357, .185775, .337576, .320589, .223455, .126321, .060767}},
	} {
		heard := modulated(10000, 100, c.index)
		worst := 0.0
		for n, want := range c.lines {
			for _, line := range []int{10000 + 100*n, 10000 - 100*n} {
				worst = max(worst, math.Abs(heard[line]-want))
			}
		}
		t.Logf("index %g: lines 0 to 10 are within %.2g of %s", c.index, worst, source)
		if worst > 1e-6 {
			t.Errorf("index %g: a line is %g off; want 1e-6 at most (%s)", c.index, worst, source)
		}
	}
}

// The library's Bessel functions are the second witness: index 2, lines below 0 Hz
// return at their frequency with their sign turned, and add where lines meet.
func TestRatiosFoldAtZero(t *testing.T) {
	j := func(n int) float64 { return math.Jn(n, 2) }
	for _, c := range []struct {
		fc, fm float64
		lines  map[int]float64
	}{
		{100, 100, map[int]float64{100: j(0) - j(2), 200: j(1) + j(3), 300: j(2) - j(4), 400: j(3) + j(5)}},
		{100, 200, map[int]float64{100: j(0) + j(1), 200: 0, 300: j(1) - j(2), 400: 0, 500: j(2) + j(3)}},
		{200, 280, map[int]float64{40: 0, 80: j(1), 120: 0, 160: 0, 200: j(0), 360: j(2), 480: j(1), 640: j(3), 760: j(2), 920: j(4), 1040: j(3)}},
	} {
		heard := modulated(c.fc, c.fm, 2)
		for line, want := range c.lines {
			if math.Abs(heard[line]-math.Abs(want)) > 1e-6 {
				t.Errorf("%g : %g Hz, index 2: the line at %d Hz is %.6f; want %.6f", c.fc, c.fm, line, heard[line], math.Abs(want))
			}
		}
	}
}

// Through-zero modulation by a cosine of deviation I fm is phase modulation by a
// sine of index I (Chowning, JAES 21(7), 1973): a sine's lines are Bessel's again,
// even where the frequency goes far below 0.
func TestThroughZeroModulationHasBesselsLines(t *testing.T) {
	r := rig.New(Kind()).Set("frequency", 2250, "Hz") // from -1750 to 6250 Hz
	r.Move("shift", "Hz", func(n int) float64 {
		// Half a sample on: the phase is the sum of the steps until then. The sum of
		// cosines falls short of the sine by x/sin x, which is made up for.
		x := math.Pi * 1000 / 48000
		return 4000 * math.Sin(x) / x * math.Cos(2*math.Pi*1000*(float64(n)+0.5)/48000)
	})
	heard := rig.Lines(r.Out("out", 48000))
	for n := -10; n <= 10; n++ {
		line := 2250 + 1000*n
		if line < 0 {
			line = -line
		}
		if want := math.Abs(math.Jn(n, 4)); math.Abs(heard[line]-want) > 1e-6 {
			t.Errorf("line %d is %.6f; want %.6f", n, heard[line], want)
		}
	}
}

// The phase of a shape that is computed ahead follows 25 samples late, and stands
// still otherwise.
func TestAPhaseThatStandsMovesTheShape(t *testing.T) {
	for _, shape := range []string{"sine", "triangle", "saw", "pulse"} {
		moved := rig.New(Kind()).Choose("shape", shape).Set("frequency", 480, "Hz").Set("phase", 90+720, "deg").Out("out", 1000)
		plain := rig.New(Kind()).Choose("shape", shape).Set("frequency", 480, "Hz").Out("out", 1025)
		for i, y := range moved {
			if math.Abs(y-plain[i+25]) > 3e-6 {
				t.Fatalf("%s: sample %d is %g, a quarter of a cycle later it is %g", shape, i, y, plain[i+25])
			}
		}
	}
}

// The reference is the plain saw along the phase by its formula, 64 samples for
// every one of ours: where its lines lie, nothing of it folds.
func TestModulatedSawHasTheLinesOfItsFormula(t *testing.T) {
	const root, over, index = 101, 64, 4.0
	reference := make([]float64, lines*over)
	for i := range reference {
		n := float64(i) / over
		e := 3*root*n/lines + index/(2*math.Pi)*math.Sin(2*math.Pi*2*root*(n-25)/lines)
		reference[i] = 2 * (e - math.Round(e))
	}
	coefficients := fourier.NewFFT(len(reference)).Coefficients(nil, reference)
	r := rig.New(Kind()).Choose("shape", "saw").Set("frequency", 3*root*48000.0/lines, "Hz")
	r.Move("phase", "deg", func(n int) float64 {
		return index * 180 / math.Pi * math.Sin(2*math.Pi*2*root*float64(n)/lines)
	})
	r.Run(lines)
	heard := rig.Lines(r.Out("out", lines))
	worst, most := 0.0, 0.0
	for line := root; line*48000 < 18000*lines; line += root {
		want := 2 * cmplx.Abs(coefficients[line]) / float64(len(reference))
		most = max(most, want)
		if want > 1e-3*most {
			worst = max(worst, math.Abs(rig.DB(heard[line]/want)))
		}
	}
	t.Logf("saw, index %g: lines to 18 kHz are within %.4f dB of a render at 64 times the rate", index, worst)
	if worst > 0.1 {
		t.Errorf("a line is off by %.3f dB; want 0.1 at most", worst)
	}
}
