package oscillator

import (
	"math"
	"testing"

	"lampblack/patch/kind/rig"
)

// joined runs a master and a slave whose sync inputs and outputs are joined, and
// returns both tones.
func joined(master, slave *rig.Rig, n int) (led, out []float64) {
	both := master.Run(n)
	out = slave.Feed("sync", func(i int) float64 { return both[1][i%n] }).Out("out", n)
	return both[0], out
}

// The start of cycle k of a tone of f Hz is at k/f s, told one sample late.
func TestSyncTellsTheStartOfEveryCycleExactly(t *testing.T) {
	for _, shape := range []string{"sine", "triangle", "saw", "pulse"} {
		for _, hz := range []float64{27.5, 1000, 12000, 12544, 20000, 23520} {
			for _, way := range []float64{1, -1} {
				r := rig.New(Kind()).Choose("shape", shape).Set("frequency", 0.01, "Hz").Set("shift", way*hz-0.01, "Hz")
				if hz > 20000 && way > 0 {
					r.Set("frequency", hz-20000, "Hz").Set("shift", 20000, "Hz")
				}
				x := r.Out("sync", 4800)
				ahead := 1.0 // the sine tells what is heard; the others are in line
				if shape != "sine" {
					ahead -= 24
				}
				var worst float64
				told := 0
				for i := 201; i < len(x); i++ {
					at := rise(x[i-1], x[i])
					if at < 0 {
						continue
					}
					told++
					start := (float64(i-1) + at - ahead) * hz / 48000
					worst = max(worst, math.Abs(start-math.Round(start))*48000/hz)
				}
				if want := 4599 * hz / 48000; math.Abs(float64(told)-want) > 1 {
					t.Errorf("%s of %g Hz: %d starts; want %.1f", shape, way*hz, told, want)
				}
				if worst > 1e-9 {
					t.Errorf("%s of %g Hz: a start is told %g samples off", shape, way*hz, worst)
				}
			}
		}
	}
}

// syncedSaw is harmonic k of a saw of so many cycles a period, by integration of
// its straight pieces.
func syncedSaw(ratio float64, k int) float64 {
	w := 2 * math.Pi * float64(k)
	var re, im float64
	for a := 0.0; a < 1; {
		m := math.Floor(ratio*a + 0.5 + 1e-12) // the piece from (m-0.5)/ratio on
		b := min((m+0.5)/ratio, 1)
		// The integral of 2(ratio u - m) e^(-jwu) is e^(-jwu) (j y/w + 2 ratio/w^2).
		for _, end := range []struct{ u, sign float64 }{{b, 1}, {a, -1}} {
			y := 2 * (ratio*end.u - m)
			sin, cos := math.Sincos(w * end.u)
			re += end.sign * (cos*2*ratio/(w*w) + sin*y/w)
			im += end.sign * (cos*y/w - sin*2*ratio/(w*w))
		}
		a = b
	}
	return 2 * math.Hypot(re, im)
}

// All lines of a synced tone are multiples of the master's frequency, a prime
// number of cycles: whatever folds lies between them.
func TestHardSyncDoesNotAlias(t *testing.T) {
	for _, c := range []struct {
		shape string
		ratio float64
		to    int // highest note of the master: the slave ends at 20 kHz
		alias float64
	}{
		{"saw", 3.37, 105, -120}, {"saw", 1.5, 119, -120}, {"saw", 7.77, 91, -120},
		{"pulse", 3.37, 105, -120}, {"triangle", 3.37, 105, -120}, {"sine", 3.37, 105, -120},
	} {
		loudest, dullest := math.Inf(-1), 0.0
		for note := 21; note <= c.to; note++ {
			hz := 440 * math.Exp2(float64(note-69)/12)
			cycles := prime(hz * lines / 48000)
			step := 48000.0 / lines
			master := rig.New(Kind()).Choose("shape", "saw").Set("frequency", float64(cycles)*step, "Hz")
			slave := rig.New(Kind()).Choose("shape", c.shape).Set("frequency", c.ratio*float64(cycles)*step, "Hz")
			_, out := joined(master, slave, 2*lines)
			heard := rig.Lines(out[lines:])
			var a, most float64
			for i := 1; float64(i)*step < 20000; i++ {
				if i%cycles != 0 {
					a = max(a, heard[i])
					continue
				}
				most = max(most, heard[i])
				if want := syncedSaw(c.ratio, i/cycles); c.shape == "saw" && want > 1e-4 && float64(i)*step < 18000 {
					dullest = max(dullest, math.Abs(rig.DB(heard[i]/want)))
				}
			}
			if db := rig.DB(a / most); db > c.alias {
				t.Errorf("%s, %.2f x %.1f Hz: worst alias %.1f dB; want %g", c.shape, c.ratio, hz, db, c.alias)
			}
			loudest = max(loudest, rig.DB(a/most))
		}
		t.Logf("%s started again at 1/%.2f of its frequency, notes 21 to %d: worst alias %6.1f dB re the strongest line, largest error of a line to 18 kHz %.3f dB", c.shape, c.ratio, c.to, loudest, dullest)
		if dullest > 0.1 {
			t.Errorf("%s, ratio %g: a line is off by %.3f dB; want 0.1 at most", c.shape, c.ratio, dullest)
		}
	}
}

