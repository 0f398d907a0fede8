package comparator

import (
	"math"
	"testing"

	"lampblack/patch/dsp/hash"
	"lampblack/patch/kind/rig"
)

// triangle goes from -1 to 1 and back in 1000 samples.
func triangle(n int) float64 { return math.Abs(float64(n%1000)-500)/250 - 1 }

func sum(x []float64) (sum float64) {
	for _, v := range x {
		sum += v
	}
	return sum
}

// Geometry: a triangle of +-1 is above h for (1 - h)/2 of the time.
func TestATriangleGivesAGateOfThatDutyCycle(t *testing.T) {
	for _, h := range []float64{-80, -20, 0, 50, 90} {
		y := rig.New(Kind()).Set("threshold", h, "%").Set("hysteresis", 0, "%").Feed("in", triangle).Run(100_000)
		duty, want := sum(y[0])/1e5*100, (100-h)/2
		if math.Abs(duty-want) > 0.101 { // a sample of 1000
			t.Errorf("threshold %g %%: open for %.2f %% of the time; want %.2f", h, duty, want)
		}
		if sum(y[1]) != 1e5-sum(y[0]) || math.Abs(sum(y[2])-100) > 1 || math.Abs(sum(y[3])-100) > 1 {
			t.Errorf("threshold %g %%: inverse %g, triggers %g, ends %g", h, sum(y[1]), sum(y[2]), sum(y[3]))
		}
	}
}

// The formula in the help text, sample by sample.
func TestWithoutHysteresisItIsTheBareComparison(t *testing.T) {
	noise := func(key uint64) rig.Wave {
		return func(n int) float64 { return math.Round(4*hash.Signed(key, uint64(n))) / 4 } // often equal
	}
	y := rig.New(Kind()).Set("hysteresis", 0, "%").Feed("in", noise(1)).Feed("against", noise(2)).Set("threshold", 0.25, "oct").Run(10000)
	for n := range y[0] {
		if want := noise(1)(n)-noise(2)(n) > 0.25; (y[0][n] == 1) != want {
			t.Fatalf("sample %d: %g against %g gives %g", n, noise(1)(n), noise(2)(n), y[0][n])
		}
		if (y[2][n] == 1) != (y[0][n] == 1 && (n == 0 || y[0][n-1] == 0)) || (y[3][n] == 1) != (n > 0 && y[0][n] == 0 && y[0][n-1] == 1) {
			t.Fatalf("sample %d: trigger %g, end %g do not belong to the gate", n, y[2][n], y[3][n])
		}
	}
}

// A sine of 0.9 with noise of +-0.05 crosses once each way if it has to come back
// by more than the noise's whole width, and often if not.
func TestHysteresisKeepsATremblingVoltageFromChattering(t *testing.T) {
	in := func(n int) float64 { return 0.9*rig.Sine(10)(n) + 0.05*hash.Signed(3, uint64(n)) }
	calm := rig.New(Kind()).Set("hysteresis", 11, "%").Feed("in", in).Out("trigger", 48000)
	nervous := rig.New(Kind()).Set("hysteresis", 0, "%").Feed("in", in).Out("trigger", 48000)
	t.Logf("10 cycles: %g triggers with hysteresis, %g without", sum(calm), sum(nervous))
	if sum(calm) != 10 || sum(nervous) < 100 {
		t.Errorf("%g triggers with hysteresis, %g without; want 10, and many", sum(calm), sum(nervous))
	}
	// The places themselves: threshold 20 %, hysteresis 10 %: opens above 0.25, closes at 0.15.
	y := rig.New(Kind()).Set("threshold", 20, "%").Set("hysteresis", 10, "%").Feed("in", func(n int) float64 { return triangle(n + 500) }).Out("gate", 1000)
	for n := 1; n < 1000; n++ {
		x := triangle(n + 500)
		if y[n] > y[n-1] && math.Abs(x-0.252) > 0.003 || y[n] < y[n-1] && math.Abs(x-0.15) > 0.003 {
			t.Errorf("it goes to %g at %g", y[n], x)
		}
	}
}

func TestWhatIsNoNumberChangesNothing(t *testing.T) {
	y := rig.New(Kind()).Feed("in", func(n int) float64 { return []float64{1, math.NaN(), math.Inf(-1), math.NaN(), 1}[n] }).Out("gate", 5)
	for n, want := range []float64{1, 1, 0, 0, 1} {
		if y[n] != want {
			t.Errorf("step %d is %g; want %g", n, y[n], want)
		}
	}
}

func BenchmarkComparator(b *testing.B) {
	rig.New(Kind()).Feed("in", rig.Sine(1000)).Bench(b)
}
