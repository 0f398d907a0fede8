package hold

import (
	"math"
	"testing"

	"lampblack/patch/dsp/hash"
	"lampblack/patch/kind/rig"
	"lampblack/patch/module"
)

// ramp is a different value at every sample.
func ramp(n int) float64 { return float64(n%48000) / 48000 }

// Arithmetic: at 48 kHz a beat of 4 Hz is 12,000 samples; of 7 Hz, 6857 1/7.
func TestStepsLandOnTheirExactSample(t *testing.T) {
	for _, hz := range []int{4, 7, 440} {
		y := rig.New(Kind()).Set("rate", float64(hz), "Hz").Feed("in", ramp).Run(480_000)
		for n := range y[0] {
			beat := n * hz / 48000           // the beat that sounds
			at := (beat*48000 + hz - 1) / hz // its first sample
			if y[0][n] != ramp(at) || (y[2][n] == 1) != (n == at) {
				t.Fatalf("%d Hz: sample %d holds %g, trigger %g; want %g, taken at sample %d", hz, n, y[0][n], y[2][n], ramp(at), at)
			}
		}
	}
}

func TestAJoinedClockTakesSamplesAndTracks(t *testing.T) {
	clock := func(n int) float64 { // up for 3 samples of every 10
		if n%10 < 3 {
			return 1
		}
		return 0
	}
	held := rig.New(Kind()).Feed("in", ramp).Feed("clock", clock).Out("out", 1000)
	tracked := rig.New(Kind()).Choose("mode", "tracks").Feed("in", ramp).Feed("clock", clock).Out("out", 1000)
	for n := range held {
		if want := ramp(n - n%10); held[n] != want {
			t.Fatalf("held: sample %d is %g; want %g", n, held[n], want)
		}
		if want := ramp(n - max(n%10-2, 0)); tracked[n] != want {
			t.Fatalf("tracked: sample %d is %g; want %g", n, tracked[n], want)
		}
	}
	// The own clock: 10 Hz, up for a quarter of 4800 samples.
	own := rig.New(Kind()).Choose("mode", "tracks").Set("rate", 10, "Hz").Set("width", 25, "%").Feed("in", ramp).Out("out", 9600)
	if own[1199] != ramp(1199) || own[1200] != ramp(1199) || own[4799] != ramp(1199) || own[4800] != ramp(4800) {
		t.Errorf("the own clock's quarter ends with %g, %g", own[1199]*48000, own[1200]*48000)
	}
}

// Even chance over +-1 has mean 0 and variance 1/3 (any textbook of statistics);
// 20,000 draws, 5 standard deviations. Steps depend on nothing but seed and time.
func TestOpenItSamplesItsOwnNoise(t *testing.T) {
	r := rig.NewSetup(Kind(), module.Setup{Rate: 8000, Seed: 3}).Set("rate", 2000, "Hz")
	y := r.Run(80000)
	sum, square, neighbours := 0.0, 0.0, 0.0
	for k := 0; k < 80000; k += 4 {
		x := y[0][k]
		if x != hash.Signed(hash.Key(3), uint64(k)) || y[1][k] != x || y[0][k+3] != x {
			t.Fatalf("beat %d is %g; drawn by its place it is %g", k/4, x, hash.Signed(hash.Key(3), uint64(k)))
		}
		sum += x
		square += x * x
		if k > 0 {
			neighbours += x * y[0][k-4]
		}
	}
	n := 20000.0
	t.Logf("mean %.5f, variance %.5f (1/3), correlation of neighbours %.5f", sum/n, square/n, neighbours/square)
	if math.Abs(sum/n) > 5/math.Sqrt(3*n) || math.Abs(square/n-1.0/3) > 5*math.Sqrt(4.0/45/n) || math.Abs(neighbours/square) > 5/math.Sqrt(n) {
		t.Errorf("mean %g, variance %g, neighbours %g", sum/n, square/n, neighbours/square)
	}
}

// Steps of a sine: it is dulled by sin(x)/x, x = pi f/rate, and folds around
// the rate at f' = rate - f with its own sin(x)/x (zero-order hold; any textbook
// of sampled systems). 1600 Hz sampled 8000 times a second, 6 samples a step:
// of whole samples it is the Dirichlet kernel sin(6x/6)/(6 sin(x/6)).
func TestStepsOfASineFoldAsTheoryHasIt(t *testing.T) {
	y := rig.New(Kind()).Set("rate", 8000, "Hz").Feed("in", rig.Sine(1600)).Out("out", 48000)
	lines := rig.Lines(y)
	for _, f := range []int{1600, 6400, 9600, 14400} {
		x := math.Pi * float64(f) / 48000
		want := math.Abs(math.Sin(6*x) / (6 * math.Sin(x)))
		if math.Abs(lines[f]-want) > 1e-9 {
			t.Errorf("line at %d Hz is %.9f; theory says %.9f", f, lines[f], want)
		}
	}
	t.Logf("1600 Hz %.3f dB, 6400 Hz %.3f dB", rig.DB(lines[1600]), rig.DB(lines[6400]))
}

func TestWhatIsNoNumberIsNotHeld(t *testing.T) {
	r := rig.New(Kind()).Set("rate", 20000, "Hz").Feed("in", func(n int) float64 { return []float64{math.NaN(), math.Inf(1), 0.5, 0.5, 0.5, 0.5}[min(n, 5)] })
	y := r.Out("out", 100)
	if y[0] != 0 || y[99] != 0.5 || !r.Clamped {
		t.Errorf("it goes from %g to %g, and says it limited: %t", y[0], y[99], r.Clamped)
	}
}

func BenchmarkHold(b *testing.B) {
	b.Run("noise", rig.New(Kind()).Bench)
	b.Run("joined", rig.New(Kind()).Feed("in", ramp).Feed("clock", rig.Sine(100)).Bench)
}
