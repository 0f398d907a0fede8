package contour

import (
	"math"
	"testing"

	"lampblack/patch/kind/rig"
	"lampblack/patch/module"
)

const rate = 48000

func drawn(rows [][]float64) *rig.Rig {
	return rig.NewSetup(Kind(), module.Setup{Rate: rate, Rows: rows}).Set("sustain", 0, "")
}

// zigzag has times that are no whole number of samples, every kind of curve, and
// a jump.
var zigzag = [][]float64{{0.0123456, 100, 1}, {0.05, -40, -3}, {0, 20, 5}, {0.0777777, 20, 2}, {0.1, 90, 0}, {0.0333333, -100, 10}, {0.2, 0, -10}}

// ends are the sums of the times, in seconds.
func ends(rows [][]float64) (at []float64) {
	sum := 0.0
	for _, r := range rows {
		sum += r[0]
		at = append(at, sum)
	}
	return at
}

// formula is the help text's, with the standard library's exponential.
func formula(from, to, c, p float64) float64 {
	if c != 0 {
		p = math.Expm1(-c*p) / math.Expm1(-c)
	}
	return from + (to-from)*p
}

// The slow obvious contour: the points on the samples nearest to their times, and
// the formula between them. All samples within 1e-9, all points exactly as written.
func TestEveryPointStandsOnItsSampleAndTheFormulaBetween(t *testing.T) {
	for _, length := range []float64{0, 0.1, 0.4736567, 3.4, 60} {
		stretch := 1.0
		if total := ends(zigzag)[len(zigzag)-1]; length > 0 {
			stretch = length / total
		}
		y := drawn(zigzag).Set("length", length, "s").Run(int(max(length, 1)*rate) + 100)
		begin, from, worst := 0, 0.0, 0.0
		for k, at := range ends(zigzag) {
			end := int(math.Round(at * stretch * rate))
			for n := begin; n < end; n++ {
				want := formula(from, zigzag[k][1]/100, zigzag[k][2], float64(n-begin)/float64(end-begin))
				worst = max(worst, math.Abs(y[0][n]-want))
			}
			begin, from = end, zigzag[k][1]/100
			if jump := k+1 < len(zigzag) && zigzag[k+1][0] == 0; y[0][end] != from && !jump {
				t.Errorf("length %g: point %d, at sample %d, is %.17g; want exactly %g", length, k+1, end, y[0][end], from)
			}
		}
		for n := begin; n < len(y[0]); n++ {
			if y[0][n] != from || (y[1][n] == 1) != (n == begin) {
				t.Fatalf("length %g: behind the end, sample %d is %g, end %g", length, n, y[0][n], y[1][n])
			}
		}
		t.Logf("length %g s: ends on sample %d, largest difference from the formula %.2g", length, begin, worst)
		if worst > 1e-9 {
			t.Errorf("length %g: it is off by %g", length, worst)
		}
	}
}

// c = 1 is the charging curve that is cut off at its time constant: 63.212 % of
// the way to 1.582 is all of the way to 1 (first-order theory). At half of it,
// 39.347 %.
func TestACurveOfOneIsTheEnvelopesAttack(t *testing.T) {
	y := drawn([][]float64{{0.1, 100, 1}}).Out("out", 5000)
	if got, want := y[2400], 0.39346934/0.63212056; math.Abs(got-want) > 1e-8 {
		t.Errorf("half way it is at %.9f; theory says %.9f", got, want)
	}
	mirror := drawn([][]float64{{0.1, 100, -1}}).Out("out", 5000)
	for n := range 4800 {
		if math.Abs(mirror[n]-(1-y[4800-n])) > 1e-12 {
			t.Fatalf("sample %d of the mirror image is %g; want %g", n, mirror[n], 1-y[4800-n])
		}
	}
}

// Arithmetic: pass k of a loop of 0.0100001 + 0.0200003 s begins at k times their
// sum, to the nearest sample, for ten minutes.
func TestALoopDoesNotDrift(t *testing.T) {
	const a, b = 0.0100001, 0.0200003
	r := drawn([][]float64{{0.001, 50, 0}, {a, 100, 0}, {b, -100, 0}, {0.001, 0, 0}}).Set("loop from", 2, "").Set("loop to", 3, "")
	y, passes := r.Out("out", 600*rate), 0
	for n, v := range y {
		if v != 1 && v != -1 {
			continue
		}
		k := float64(passes / 2)
		want := 0.001 + k*(a+b) + a
		if passes%2 == 1 {
			want += b
		}
		if float64(n) != math.Round(want*rate) {
			t.Fatalf("peak %d stands on sample %d; the table says %.3f", passes, n, want*rate)
		}
		passes++
	}
	t.Logf("%d peaks in ten minutes, all on their samples", passes)
	if passes < 2*19999 {
		t.Errorf("there are only %d peaks", passes)
	}
}

func TestWrongTablesAreNoTrouble(t *testing.T) {
	for name, rows := range map[string][][]float64{
		"only a jump":   {{0, 70, 0}},
		"loop of jumps": {{0, 50, 0}, {0, 100, 0}, {0, 70, 0}},
	} {
		y := drawn(rows).Set("loop from", 1, "").Set("loop to", 3, "").Set("length", 1, "s").Note(0, 5000).Out("out", 10000)
		if last := y[9999]; last != 0.7 {
			t.Errorf("%s: in the end it stands at %g; want 0.7", name, last)
		}
	}
}

func TestLevelMultipliesAndMayMove(t *testing.T) {
	plain := drawn(zigzag).Out("out", 20000)
	y := drawn(zigzag).Move("level", "%", func(n int) float64 { return float64(n%200) - 100 }).Out("out", 20000)
	for n := range y {
		if want := plain[n] * (float64(n%200) - 100) / 100; math.Abs(y[n]-want) > 1e-15 {
			t.Fatalf("sample %d is %g; want %g", n, y[n], want)
		}
	}
}

func BenchmarkContour(b *testing.B) {
	bench := func(curve float64) *rig.Rig { // for ever
		return drawn([][]float64{{1, 100, curve}, {1, -100, curve}}).Set("loop from", 1, "").Set("loop to", 2, "")
	}
	b.Run("straight", bench(0).Bench)
	b.Run("curved", bench(3).Bench)
	b.Run("moved", bench(3).Move("length", "s", func(n int) float64 { return 30 + float64(n%2) }).Bench)
	b.Run("over", drawn([][]float64{{0.1, 100, 0}}).Bench)
}
