package expect

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// made is a sound made by hand.
func made(n int, rate float64, lines ...[3]float64) []float32 {
	x := make([]float32, n)
	for i := range x {
		sum := 0.0
		for _, l := range lines { // Hz, dB, phase
			sum += math.Pow(10, l[1]/20) * math.Cos(2*math.Pi*l[0]*float64(i)/rate+l[2])
		}
		x[i] = float32(sum)
	}
	return x
}

// The side lobes are those of the paper, and the closed form is the sum.
func TestTheKernelIsTheTransformOfTheWindow(t *testing.T) {
	const n = 512
	w := make([]float64, n)
	fill(w)
	sum := 0.0
	for _, v := range w {
		sum += v
	}
	worst, highest := 0.0, 0.0
	for d := 0.05; d < 60; d += 0.13 {
		re := 0.0
		for i, v := range w {
			re += v * math.Cos(2*math.Pi*d*(float64(i)/n-0.5))
		}
		worst = max(worst, math.Abs(re/sum-kernel(d, n)))
		if d > float64(lobe) {
			highest = max(highest, math.Abs(re/sum))
		}
	}
	db := 20 * math.Log10(highest)
	t.Logf("closed form off by %.1e, side lobes at %.1f dB", worst, db)
	if worst > 1e-9 || db > -178 {
		t.Errorf("closed form off by %.1e, side lobes at %.1f dB; the paper says -180", worst, db)
	}
}

// The samples are those of a formula: what is read must be what was put in.
func TestLinesMadeByHandAreRead(t *testing.T) {
	const n, rate = 32768, 48000.0
	bin := rate / n
	for _, c := range []struct {
		name  string
		lines [][3]float64
	}{
		{"one", [][3]float64{{441.3, -3, 0.3}}},
		{"down to -100 dB", [][3]float64{{1000, 0, 1}, {1040, -60, 2}, {1101.7, -90, 3}, {7300.1, -100, 0}}},
		{"two bins apart", [][3]float64{{500, -6, 0.2}, {500 + 2*bin, -6, 2.5}}},
		{"three bins apart, one 60 dB down", [][3]float64{{500, 0, 0.2}, {500 + 3*bin, -60, 2.5}}},
		{"a long row six bins apart", func() (l [][3]float64) {
			for k := range 40 {
				l = append(l, [3]float64{700 + 6*bin*float64(k), -float64(k) * 1.5, float64(k * k)})
			}
			return l
		}()},
		{"a long row two bins apart", func() (l [][3]float64) {
			for k := range 60 {
				l = append(l, [3]float64{700 + 2.05*bin*float64(k), -math.Abs(float64(k)-20) * 1.5, float64(k * k)})
			}
			return l
		}()},
		{"with a mean", [][3]float64{{0, -20, 0}, {30, -10, 1}, {3, -40, 1}}},
		{"up to 23.9 kHz", [][3]float64{{23900, -10, 1}, {220, -10, 1}}},
	} {
		rows := make([]Row, len(c.lines))
		for i, l := range c.lines {
			rows[i] = Row{Name: fmt.Sprint(l[0]), Hz: l[0], Level: l[1], Least: l[1], Most: l[1]}
			if l[0] > 0 && !strings.Contains(c.name, "two bins") {
				rows[i].Hz += 0.05 // the prediction need not be right
			}
		}
		m := NewMeter(n, rate)
		rest := m.Read(rows, made(n, rate, c.lines...))
		for i := range rows {
			rows[i].Hz = c.lines[i][0]
		}
		db, hz, count := Worst(rows, -200)
		t.Logf("%s: within %.6f dB, %.6f Hz, left %.1f dB at %.0f Hz", c.name, db, hz, rest.Level, rest.Hz)
		if count != len(rows) || db > 0.001 || hz > 0.001 || rest.Level > -150 {
			t.Errorf("%s: %d of %d read within %.6f dB, %.6f Hz, left %.1f dB; want 0.001 dB, 0.001 Hz, under -150 dB", c.name, count, len(rows), db, hz, rest.Level)
		}
	}
}

// A line that dies away is read at its mean by the window's weight.
func TestALineThatDiesAwayIsReadAtItsMean(t *testing.T) {
	const n, rate = 8192, 48000.0
	m := NewMeter(n, rate)
	x, level := make([]float32, n), make([]float32, n)
	for i := range x {
		v := math.Exp(-float64(i) / rate / 0.7)
		level[i] = float32(v)
		x[i] = float32(v * math.Cos(2*math.Pi*440*float64(i)/rate))
	}
	rows := []Row{{Hz: 440, Level: 20 * math.Log10(m.Mean(level))}}
	rest := m.Read(rows, x)
	r := rows[0]
	t.Logf("off by %.5f dB and %.5f Hz, left %.1f dB", r.Found-r.Level, r.FoundHz-440, rest.Level)
	if r.Told != Read || math.Abs(r.Found-r.Level) > 0.01 || math.Abs(r.FoundHz-440) > 0.01 || rest.Level > -60 {
		t.Errorf("%+v, left %.1f dB", r, rest.Level)
	}
}

func TestWhatNobodyExpectedIsToldAndWhatIsTooNearIsNotRead(t *testing.T) {
	const n, rate = 32768, 48000.0
	rows := []Row{{Hz: 440}, {Hz: 441, Level: -3, Most: -3, Least: -3}, {Hz: 2000}}
	rest := NewMeter(n, rate).Read(rows, made(n, rate, [3]float64{440, 0, 0}, [3]float64{441, -3, 1}, [3]float64{2000, 0, 0}, [3]float64{3000, -50, 0}))
	if math.Abs(rest.Hz-3000) > 2 || math.Abs(rest.Level+50) > 0.5 {
		t.Errorf("a line of 3 kHz and -50 dB is told as %.1f Hz, %.1f dB", rest.Hz, rest.Level)
	}
	// 1.5 bins in T seconds are 1 Hz apart: T = 1.5 s.
	for _, r := range rows[:2] {
		if r.Told != TooNear || math.Abs(r.Needs-1.5) > 1e-9 {
			t.Errorf("lines 1 Hz apart: %+v", r.Reading)
		}
	}
	if rows[2].Told != Read || math.Abs(rows[2].Found) > 0.001 {
		t.Errorf("a line that stands alone reads %+v", rows[2].Reading)
	}
}

func BenchmarkRead(b *testing.B) {
	const n, rate = 32768, 48000.0
	var lines [][3]float64
	for k := range 100 {
		lines = append(lines, [3]float64{100 + 20*float64(k), -float64(k) * 0.5, float64(k * k)})
	}
	rows := make([]Row, len(lines))
	for i, l := range lines {
		rows[i] = Row{Hz: l[0], Level: l[1], Least: l[1], Most: l[1]}
	}
	x, m := made(n, rate, lines...), NewMeter(n, rate)
	for b.Loop() {
		m.Read(rows, x)
	}
}
