package envelope

import (
	"math"
	"testing"

	"lampblack/patch/kind/rig"
	"lampblack/patch/module"
)

const tau = 4800 // samples: 0.1 s at 48 kHz

// Source: first-order theory, 1 - e^-k and 20 log10 e^-k.
func TestPartsAreRCCurves(t *testing.T) {
	risen := []float64{0, 63.212, 86.466, 95.021, 98.168, 99.326}
	decayed := []float64{0, -8.686, -17.372, -26.058, -34.744, -43.429}

	decay := rig.New(Kind()).Set("attack", 0.0001, "s").Set("decay", 0.1, "s").Set("sustain", 25, "%").Out("out", 6*tau)
	top := index(decay, 1)
	release := rig.New(Kind()).Note(0, 48000).Set("release", 0.1, "s").Set("sustain", 100, "%").Out("out", 48000+6*tau)
	for k := range risen {
		if got := (1 - decay[top+k*tau]) / 0.75 * 100; math.Abs(got-risen[k]) > 0.001 {
			t.Errorf("decay has gone %.3f %% of its way after %d time constants; theory says %.3f", got, k, risen[k])
		}
		if got := rig.DB(release[48000+k*tau]); math.Abs(got-decayed[k]) > 0.001 {
			t.Errorf("release is at %.3f dB after %d time constants; theory says %.3f", got, k, decayed[k])
		}
	}
}

// index returns the first sample at or above level.
func index(x []float64, level float64) int {
	for i, y := range x {
		if y >= level {
			return i
		}
	}
	return -1
}

// 63.2 % of the way at one time constant, within a sample: of the attack's way
// to its aim (which is the top), of decay and of release.
func TestOneTimeConstantIsRightToTheSample(t *testing.T) {
	for _, s := range []float64{0.0005, 0.01, 0.18, 2.4} {
		for _, rate := range []float64{44100, 48000, 96000} {
			n := s * rate
			setup := module.Setup{Rate: rate}
			attack := rig.NewSetup(Kind(), setup).Set("attack", s, "s").Out("out", int(n)+10)
			if at := index(attack, 1-1e-9); math.Abs(float64(at)-n) > 1 {
				t.Errorf("attack of %g s at %g Hz reaches the top at sample %d; want %.1f +- 1", s, rate, at, n)
			}
			release := rig.NewSetup(Kind(), setup).Note(0, 4000).Set("attack", 0.001, "s").Set("sustain", 100, "%").Set("release", s, "s").Out("out", 4000+int(n)+10)
			for i := range release {
				release[i] = 1 - release[i]
			}
			if at := index(release[4000:], 1-math.Exp(-1)); math.Abs(float64(at)-n) > 1 {
				t.Errorf("release of %g s at %g Hz has fallen by 63.2 %% at sample %d; want %.1f +- 1", s, rate, at, n)
			}
		}
	}
}

// The attack is the curve of a capacitor that charges to 1/(1 - 1/e) = 1.582.
func TestAttackIsTheStatedCurve(t *testing.T) {
	x := rig.New(Kind()).Set("attack", 0.1, "s").Out("out", tau)
	for n, y := range x {
		if want := (1 - math.Exp(-float64(n)/tau)) / (1 - math.Exp(-1)); math.Abs(y-want) > 1e-9 {
			t.Fatalf("sample %d of the attack is %.9f; the formula says %.9f", n, y, want)
		}
	}
}

func TestSustainHoldsAndReleaseComesFromWhereverItIs(t *testing.T) {
	x := rig.New(Kind()).Note(100, 48000).Set("decay", 0.01, "s").Set("sustain", 40, "%").Set("release", 0.01, "s").Out("out", 100_000)
	if x[99] != 0 || x[100] != 0 || x[101] == 0 {
		t.Errorf("around the gate the envelope is %g, %g, %g; want 0, 0, more", x[99], x[100], x[101])
	}
	if math.Abs(x[40000]-0.4) > 1e-9 || math.Abs(x[48000]-0.4) > 1e-9 {
		t.Errorf("sustain of 40 %% holds at %g and %g", x[40000], x[48000])
	}
	if x[48001] >= x[48000] || x[99_999] != 0 {
		t.Errorf("release starts with %g after %g and ends at %g", x[48001], x[48000], x[99_999])
	}
	short := rig.New(Kind()).Note(0, 480).Set("attack", 0.1, "s").Out("out", 2000)
	if top := short[480]; top > 0.2 || short[481] >= top {
		t.Errorf("a note that ends within the attack goes %g, %g", top, short[481])
	}
}

