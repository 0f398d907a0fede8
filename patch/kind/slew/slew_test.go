package slew

import (
	"math"
	"testing"

	"lampblack/patch/kind/rig"
	"lampblack/patch/module"
)

// step goes from a to b at sample 100, and back at sample back.
func step(a, b float64, back int) rig.Wave {
	return func(n int) float64 {
		if n >= 100 && n < back {
			return b
		}
		return a
	}
}

// First-order theory: risen by 63.212, 86.466 ... % after 1, 2 ... time
// constants, and the same on the way down, each with its own time.
func TestExponentialIsFirstOrderTheory(t *testing.T) {
	y := rig.New(Kind()).Choose("curve", "exponential").Set("rise", 0.1, "s").Set("fall", 0.02, "s").Feed("in", step(-1, 1, 100+100*4800)).Out("out", 600_000)
	for k, want := range []float64{0, 63.212, 86.466, 95.021, 98.168, 99.326} {
		up := (y[100+4800*k] + 1) / 2 * 100
		down := (1 - y[100+100*4800+960*k]) / 2 * 100
		t.Logf("%d time constants: up %.3f %%, down %.3f %%", k, up, down)
		if math.Abs(up-want) > 0.0005 || math.Abs(down-want) > 0.0005 {
			t.Errorf("after %d time constants it has done %.4f %% up and %.4f %% down; theory says %.3f", k, up, down, want)
		}
	}
	for n := range 48000 {
		if want := 1 - 2*math.Exp(-float64(n)/4800); math.Abs(y[100+n]-want) > 1e-9 {
			t.Fatalf("sample %d of the rise is %.12f; the formula says %.12f", n, y[100+n], want)
		}
	}
	if y[100+100*4800] != 1 || y[len(y)-1] != -1 {
		t.Errorf("it ends at %g and %g; want exactly 1 and -1", y[100+100*4800], y[len(y)-1])
	}
}

// Arithmetic: a step of d takes d times the written time.
func TestLinearTakesTheWrittenTimeForAStepOfOne(t *testing.T) {
	for _, rate := range []float64{44100, 48000, 96000} {
		for _, d := range []float64{0.25, 1, 3} {
			rise, fall := 0.2, 0.03
			back := 100 + int(4*rate)
			y := rig.NewSetup(Kind(), module.Setup{Rate: rate}).Set("rise", rise, "s").Set("fall", fall, "s").Feed("in", step(0, d, back)).Out("out", back+int(rate))
			up, down := 0, 0
			for n := range y {
				if y[n] != d && n < back {
					up = n + 1
				}
				if y[n] != 0 {
					down = n + 1
				}
			}
			if math.Abs(float64(up-100)-d*rise*rate) > 1 || math.Abs(float64(down-back)-d*fall*rate) > 1 {
				t.Errorf("%g up at %g Hz takes %d samples, down %d; want %g and %g", d, rate, up-100, down-back, d*rise*rate, d*fall*rate)
			}
			half := y[100+int(d*rise*rate/2)]
			if math.Abs(half-d/2) > 1/(rise*rate) {
				t.Errorf("half way up it is at %g; want %g", half, d/2)
			}
		}
	}
}

// One-pole low-pass: -3.0103 dB at 1/(2 pi tau) of the analogue circuit; the
// exact step of the digital one is a/(1 - (1-a) z^-1), one sample late.
func TestExponentialIsAOnePoleFilter(t *testing.T) {
	const hz, tau = 100, 1 / (2 * math.Pi * 100)
	y := rig.New(Kind()).Choose("curve", "exponential").Set("rise", tau, "s").Set("fall", tau, "s").Feed("in", rig.Sine(hz)).Out("out", 96000)
	got := rig.DB(rig.Lines(y[48000:])[hz])
	a, w := 1-math.Exp(-1/(tau*48000)), 2*math.Pi*hz/48000
	want := 20 * math.Log10(a/math.Hypot(1-(1-a)*math.Cos(w), (1-a)*math.Sin(w)))
	t.Logf("at 1/(2 pi tau) it is %.4f dB down (the circuit 3.0103)", -got)
	if math.Abs(got-want) > 1e-6 || math.Abs(got+3.0103) > 0.001 {
		t.Errorf("it is at %.6f dB; want %.6f", got, want)
	}
}

func TestTimesMayMoveWhileItIsOnItsWay(t *testing.T) {
	time := func(n int) float64 { return 0.01 + 1e-5*float64(n%1000) }
	for _, curve := range []string{"linear", "exponential"} {
		y := rig.New(Kind()).Choose("curve", curve).Move("rise", "s", time).Feed("in", step(0, 1, 1<<30)).Out("out", 3000)
		want := 0.0
		for n := range y {
			if math.Abs(y[n]-want) > 1e-10 {
				t.Fatalf("%s: sample %d is %.12f; stepwise theory gives %.12f", curve, n, y[n], want)
			}
			if n < 100 {
				continue
			}
			if curve == "linear" {
				want = min(want+1/(time(n)*48000), 1)
			} else {
				want = 1 - (1-want)*math.Exp(-1/(time(n)*48000))
			}
		}
	}
}

func TestItStartsWhereTheVoltageStandsAndForgetsWhatIsNoNumber(t *testing.T) {
	y := rig.New(Kind()).Feed("in", func(int) float64 { return -3 }).Out("out", 10)
	if y[0] != -3 {
		t.Errorf("it starts at %g; want -3", y[0])
	}
	r := rig.New(Kind()).Set("fall", 0.0001, "s").Feed("in", func(n int) float64 { return []float64{math.NaN(), math.Inf(1), math.Inf(-1), 0.5}[min(n, 3)] })
	if y := r.Out("out", 48000); y[47999] != 0.5 || !r.Clamped {
		t.Errorf("a second later it is at %g", y[47999])
	}
}

func BenchmarkSlew(b *testing.B) {
	noise := func(n int) float64 { return math.Mod(float64(n)*0.618, 1) }
	b.Run("linear, of a sine", rig.New(Kind()).Feed("in", rig.Sine(1000)).Bench)
	b.Run("linear", rig.New(Kind()).Feed("in", noise).Bench)
	b.Run("exponential", rig.New(Kind()).Choose("curve", "exponential").Feed("in", noise).Bench)
	b.Run("swept", rig.New(Kind()).Choose("curve", "exponential").Move("rise", "s", func(n int) float64 { return 0.1 + 1e-6*float64(n) }).Feed("in", noise).Bench)
}
