package ahd

import (
	"math"
	"testing"

	"lampblack/patch/kind/rig"
	"lampblack/patch/module"
)

// knock is up for one sample at each of the places.
func knock(places ...int) rig.Wave {
	return func(n int) float64 {
		for _, at := range places {
			if n == at {
				return 1
			}
		}
		return 0
	}
}

// theory is the envelope at t seconds behind the trigger, by the formulas.
func theory(t, attack, hold, decay float64, linear bool) float64 {
	switch {
	case t < attack && linear:
		return t / attack
	case t < attack:
		return -math.Expm1(-t/attack) / -math.Expm1(-1)
	case t < attack+hold:
		return 1
	case linear:
		return max(1-(t-attack-hold)/decay, 0)
	}
	return math.Exp(-(t - attack - hold) / decay)
}

// First-order theory, and straight lines: every sample within 1e-9, the corners
// on their exact sample (times that are whole numbers of samples).
func TestEverySampleIsThatOfTheory(t *testing.T) {
	const at, attack, hold, decay = 50, 0.025, 0.05, 0.1
	for _, rate := range []float64{44000, 48000, 96000} {
		for _, curve := range []string{"exponential", "linear"} {
			y := rig.NewSetup(Kind(), module.Setup{Rate: rate}).Choose("curve", curve).Set("attack", attack, "s").Set("hold", hold, "s").
				Set("decay", decay, "s").Feed("trigger", knock(at)).Run(at + int(rate))
			worst := 0.0
			for n := range y[0] {
				want := 0.0
				if n >= at {
					want = theory(float64(n-at)/rate, attack, hold, decay, curve == "linear")
				}
				worst = max(worst, math.Abs(y[0][n]-want))
				if up := n >= at && n < at+int((attack+hold)*rate+0.5); (y[1][n] == 1) != up {
					t.Fatalf("%s at %g Hz: gate at sample %d is %g", curve, rate, n, y[1][n])
				}
			}
			t.Logf("%s at %g Hz: largest difference from theory %.2g", curve, rate, worst)
			if worst > 1e-9 {
				t.Errorf("%s at %g Hz is off by %g", curve, rate, worst)
			}
		}
	}
}

// Decayed by 8.686, 17.372 ... dB after 1, 2 ... time constants (first-order
// theory), and to exact silence in the end.
func TestDecayIsThatOfTheTable(t *testing.T) {
	y := rig.New(Kind()).Set("attack", 0.001, "s").Set("hold", 0, "s").Set("decay", 0.1, "s").Feed("trigger", knock(0)).Out("out", 48000*5)
	for k, want := range []float64{0, -8.686, -17.372, -26.058, -34.744, -43.429} {
		if got := rig.DB(y[48+4800*k]); math.Abs(got-want) > 0.0006 {
			t.Errorf("after %d time constants it is at %.4f dB; theory says %.3f", k, got, want)
		}
	}
	if y[len(y)-1] != 0 {
		t.Errorf("in the end it is at %g", y[len(y)-1])
	}
}

func TestATriggerBeforeTheEnd(t *testing.T) {
	run := func(word string, at int) []float64 {
		return rig.New(Kind()).Choose("curve", "linear").Choose("retrigger", word).Set("attack", 0.01, "s").Set("hold", 0.01, "s").Set("decay", 0.02, "s").
			Feed("trigger", knock(0, at)).Out("out", 4000)
	}
	once := run("from zero", 0)
	for _, at := range []int{200, 700, 1440} { // on its way up, at the top, half way down
		stands, zero, not := run("from where it stands", at), run("from zero", at), run("not while up", at)
		if math.Abs(stands[at]-once[at]) > 1e-12 || math.Abs(stands[at+100]-min(once[at]+100.0/480, 1)) > 1e-9 {
			t.Errorf("at %d from where it stands: %g, %g", at, stands[at], stands[at+100])
		}
		for n := range 2000 {
			if zero[at+n] != once[n] {
				t.Fatalf("at %d from zero: %d samples later it is at %g; want %g", at, n, zero[at+n], once[n])
			}
			want := once[at+n]
			if at == 1440 {
				want = stands[at+n]
			}
			if not[at+n] != want {
				t.Fatalf("at %d not while up: %d samples later it is at %g; want %g", at, n, not[at+n], want)
			}
		}
	}
}

// Hold counts from the top against the hold that is written now; attack and decay
// go on at their new speed.
func TestTimesMayMoveOnTheWay(t *testing.T) {
	r := rig.New(Kind()).Choose("curve", "linear").Feed("trigger", knock(0))
	r.Move("attack", "s", func(n int) float64 { // 240 samples of 480, then of 960
		if n < 240 {
			return 0.01
		}
		return 0.02
	}).Move("hold", "s", func(n int) float64 { return max(1-float64(n)/48000, 0) }).Set("decay", 0.01, "s")
	y := r.Run(48000)
	if y[0][719] >= 1 || y[0][720] != 1 {
		t.Errorf("the top comes with %g, %g; want sample 720", y[0][719], y[0][720])
	}
	// The time since the top is as long as hold when n - 720 = 48000 - n.
	if y[1][24359] != 1 || y[1][24360] != 0 {
		t.Errorf("hold ends with %g, %g", y[1][24359], y[1][24360])
	}
}

func BenchmarkAHD(b *testing.B) {
	again := func(n int) float64 { return float64(1 - min(n%4000, 1)) }
	b.Run("resting", rig.New(Kind()).Set("decay", 0.001, "s").Bench)
	b.Run("exponential", rig.New(Kind()).Feed("trigger", again).Set("decay", 5, "s").Bench)
	b.Run("linear", rig.New(Kind()).Choose("curve", "linear").Feed("trigger", again).Set("decay", 5, "s").Bench)
}