func TestTriggerStartsAgainFromTheLevelReached(t *testing.T) {
	knock := func(n int) float64 {
		if n == 0 || n >= 3000 && n < 3010 {
			return 1
		}
		return 0
	}
	r := rig.New(Kind()).Feed("trigger", knock).Set("decay", 0.02, "s").Set("sustain", 0, "%")
	x := r.Out("out", 6000)
	if x[2999] > 0.3 || x[3100] <= x[3000] || index(x[3000:], 1) < 0 {
		t.Errorf("a second trigger does not start the attack: %g, %g, %g", x[2999], x[3000], x[3100])
	}
	for i := 1; i < len(x); i++ {
		if math.Abs(x[i]-x[i-1]) > 0.005 {
			t.Fatalf("the envelope jumps from %g to %g at sample %d", x[i-1], x[i], i)
		}
	}
	alone := rig.New(Kind()).Feed("trigger", knock).Feed("gate", func(int) float64 { return 0 }).Out("out", 3000)
	if top := index(alone, 1); top < 0 || alone[top+100] >= 1 {
		t.Error("a trigger without a gate does not run to the top and release")
	}
}

func TestTimesMayMoveWhileTheyRun(t *testing.T) {
	r := rig.New(Kind()).Set("sustain", 0, "%")
	r.Move("decay", "s", func(n int) float64 { return 0.05 + float64(n)*1e-6 })
	x := r.Out("out", 9600)
	top := index(x, 1)
	want := 1.0
	for n := top; n < len(x); n++ {
		if math.Abs(x[n]-want) > 1e-9 {
			t.Fatalf("sample %d is %g; stepwise exact decay gives %g", n, x[n], want)
		}
		want *= math.Exp(-1 / ((0.05 + float64(n)*1e-6) * 48000))
	}
}

func BenchmarkEnvelope(b *testing.B) {
	b.Run("held", rig.New(Kind()).Bench)
	b.Run("released", rig.New(Kind()).Note(0, 47990).Bench)
	b.Run("swept", rig.New(Kind()).Move("decay", "s", func(n int) float64 { return 0.2 + 1e-7*float64(n) }).Bench)
}

// A trigger without a gate runs the attack to its top and then releases.
func TestAKnockRisesAndFalls(t *testing.T) {
	y := rig.New(Kind()).Feed("gate", func(int) float64 { return 0 }).Feed("trigger", rig.Impulse).
		Set("attack", 0.001, "s").Set("sustain", 100, "%").Set("release", 0.1, "s").Out("out", 48+3*tau)
	top := index(y, 1)
	if top != 48 && top != 49 {
		t.Fatalf("it reaches the top at sample %d; want 48, the attack's 1 ms, or the next", top)
	}
	for k, want := range []float64{0, -8.686, -17.372} {
		if got := rig.DB(y[top+k*tau]); math.Abs(got-want) > 0.001 {
			t.Errorf("%d time constants later it is at %.3f dB; theory says %.3f", k, got, want)
		}
	}
}

// A sustain that moves is followed, whatever stands still besides.
func TestAMovingSustainIsFollowed(t *testing.T) {
	for _, decay := range []bool{false, true} {
		sway := func() *rig.Rig {
			r := rig.New(Kind()).Set("attack", 0.001, "s").Set("decay", 0.001, "s")
			if decay {
				return r.Move("decay", "s", func(n int) float64 { return 0.001 + 0.0001*float64(n%5) }).Set("sustain", 50, "%")
			}
			return r.Move("sustain", "%", func(n int) float64 { return float64(n % 100) })
		}
		want, got := sway().Out("out", 4000, 1), sway().Out("out", 4000, 64)
		for i := range want {
			if got[i] != want[i] {
				t.Fatalf("decay moved %t: in blocks of 64 sample %d is %g, in blocks of 1 %g", decay, i, got[i], want[i])
			}
		}
	}
}
