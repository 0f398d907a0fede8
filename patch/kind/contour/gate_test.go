package contour

import (
	"math"
	"testing"

	"lampblack/patch/kind/rig"
	"lampblack/patch/module"
)

// stairs goes to 10 % in the first 100 samples, then to 20 %, and so on: y is at
// k/10 at sample 100 k.
func stairs(rows int) (list [][]float64) {
	for k := range rows {
		list = append(list, []float64{100.0 / rate, 10 * float64(k+1), 0})
	}
	return list
}

// where undoes stairs: how many rows high y is.
func where(y float64) float64 { return math.Round(y*10*1e9) / 1e9 }

func at(t *testing.T, name string, y []float64, sample int, rows float64) {
	t.Helper()
	if got := where(y[sample]); got != rows {
		t.Errorf("%s: sample %d is %g rows high; want %g", name, sample, got, rows)
	}
}

func TestSustainWaitsForTheEndOfTheGate(t *testing.T) {
	set := func(release string, off int) []float64 {
		return drawn(stairs(4)).Set("sustain", 2, "").Choose("release", release).Note(0, off).Out("out", 2000)
	}
	for _, release := range []string{"as drawn", "at once"} {
		y := set(release, 1000)
		at(t, release, y, 150, 1.5)
		at(t, release, y, 200, 2)
		at(t, release, y, 1000, 2) // time 0 of what follows
		at(t, release, y, 1050, 2.5)
		at(t, release, y, 1200, 4)
		at(t, release, y, 1999, 4)
	}
	drawn := set("as drawn", 50) // the gate ends before the point: it goes on
	at(t, "as drawn, short", drawn, 200, 2)
	at(t, "as drawn, short", drawn, 250, 2.5)
	once := set("at once", 50) // from 0.5 straight to the third row: 2.5 rows in 100 samples
	at(t, "at once, short", once, 50, 0.5)
	at(t, "at once, short", once, 90, 1.5)
	at(t, "at once, short", once, 150, 3)
	at(t, "at once, short", once, 250, 4)
}

func TestLoopsAreGoneThroughAsOftenAsWritten(t *testing.T) {
	set := func(times float64, release string, off int) []float64 {
		return drawn(stairs(4)).Set("loop from", 2, "").Set("loop to", 3, "").Set("times", times, "").Choose("release", release).Note(0, off).Out("out", 3000)
	}
	twice := set(2, "as drawn", 10) // whether the gate is held or not
	at(t, "twice", twice, 300, 3)
	at(t, "twice", twice, 350, 2.5) // back from 3 to 2 in row 2
	at(t, "twice", twice, 400, 2)
	at(t, "twice", twice, 500, 3)
	at(t, "twice", twice, 600, 4)
	at(t, "twice", twice, 2999, 4)
	once := set(1, "as drawn", 10)
	at(t, "once", once, 400, 4)
	held := set(0, "as drawn", 1010) // the pass that began at 900 is finished at 1100
	at(t, "while held", held, 900, 3)
	at(t, "while held", held, 1000, 2)
	at(t, "while held", held, 1100, 3)
	at(t, "while held", held, 1200, 4)
	left := set(0, "at once", 1050) // from 2.5 straight to row 4
	at(t, "left at once", left, 1050, 2.5)
	at(t, "left at once", left, 1150, 4)
}

func TestAStartWhileItRuns(t *testing.T) {
	set := func(word string, second int) []float64 {
		return drawn(stairs(4)).Choose("retrigger", word).Feed("trigger", func(n int) float64 {
			if n == second {
				return 1
			}
			return 0
		}).Out("out", 3000)
	}
	stands := set("from where it stands", 250)
	at(t, "from where it stands", stands, 250, 2.5)
	at(t, "from where it stands", stands, 300, 1.75)
	at(t, "from where it stands", stands, 350, 1)
	at(t, "from where it stands", stands, 650, 4)
	zero := set("from zero", 250)
	at(t, "from zero", zero, 249, 2.49)
	at(t, "from zero", zero, 250, 0)
	at(t, "from zero", zero, 400, 1.5)
	not := set("not while it runs", 250)
	at(t, "not while it runs", not, 300, 3)
	at(t, "not while it runs", not, 400, 4)
	after := set("not while it runs", 1000)
	at(t, "not while it runs", after, 1050, 2.5) // from 4 to 1
	at(t, "not while it runs", after, 1100, 1)
}