// What the help says: a shape that is started again by its equal of the same
// frequency sounds as that does, one sample later; by a sine, 25 samples later.
func TestJoinedOscillatorsAreAligned(t *testing.T) {
	for master, late := range map[string]int{"saw": 1, "triangle": 1, "pulse": 1, "sine": 25} {
		for _, shape := range []string{"sine", "triangle", "saw", "pulse"} {
			for _, hz := range []float64{100, 1000, 9973.1} {
				lead := rig.New(Kind()).Choose("shape", master).Set("frequency", hz, "Hz")
				slave := rig.New(Kind()).Choose("shape", shape).Set("frequency", hz, "Hz")
				_, out := joined(lead, slave, 3000)
				want := rig.New(Kind()).Choose("shape", shape).Set("frequency", hz, "Hz").Out("out", 3000)
				for i := 1000; i < 3000; i++ {
					if math.Abs(out[i]-want[i-late]) > 1e-5 {
						t.Fatalf("%s by a %s of %g Hz: sample %d is %g; %d samples before, the tone was %g", shape, master, hz, i, out[i], late, want[i-late])
					}
				}
			}
		}
	}
}

// A start exactly on a sample, by a gate: as told, the gate rises from its last 0.
func TestAGateStartsTheCycleAgain(t *testing.T) {
	for _, shape := range []string{"sine", "triangle", "saw", "pulse"} {
		gate := func(n int) float64 { return float64(min(max(n-1500, 0), 1)) }
		got := rig.New(Kind()).Choose("shape", shape).Set("frequency", 321, "Hz").Feed("sync", gate).Out("out", 3000)
		never := rig.New(Kind()).Choose("shape", shape).Set("frequency", 321, "Hz").Out("out", 3000)
		for i := range 1400 {
			if math.Abs(got[1600+i]-never[1600+i-1524]) > 1e-5 {
				t.Fatalf("%s: sample %d behind the start is %g; a new tone is at %g", shape, 76+i, got[1600+i], never[76+i])
			}
		}
	}
}

// Two starts within less than two samples have no room side by side: the second
// comes a sample late.
func TestNoStartIsLostNearAnother(t *testing.T) {
	var s starts
	s.tell(0, 0.25)
	s.tell(1, 0.5)
	var out [6]float64
	s.flush(out[:])
	if want := [6]float64{-0.25, 0.75, -0.5, 0.5}; out != want {
		t.Errorf("told %v; want %v", out, want)
	}
}

// The slave's frequency moves at the master's own rate, from 2 to 5 times it.
func TestHardSyncOfAMovingFrequencyDoesNotAlias(t *testing.T) {
	for _, shape := range []string{"saw", "pulse", "triangle", "sine"} {
		for root, want := range map[int]float64{47: -120, 101: -120, 211: -120, 503: -120, 1009: -115} {
			// A sine whose frequency moves has its derivatives mended up to the
			// fourth only.
			if shape == "sine" && root > 300 {
				want = map[int]float64{503: -100, 1009: -60}[root]
			}
			hz := float64(root) * 48000 / lines
			master := rig.New(Kind()).Set("frequency", hz, "Hz")
			slave := rig.New(Kind()).Choose("shape", shape).Move("frequency", "Hz", func(n int) float64 {
				return hz * (3.5 + 1.5*math.Sin(2*math.Pi*float64(root)*float64(n)/lines))
			})
			_, out := joined(master, slave, 2*lines)
			heard := rig.Lines(out[lines:])
			var a, most float64
			for i, y := range heard[1 : lines*20/48] {
				if most = max(most, y); (i+1)%root != 0 {
					a = max(a, y)
				}
			}
			t.Logf("%s: 2 to 5 times %.0f Hz: worst alias %.1f dB", shape, hz, rig.DB(a/most))
			if rig.DB(a/most) > want {
				t.Errorf("%s, 2 to 5 times %.0f Hz aliases at %.1f dB; want %g", shape, hz, rig.DB(a/most), want)
			}
		}
	}
}
