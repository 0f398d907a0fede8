package quantiser

import (
	"math"
	"testing"

	"lampblack/patch/dsp/hash"
	"lampblack/patch/kind/rig"
	"lampblack/patch/module"
)

func cents(list ...float64) (rows [][]float64) {
	for _, c := range list {
		rows = append(rows, []float64{c / 1200})
	}
	return rows
}

func still(x float64) rig.Wave { return func(int) float64 { return x } }

// ISO 16: A4 = 440 Hz; the frequencies of MIDI notes by f = 440 x 2^((n-69)/12).
// A pitch up to 49 cents off comes out right, within 0.001 cent.
func TestSemitonesAreThoseOfISO16(t *testing.T) {
	worst := 0.0
	for n, hz := range map[int]float64{0: 8.1758, 21: 27.5, 24: 32.7032, 36: 65.4064, 48: 130.8128, 60: 261.6256, 61: 277.1826,
		69: 440, 72: 523.2511, 84: 1046.5023, 96: 2093.0045, 108: 4186.0090, 127: 12543.8540} {
		for _, off := range []float64{-49, -20, 0, 20, 49} {
			y := rig.New(Kind()).Feed("in", still(float64(n-69)/12+off/1200)).Out("out", 1)
			got := 440 * math.Pow(2, y[0])
			if math.Abs(got-hz) > 0.00006 { // the table's last digit
				t.Errorf("note %d, %g cents off, comes out at %.5f Hz; want %.4f", n, off, got, hz)
			}
			worst = max(worst, math.Abs(y[0]*1200-float64(n-69)*100))
		}
	}
	t.Logf("largest error %.2g cent", worst)
	if worst > 1e-9 {
		t.Errorf("a semitone is %g cent off", worst)
	}
}

// Cents of just intervals: 3:2 701.955, 4:3 498.045, 5:4 386.314 (check: 1200
// log2 of the ratio). The root is C4, 9 semitones below A4.
func TestAJustScaleIsKeptInEveryOctave(t *testing.T) {
	rows := cents(701.955, 0, 386.314, 498.045) // in any order
	for octave := -3.0; octave <= 3; octave++ {
		for _, ratio := range []float64{1, 5.0 / 4, 4.0 / 3, 3.0 / 2} {
			r := rig.NewSetup(Kind(), module.Setup{Rate: 48000, Rows: rows}).Set("root", -0.75, "oct")
			y := r.Feed("in", still(-0.75+octave+math.Log2(ratio)+0.03)).Out("out", 1)
			if got, want := y[0], -0.75+octave+math.Log2(ratio); math.Abs(got-want)*1200 > 0.001 {
				t.Errorf("%g in octave %g comes out %.4f cents off", ratio, octave, (got-want)*1200)
			}
		}
	}
}

// The slow obvious way: the nearest of all degrees in twenty octaves.
func TestWithoutHysteresisTheNearestIsTaken(t *testing.T) {
	rows := cents(0, 111, 316, 702, 702, 1200) // twice, and the octave
	in := func(n int) float64 { return 3 * hash.Signed(1, uint64(n)) }
	y := rig.NewSetup(Kind(), module.Setup{Rate: 48000, Rows: rows}).Set("hysteresis", 0, "%").Set("root", 0.1, "oct").
		Set("lowest", -1.5, "oct").Set("highest", 2, "oct").Feed("in", in).Run(20000)
	for n := range y[0] {
		want, x := math.Inf(1), min(max(in(n), -1.5), 2)
		for octave := -10.0; octave <= 10; octave++ {
			for _, row := range rows {
				if p := 0.1 + octave + row[0]; p >= -1.5 && p <= 2 && math.Abs(p-x) < math.Abs(want-x) {
					want = p
				}
			}
		}
		if math.Abs(y[0][n]-want) > 1e-12 {
			t.Fatalf("%g comes out at %g; the nearest is %g", in(n), y[0][n], want)
		}
		if changed := n == 0 || y[0][n] != y[0][n-1]; (y[1][n] == 1) != changed {
			t.Fatalf("sample %d: trigger %g, and the pitch has changed: %t", n, y[1][n], changed)
		}
	}
	tie := rig.NewSetup(Kind(), module.Setup{Rate: 48000, Rows: cents(0, 600)}).Set("hysteresis", 0, "%").Feed("in", still(0.25)).Out("out", 1)
	if tie[0] != 0 {
		t.Errorf("half way between 0 and 0.5 it takes %g; want the lower", tie[0])
	}
}