func TestAKnockAtTheSustainPointIsNoStartWhileItRuns(t *testing.T) {
	for word, want := range map[string]float64{"from where it stands": 1.5, "from zero": 0.5, "not while it runs": 2} {
		y := drawn(stairs(4)).Set("sustain", 2, "").Choose("retrigger", word).Feed("trigger", func(n int) float64 { return float64(1 - min(n%500, 1)) }).Out("out", 600)
		at(t, word, y, 550, want)
	}
}

// Behind the loop the end of the gate changes nothing, even if the loop has become
// an endless one meanwhile.
func TestTheEndOfTheGateNeverGoesBack(t *testing.T) {
	y := drawn(stairs(4)).Set("loop from", 1, "").Set("loop to", 2, "").Choose("release", "at once").Note(0, 350).Move("times", "", func(n int) float64 {
		return float64(1 - min(n/250, 1)) // 1, and from sample 250 on 0
	}).Out("out", 1000)
	at(t, "behind the loop", y, 350, 3.5)
	at(t, "behind the loop", y, 380, 3.8)
	at(t, "behind the loop", y, 400, 4)
}

// A length that moves: the part that is over is the sum of the speeds of all
// samples so far. A straight line shows it directly.
func TestALengthThatMovesBendsTheRest(t *testing.T) {
	length := func(n int) float64 { return 0.2 + 0.1*math.Sin(float64(n)*0.002) }
	y := drawn([][]float64{{0.05, 25, 0}, {0.15, 100, 0}}).Move("length", "s", length).Out("out", 20000)
	done := 0.0 // 0 to 1, of the whole
	for n := range y {
		if done < 1-1e-3 {
			if math.Abs(y[n]-done) > 1e-4 { // a sample is 1e-4 of the whole
				t.Fatalf("sample %d is at %g; the sum of the speeds is %g", n, y[n], done)
			}
		} else if done > 1+1e-4 && y[n] != 1 {
			t.Fatalf("sample %d is at %g, behind the end", n, y[n])
		}
		done += 1 / (length(n) * rate)
	}
	// One change in the middle of a row: half done in 0.1 s of 0.2, the other half
	// in 0.2 s of 0.4, exactly.
	y = drawn([][]float64{{1, 100, 3}}).Move("length", "s", func(n int) float64 {
		if n < 4800 {
			return 0.2
		}
		return 0.4
	}).Out("out", 20000)
	if math.Abs(y[4800]-formula(0, 1, 3, 0.5)) > 1e-12 || y[14399] == 1 || y[14400] != 1 {
		t.Errorf("half way it is at %g; it ends with %g, %g", y[4800], y[14399], y[14400])
	}
}

// The contour goes on in the same row, without a jump.
func TestAnotherTableIsTakenUpWithoutAJump(t *testing.T) {
	for _, at := range []int{150, 250, 380, 700} {
		old := drawn(stairs(4))
		before := old.Out("out", at)
		r := drawn([][]float64{{0.001, 0, 0}, {0.02, -50, 5}, {0.01, 30, -5}, {0.03, 100, 0}})
		r.Sound.(module.Resumer).Resume(old.Sound)
		r.Feed("gate", func(int) float64 { return 1 }).Feed("trigger", func(int) float64 { return 0 })
		last := before[at-1]
		for n, y := range r.Out("out", 5000) {
			if math.Abs(y-last) > 0.02 {
				t.Fatalf("changed at %d: %d samples later it goes from %g to %g", at, n, last, y)
			}
			last = y
		}
		want := 1.0
		if at == 700 { // it was over, and stays
			want = 0.4
		}
		if last != want {
			t.Errorf("changed at %d: in the end it stands at %g; want %g", at, last, want)
		}
	}
	short := drawn([][]float64{{0.01, 100, 0}})
	long := drawn(stairs(4))
	long.Run(350)
	short.Sound.(module.Resumer).Resume(long.Sound)
	if y := short.Feed("gate", func(int) float64 { return 1 }).Feed("trigger", func(int) float64 { return 0 }).Out("out", 100); y[99] != y[0] || where(y[0]) != 3.5 {
		t.Errorf("a table without that row goes from %g to %g", y[0], y[99])
	}
}

// The end of one contour starts another: the trigger stands on the sample of the
// last point.
func TestItAnswersAKnock(t *testing.T) {
	y := drawn(stairs(3)).Feed("gate", func(int) float64 { return 0 }).Feed("trigger", rig.Impulse).Set("sustain", 1, "").Run(1000)
	at(t, "knock", y[0], 300, 3)
	sum := 0.0
	for _, v := range y[1] {
		sum += v
	}
	if sum != 1 || y[1][300] != 1 {
		t.Errorf("end gives %g triggers, %g at its sample", sum, y[1][300])
	}
}
