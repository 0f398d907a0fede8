package pitch

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

func white(n int) float64 { return 0.3 * hash.Signed(1, uint64(n)) }

func share(gate []float64) float64 {
	sum := 0.0
	for _, g := range gate {
		sum += g
	}
	return sum / float64(len(gate))
}

func TestNoiseAndSilenceHaveNoPitch(t *testing.T) {
	for name, wave := range map[string]rig.Wave{
		"white noise":               white,
		"a tone below the floor":    func(n int) float64 { return 0.0005 * rig.Sine(220)(n) },
		"a tone below the lowest":   func(n int) float64 { return 0.3 * rig.Sine(30)(n) },
		"nothing":                   func(int) float64 { return 0 },
		"a voltage that never ends": func(int) float64 { return 1 },
	} {
		out := rig.New(Kind()).Feed("in", wave).Run(96000)
		if s := share(out[1]); s > 0.002 {
			t.Errorf("%s: voiced for %.2f %% of the time, at %g", name, 100*s, out[0][95999])
		}
	}
	if s := share(rig.New(Kind()).Feed("in", func(n int) float64 { return 0.003 * rig.Sine(220)(n) }).Run(96000)[1]); s < 0.98 {
		t.Errorf("a tone over the floor is voiced for %.1f %% of the time", 100*s)
	}
}

func TestPitchStaysInAPauseAndVoicedHolds(t *testing.T) {
	out := rig.New(Kind()).Set("hold", 0.1, "s").Feed("in", func(n int) float64 {
		if n < 24000 {
			return 0.3 * rig.Sine(330)(n)
		}
		return 0
	}).Run(48000)
	if c := cents(out[0][47999], 330); math.Abs(c) > 30 {
		t.Errorf("after the tone pitch is %.1f cents off", c)
	}
	end := slices.Index(out[1][24000:], 0)
	if ms := float64(end) / 48; ms < 100 || ms > 125 {
		t.Errorf("voiced ends %.1f ms after the tone; want the hold of 100 ms and the window", ms)
	}
}

// First-order theory: 63.2 % of the way after one time constant.
func TestGlideSlidesWithItsTimeConstant(t *testing.T) {
	out := rig.New(Kind()).Set("glide", 0.2, "s").Feed("in", func(n int) float64 {
		if n < 24000 {
			return 0.3 * rig.Sine(300)(n)
		}
		return 0.3 * rig.Sine(600)(n)
	}).Out("pitch", 72000)
	if c := cents(out[23000], 300); math.Abs(c) > 0.1 {
		t.Errorf("the first pitch is not there at once: %.2f cents off", c)
	}
	start := slices.IndexFunc(out[24000:], func(p float64) bool { return cents(p, 300) > 5 }) + 24000
	if got := cents(out[start+9600], 300) / 1200; math.Abs(got-0.632) > 0.01 {
		t.Errorf("after one time constant it has gone %.3f of the way; want 0.632", got)
	}
}

func TestPeriodicityIsNearOneForATone(t *testing.T) {
	for _, c := range []struct {
		name        string
		wave        rig.Wave
		least, most float64
	}{
		{"a clean tone", rig.Sine(220), 0.999, 1},
		{"a tone in noise 10 dB below", func(n int) float64 { return 0.5*rig.Sine(220)(n) + 0.194*hash.Signed(1, uint64(n)) }, 0.9, 0.999},
		{"noise", white, 0, 0.7},
	} {
		out := rig.New(Kind()).Feed("in", c.wave).Out("periodicity", 48000)
		if low, high := slices.Min(out[4800:]), slices.Max(out[4800:]); low < c.least || high > c.most {
			t.Errorf("%s: periodicity goes from %.4f to %.4f; want %g to %g", c.name, low, high, c.least, c.most)
		}
	}
}

// A tone in much noise has a pitch for a lenient threshold alone.
func TestThresholdSaysHowRoughAVoiceMayBe(t *testing.T) {
	rough := func(n int) float64 { return 0.3*rig.Sine(220)(n) + 0.6*hash.Signed(1, uint64(n)) }
	for threshold, want := range map[float64][2]float64{3: {0, 0.02}, 50: {0.98, 1}} {
		got := share(rig.New(Kind()).Set("threshold", threshold, "%").Feed("in", rough).Run(96000)[1][4800:])
		if got < want[0] || got > want[1] {
			t.Errorf("threshold %g %%: voiced for %.1f %% of the time", threshold, 100*got)
		}
	}
}

func TestSteadinessAveragesSmallDifferencesAlone(t *testing.T) {
	spread := func(steadiness float64) float64 {
		var sum float64
		out := rig.New(Kind()).Set("steadiness", steadiness/1200, "oct").Feed("in", tone(110, 1, 20)).Out("pitch", 48000)
		for _, p := range out[9600:] {
			sum += math.Pow(cents(p, 110), 2) / 38400
		}
		return math.Sqrt(sum)
	}
	if with, without := spread(8), spread(0); with > without/2 {
		t.Errorf("a tone in noise: %.2f cents rms with it, %.2f without", with, without)
	}
	// A vibrato of +-50 cents, 6 a second, is not held up: it arrives whole.
	phase := 0.0
	out := rig.New(Kind()).Feed("in", func(n int) float64 {
		phase += 330 * math.Exp2(50.0/1200*rig.Sine(6)(n)) / 48000
		return 0.3 * math.Sin(2*math.Pi*phase)
	}).Out("pitch", 96000)
	if up, down := cents(slices.Max(out[48000:]), 330), cents(slices.Min(out[48000:]), 330); up < 44 || down > -44 || up > 51 {
		t.Errorf("a vibrato of 50 cents is followed from %.1f to %.1f", down, up)
	}
}

func TestItComesBackAfterNonsense(t *testing.T) {
	r := rig.New(Kind()).Feed("in", func(n int) float64 {
		if n > 9600 && n < 10000 {
			return []float64{math.NaN(), math.Inf(1), -1e300}[n%3]
		}
		return 0.3 * rig.Sine(261.63)(n)
	})
	out := r.Run(14400)
	if c := cents(out[0][14399], 261.63); math.Abs(c) > 0.1 || !r.Clamped || out[1][14399] != 1 {
		t.Errorf("80 ms after nonsense the pitch is %.2f cents off; said: %v", c, r.Clamped)
	}
}

// Real speech, where it is installed: the announcements of Debian's package
// alsa-utils (48 kHz, one channel). Nobody has measured their pitch; a speaking
// voice lies between about 80 and 400 Hz (Fant), is voiced for part of the time
// only, and moves little from look to look.
func TestSpeechIsPlausible(t *testing.T) {
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
		var hz []float64
		jumps := 0.0
		for i := 64; i < n; i += 64 {
			if out[1][i] == 1 {
				hz = append(hz, 440*math.Exp2(out[0][i]))
				if out[1][i-64] == 1 && math.Abs(out[0][i]-out[0][i-64]) > 0.263 {
					jumps++
				}
			}
		}
		slices.Sort(hz)
		at := func(p float64) float64 { return hz[int(p*float64(len(hz)-1))] }
		voiced := share(out[1])
		t.Logf("%-18s %.2f s, voiced %2.0f %%, pitch 5/50/95 %%: %.0f %.0f %.0f Hz, %.0f jumps of more than 20 %%",
			filepath.Base(name), float64(n)/48000, 100*voiced, at(.05), at(.5), at(.95), jumps)
		if voiced < 0.15 || voiced > 0.9 || at(.05) < 70 || at(.95) > 450 || jumps > 0.02*float64(len(hz)) {
			t.Errorf("%s: not plausible for a speaking voice", name)
		}
	}
}