// By the help text's formula: with 20 %, a step of 100 cents changes 60 cents
// on the way up and 40 on the way down.
func TestHysteresisKeepsTheDegreeBeyondTheMiddle(t *testing.T) {
	glide := func(n int) float64 { // 0 to 100 cents and back, 0.01 cent a sample
		return (100 - math.Abs(float64(n)-10000)*0.01) / 1200
	}
	y := rig.New(Kind()).Set("hysteresis", 20, "%").Feed("in", glide).Out("out", 20000)
	for n := 1; n < len(y); n++ {
		at := glide(n) * 1200
		if y[n] > y[n-1] && math.Abs(at-60) > 0.011 || y[n] < y[n-1] && math.Abs(at-40) > 0.011 {
			t.Errorf("it goes to %g cents at %g", y[n]*1200, at)
		}
	}
	tremble := func(n int) float64 { return (50 + 8*hash.Signed(2, uint64(n))) / 1200 }
	for h, most := range map[float64]float64{0: 1e9, 20: 1} {
		sum := 0.0
		for _, v := range rig.New(Kind()).Set("hysteresis", h, "%").Feed("in", tremble).Out("trigger", 10000) {
			sum += v
		}
		t.Logf("hysteresis %g %%: %g changes in 10,000 samples", h, sum)
		if sum > most || h == 0 && sum < 1000 {
			t.Errorf("hysteresis %g %%: %g changes", h, sum)
		}
	}
}

func TestAnotherScaleIsTakenUpNearTheOldDegree(t *testing.T) {
	old := rig.NewSetup(Kind(), module.Setup{Rate: 48000}).Feed("in", still(7.0/12))
	old.Run(10)
	r := rig.NewSetup(Kind(), module.Setup{Rate: 48000, Rows: cents(0, 702)}).Feed("in", still(7.0/12))
	r.Sound.(module.Resumer).Resume(old.Sound)
	if y := r.Run(10); math.Abs(y[0][0]*1200-702) > 1e-9 || y[1][0] != 0 {
		t.Errorf("behind the change it stands at %g cents, trigger %g", y[0][0]*1200, y[1][0])
	}
}

// A limit that moves past the degree that stands takes the next one inside.
func TestALimitThatClosesInMovesTheDegree(t *testing.T) {
	for control, want := range map[string]float64{"lowest": 1.0 / 12, "highest": -1.0 / 12} {
		y := rig.New(Kind()).Set("hysteresis", 90, "%").Feed("in", still(0)).Move(control, "oct", func(n int) float64 {
			if n < 100 {
				return -120 * want // -10 or 10
			}
			return 0.24 * want // 24 cents
		}).Out("out", 200)
		if y[99] != 0 || math.Abs(y[100]-want) > 1e-12 {
			t.Errorf("%s: it goes from %g to %g; want %g", control, y[99], y[100], want)
		}
	}
}

func TestRootMovesTheTuneAtOnce(t *testing.T) {
	y := rig.New(Kind()).Set("hysteresis", 90, "%").Move("root", "oct", func(n int) float64 { return float64(n) * 1e-5 }).Feed("in", still(0.3)).Out("out", 3000)
	for n, p := range y {
		if off := math.Mod((p-float64(n)*1e-5)*12+1000, 1); min(off, 1-off) > 1e-9 {
			t.Fatalf("sample %d stands at %g, which is no semitone above the root", n, p)
		}
	}
}

func BenchmarkQuantiser(b *testing.B) {
	b.Run("steps", rig.New(Kind()).Feed("in", func(n int) float64 { return hash.Signed(1, uint64(n/1000)) }).Bench)
	b.Run("glide", rig.New(Kind()).Feed("in", rig.Sine(100)).Bench)
	b.Run("noise", rig.New(Kind()).Feed("in", func(n int) float64 { return hash.Signed(1, uint64(n)) }).Bench)
}
