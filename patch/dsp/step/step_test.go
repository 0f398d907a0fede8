package step

import (
	"math"
	"testing"
)

// response is the spectrum of the table's jump at f (a part of the sample
// rate): the Fourier transform of its derivative, by differences between rows.
func response(t *Table, f float64) float64 {
	var re, im, before float64
	half := t.kernel.length / 2
	for i := 1; i <= t.kernel.length*rows; i++ {
		k, j := (i-1)/rows, (i-1)%rows+1
		y := t.row(0, j)[k]
		if k >= half {
			y++
		}
		at := (float64(i)-0.5)/rows - float64(half)
		sin, cos := math.Sincos(2 * math.Pi * f * at)
		re += (y - before) * cos
		im += (y - before) * sin
		before = y
	}
	// A difference over 1/rows of a sample is the derivative through a short mean.
	x := math.Pi * f / rows
	return math.Hypot(re, im) * x / math.Sin(x)
}

// The aim: within 0.015 dB to 18 kHz, and 121 dB down where it folds below 20 kHz.
func TestJumpPassesTo18kHzAndStopsWhatFoldsBelow20kHz(t *testing.T) {
	for _, rate := range []float64{44100, 48000, 88200, 96000, 192000} {
		table := Load(rate)
		dull, loud := 0.0, 0.0
		for f := 0.0; f <= 18000; f += 500 {
			db := 20 * math.Log10(response(table, f/rate))
			if dull = max(dull, math.Abs(db)); math.Abs(db) > 0.015 {
				t.Errorf("at %g Hz of %g a jump is off by %.4f dB", f, rate, db)
			}
		}
		for f := rate - 20000; f <= 5*rate; f += 500 {
			got := response(table, f/rate)
			if loud = max(loud, got); 20*math.Log10(got) > -121 {
				t.Errorf("at %g Hz of %g a jump is only %.1f dB down; want -121", f, rate, 20*math.Log10(got))
			}
		}
		t.Logf("%g Hz: within %.4f dB to 18 kHz, %.1f dB where it folds below 20 kHz", rate, dull, 20*math.Log10(loud))
	}
}

// The response by formula is that of the table.
func TestPassesIsTheResponse(t *testing.T) {
	for _, rate := range []float64{44100, 48000} {
		table := Load(rate)
		for f := 0.0; f < 2; f += 0.0137 {
			if got, want := math.Abs(table.Passes(f)), response(table, f); math.Abs(got-want) > 1e-9 {
				t.Errorf("at %g of the rate %g Hz: %g by formula, %g of the table", f, rate, got, want)
			}
		}
	}
}

func TestLineIsLateByDelay(t *testing.T) {
	var l Line
	n := 0
	for round := range 200 {
		x := l.Shape(1 + round%64)
		for i := range x {
			x[i] = float64(n + i)
		}
		out := make([]float64, len(x))
		l.Take(out)
		for i, y := range out {
			if want := float64(max(n+i-Delay, 0)); y != want {
				t.Fatalf("sample %d gives %g; want %g", n+i, y, want)
			}
		}
		n += len(x)
	}
}

// A corner mended as late as may be is as one mended in time, whatever samples are
// put at once.
func TestLateCornersLoseNothing(t *testing.T) {
	for _, rate := range []float64{44100, 48000} {
		table := Load(rate)
		run := func(n, late int) (out []float64) {
			var l Line
			for len(out) < 256 {
				from := len(out)
				l.Shape(n)
				if at := 130 - from; at >= -late && at < n-late {
					l.Mend(table, []Corner{{at, 0, 0.3, 1}})
				}
				out = append(out, make([]float64, n)...)
				l.Take(out[from:])
			}
			return out
		}
		want := run(64, 0)
		for _, n := range []int{1, 2, 8, 32, 64} {
			got := run(n, Late)
			for i := range want {
				if got[i] != want[i] {
					t.Fatalf("%d at once: sample %d is %g; want %g", n, i, got[i], want[i])
				}
			}
		}
	}
}

var keep *Line // where it is: on the heap

func BenchmarkMend(b *testing.B) {
	table := Load(48000)
	l := new(Line)
	keep = l
	var corners [16]Corner
	for i := range corners {
		corners[i] = Corner{4 * i, 0, float64(i) * 0.137 * 0.4, -2}
	}
	var out [64]float64
	n := 0
	for b.Loop() {
		l.Shape(64)
		for i := range corners {
			if corners[i].Late += 0.0917; corners[i].Late > 1 {
				corners[i].Late--
			}
		}
		l.Mend(table, corners[:])
		l.Take(out[:])
		n += len(corners)
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(n), "ns/corner")
}

func BenchmarkNewTable(b *testing.B) {
	for b.Loop() {
		newTable(&short)
	}
}
