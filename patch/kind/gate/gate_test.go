package gate

import (
	"encoding/binary"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"lampblack/patch/dsp/hash"
	"lampblack/patch/kind/rig"
)

// steps is a level of so many dB from each time on (in samples).
func steps(at []int, db []float64) rig.Wave {
	return func(n int) float64 {
		y := 0.0
		for k, from := range at {
			if n >= from {
				y = math.Pow(10, db[k]/20)
			}
		}
		return y * float64(1-2*(n%2)) // its square is the same at every sample
	}
}

// First-order theory: the power reaches the threshold D dB below after
// -t ln(1 - 10^(-D/10)), and falls to the threshold less the hysteresis after
// t ln 10 (D + H)/10; then the hold goes by.
func TestItOpensAndShutsWhenTheorySays(t *testing.T) {
	for _, c := range []struct{ over, hysteresis, response, hold float64 }{
		{6, 6, 0.005, 0.1}, {20, 6, 0.005, 0.1}, {1, 0, 0.02, 0.001}, {12, 24, 0.01, 0.05},
	} {
		out := rig.New(Kind()).Set("threshold", -30, "dB").Set("hysteresis", c.hysteresis, "dB").
			Set("response", c.response, "s").Set("hold", c.hold, "s").
			Feed("in", steps([]int{4800, 24000}, []float64{c.over - 30, -200})).Run(48000)
		opened := slices.Index(out[0], 1)
		shut := opened + slices.Index(out[0][opened:], 0)
		open := -c.response * math.Log(1-math.Pow(10, -c.over/10)) * 48000
		if math.Abs(float64(opened-4800)-open) > 1.5 {
			t.Errorf("%+v: opens after %d samples; theory says %.1f", c, opened-4800, open)
		}
		shutting := (c.response*math.Ln10/10*(c.over+c.hysteresis) + c.hold) * 48000
		if math.Abs(float64(shut-24000)-shutting) > 2 {
			t.Errorf("%+v: shuts after %d samples; theory says %.1f", c, shut-24000, shutting)
		}
		if slices.Index(out[1], 1) != opened || slices.Index(out[1][opened+1:], 1) >= 0 {
			t.Errorf("%+v: the trigger is not at sample %d alone", c, opened)
		}
	}
}

// A level that wavers by 4 dB about the threshold opens it once with a
// hysteresis of 6 dB, and often without.
func TestHysteresisStopsFluttering(t *testing.T) {
	count := func(hysteresis float64) int {
		out := rig.New(Kind()).Set("threshold", -20, "dB").Set("hysteresis", hysteresis, "dB").Set("hold", 0.001, "s").
			Feed("in", func(n int) float64 {
				return math.Pow(10, (-20+2*math.Sin(2*math.Pi*10*float64(n)/48000))/20) * float64(1-2*(n%2))
			}).Out("trigger", 96000)
		n := 0
		for _, y := range out {
			n += int(y)
		}
		return n
	}
	if with, without := count(6), count(0); with != 1 || without < 19 {
		t.Errorf("opens %d times with hysteresis, %d without; want 1 and 20", with, without)
	}
}

func TestItCanTellVoiceFromHiss(t *testing.T) {
	before := 0.0
	wave := func(n int) float64 {
		if n/12000%2 == 0 {
			return 0.2 * (2*math.Mod(float64(n)*150/48000, 1) - 1)
		}
		x := 0.2 * hash.Signed(1, uint64(n))
		y := x - before
		before = x
		return y
	}
	for opens, want := range map[string][2]float64{"any sound": {1, 1}, "voiced": {1, 0}, "hiss": {0, 1}} {
		out := rig.New(Kind()).Choose("opens on", opens).Set("hold", 0.02, "s").Feed("in", wave).Out("gate", 96000)
		for k := 1; k < 8; k++ {
			for i := k*12000 + 4000; i < (k+1)*12000; i++ {
				if out[i] != want[k%2] {
					t.Fatalf("opens on %s: gate is %g at sample %d (part %d)", opens, out[i], i, k)
				}
			}
		}
	}
}

// The announcements of Debian's package alsa-utils are two words each: the gate
// opens, for part of the time, and few times.
func TestSpeechOpensItWordByWord(t *testing.T) {
	files, _ := filepath.Glob("/usr/share/sounds/alsa/*_*.wav")
	if len(files) == 0 {
		t.Skip("alsa-utils is not installed")
	}
	for _, name := range files {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		data = data[44:]
		n := len(data) / 2
		out := rig.New(Kind()).Feed("in", func(i int) float64 {
			return float64(int16(binary.LittleEndian.Uint16(data[2*i:]))) / 32768
		}).Run(n)
		open, times := 0.0, 0.0
		for i := range n {
			open += out[0][i] / float64(n)
			times += out[1][i]
		}
		t.Logf("%-18s opens %g times, for %.0f %% of %.2f s", filepath.Base(name), times, 100*open, float64(n)/48000)
		if times < 1 || times > 4 || open < 0.3 || open > 0.95 {
			t.Errorf("%s: not plausible for two words", name)
		}
	}
}

func TestItComesBackAfterNonsense(t *testing.T) {
	r := rig.New(Kind()).Feed("in", func(n int) float64 {
		if n < 100 {
			return []float64{math.NaN(), math.Inf(1), -1e300}[n%3]
		}
		return 0
	})
	if out := r.Out("gate", 48000); out[200] != 1 || out[47999] != 0 || !r.Clamped {
		t.Errorf("after nonsense the gate is %g, then %g; said: %v", out[200], out[47999], r.Clamped)
	}
}

func BenchmarkGate(b *testing.B) { rig.New(Kind()).Feed("in", rig.Sine(500)).Bench(b) }
