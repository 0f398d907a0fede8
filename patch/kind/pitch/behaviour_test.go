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
