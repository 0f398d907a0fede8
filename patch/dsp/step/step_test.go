package step

import (
	"math"
	"testing"
)

// response is the spectrum of the table's jump at f (a part of the sample
// rate): the Fourier transform of its derivative, by differences between rows.
func response(t *Table, f float64) float64 {
	var re, im, before float64
	for i := 1; i <= Points*rows; i++ {
		k, j := (i-1)/rows, (i-1)%rows+1
		y := t.jumps[j][k]
		if k >= Delay {
			y++
		}
		at := (float64(i)-0.5)/rows - Delay
		sin, cos := math.Sincos(2 * math.Pi * f * at)
		re += (y - before) * cos
		im += (y - before) * sin
		before = y
	}
	// A difference over 1/rows of a sample is the derivative through a short mean.
	x := math.Pi * f / rows
	return math.Hypot(re, im) * x / math.Sin(x)
}

// Kaiser's formulas: beta = 12.5 = 0.1102 (A - 8.7) gives a stop band A = 122 dB
// deep; 48 points then have a transition of (A - 8)/(2.285 * 48 pi) = 0.33 of
// half the rate around the cutoff. Three dB are left for the formulas.
func TestJumpPassesTo18kHzAndStopsWhatFoldsBelow20kHz(t *testing.T) {
	for _, c := range []struct{ rate, pass, folds float64 }{
		{48000, 18000, 20000}, {96000, 18000, 20000}, {44100, 17000, 20000},
	} {
		table := Load()
		for f := 0.0; f <= c.pass; f += 500 {
			if db := 20 * math.Log10(response(table, f/c.rate)); math.Abs(db) > 0.01 {
				t.Errorf("at %g Hz of %g a jump is off by %.4f dB", f, c.rate, db)
			}
		}
		for f := c.rate - c.folds; f <= 2*c.rate; f += 500 {
			if db := 20 * math.Log10(response(table, f/c.rate)); db > -119 {
				t.Errorf("at %g Hz of %g a jump is only %.1f dB down; want -119", f, c.rate, db)
			}
		}
	}
}

func TestBendIsTheIntegralOfTheJumpAndBowThatOfTheBend(t *testing.T) {
	table := Load()
	for k := range Points {
		for j := range rows {
			slope := (table.bends[j+1][k] - table.bends[j][k]) * rows
			if mean := (table.jumps[j+1][k] + table.jumps[j][k]) / 2; math.Abs(slope-mean) > 1e-6 {
				t.Fatalf("at point %d, row %d the bend rises by %g, the jump is %g", k, j, slope, mean)
			}
			slope = (table.bows[j+1][k] - table.bows[j][k]) * rows
			if mean := (table.bends[j+1][k] + table.bends[j][k]) / 2; math.Abs(slope-mean) > 5e-4 {
				t.Fatalf("at point %d, row %d the bow rises by %g, the bend is %g", k, j, slope, mean)
			}
		}
	}
	// Both halves must meet in the middle: bow(0) is 0 on either side.
	if e := math.Abs(table.bows[rows][Delay-1]) + math.Abs(table.bows[0][Delay]); e > 1e-12 {
		t.Errorf("the halves of the bow are %g apart", e)
	}
}

func TestLineIsLateByDelay(t *testing.T) {
	var l Line
	for n := range 2000 {
		if n%64 == 0 {
			l.Reserve(64)
		}
		y := l.Put(float64(n))
		if want := float64(max(n-Delay, 0)); y != want {
			t.Fatalf("sample %d gives %g; want %g", n, y, want)
		}
	}
}

// What a corner mended late has lost is 118 dB below its height.
func TestLateCornersLoseNothing(t *testing.T) {
	table := Load()
	for late := 0.0; late < 1; late += 0.01 {
		var soon, past Line
		var worst float64
		for n := range 100 {
			soon.Reserve(1)
			past.Reserve(1)
			if n == 50 {
				table.Jump(soon.Window(), late, 1)
			}
			if n == 50+Late {
				table.Jump(past.Past(Late), late, 1)
			}
			x := float64(min(n/50, 1))
			worst = max(worst, math.Abs(soon.Put(x)-past.Put(x)))
		}
		if worst > 1.26e-6 {
			t.Errorf("a jump %g samples before, mended %d samples late, is %g off", late, Late, worst)
		}
	}
}

func BenchmarkJump(b *testing.B) {
	table := Load()
	var dst [Points]float64
	late := 0.0
	for b.Loop() {
		table.Jump(&dst, late, -2)
		if late += 0.137; late > 1 {
			late--
		}
	}
}

func BenchmarkNewTable(b *testing.B) {
	for b.Loop() {
		newTable()
	}
}
