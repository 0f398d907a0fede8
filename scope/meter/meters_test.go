package meter

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"regexp"
	"strconv"
	"testing"
)

// programme is restless stereo sound: notes, noise, pauses.
func programme(rate, seconds float64) [][]float64 {
	g := rand.New(rand.NewPCG(7, 8))
	left, right := make([]float64, int(rate*seconds)), make([]float64, int(rate*seconds))
	for i := range left {
		t := float64(i) / rate
		loud := math.Pow(10, -1.2+0.9*math.Sin(2*math.Pi*t/9)) * (1 - 0.7*math.Mod(t*3, 1))
		hz := 220 * math.Exp2(math.Floor(3*math.Sin(t))/4)
		x := 0.5*math.Sin(2*math.Pi*hz*t) + 0.2*math.Sin(2*math.Pi*17.3*hz*t) + 0.1*g.NormFloat64()
		left[i], right[i] = loud*x, loud*(0.6*x+0.05*g.NormFloat64())
	}
	return [][]float64{left, right}
}

func TestBlocksDoNotMatter(t *testing.T) {
	for _, rate := range []float64{48000, 11025} {
		sound := programme(rate, 8)
		sound[0][12345] = math.NaN()
		sound[1][54321] = math.Inf(1)
		whole, parts, atOnce := New(rate, Weights(2)), New(rate, Weights(2)), New(rate, Weights(2))
		whole.Write(sound)
		for at, n := 0, 1; at < len(sound[0]); at, n = at+n, n*7%4099+1 {
			end := min(at+n, len(sound[0]))
			parts.Write([][]float64{sound[0][at:end], sound[1][at:end]})
		}
		half := len(sound[0])/2 + 77
		atOnce.WriteAtOnce([][]float64{sound[0][:half], sound[1][:half]})
		atOnce.WriteAtOnce([][]float64{sound[0][half:], sound[1][half:]})
		want := whole.Reading()
		for name, m := range map[string]*Meters{"in pieces": parts, "at once": atOnce} {
			if got := m.Reading(); !reflect.DeepEqual(got, want) {
				t.Errorf("%s: %+v\nwhole: %+v", name, got, want)
			}
		}
		if want.Channels[0].Broken != 1 || want.Channels[1].Broken != 1 {
			t.Errorf("one sample of each channel is no number; counted are %d and %d", want.Channels[0].Broken, want.Channels[1].Broken)
		}
		alone := NewChannel(rate)
		alone.Write(sound[0])
		if got := alone.Reading(); got != want.Channels[0] {
			t.Errorf("a channel alone reads %+v, with others %+v", got, want.Channels[0])
		}
	}
}

func TestNothingIsNaN(t *testing.T) {
	for _, rate := range []float64{8000, 48000, 384000} {
		for _, channels := range []int{1, 2, 5} {
			m := New(rate, Weights(channels))
			bad := make([][]float64, channels)
			for c := range bad {
				bad[c] = []float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e300, -1e-310, 999, -1000, 0}
			}
			check := func(when string) {
				if text := fmt.Sprintf("%+v", m.Reading()); regexp.MustCompile(`NaN|\+Inf`).MatchString(text) {
					t.Errorf("%s, %d channels at %g Hz: %s", when, channels, rate, text)
				}
			}
			check("nothing")
			for range 200 {
				m.Write(bad)
			}
			check("broken samples")
			m.Write(make2(channels, int(rate)))
			check("silence")
		}
	}
}

func make2(channels, n int) [][]float64 {
	s := make([][]float64, channels)
	for c := range s {
		s[c] = make([]float64, n)
	}
	return s
}

func TestNothingAllocatesWhileRunning(t *testing.T) {
	sound := programme(48000, 1)
	m := New(48000, Weights(2))
	c, l, e := NewChannel(48000), NewLoudness(48000, Weights(2)), NewEnvelope(48000, 2)
	taps := [][]float32{make([]float32, 4800), make([]float32, 4800)}
	readings := make([]ChannelReading, 0, 2)
	if n := testing.AllocsPerRun(20, func() {
		m.Write(sound)
		m.Write32(taps)
		c.Write(sound[0])
		c.Write32(taps[0])
		l.Write(sound)
		e.Write(sound)
		readings, _ = m.Live(readings)
		e.Reading()
	}); n != 0 {
		t.Errorf("a second of sound allocates %v times", n)
	}
}

// A second program reads the same loudness, range and true peak: ffmpeg's ebur128.
func TestAgainstAnotherProgram(t *testing.T) {
	if _, err := exec.LookPath("ffmpeg"); err != nil {
		t.Skip("ffmpeg is not there")
	}
	for _, rate := range []float64{48000, 44100, 96000} {
		sound := programme(rate, 30)
		path := filepath.Join(t.TempDir(), "programme.f64")
		writeRaw(t, path, sound)
		out, err := exec.Command("ffmpeg", "-hide_banner", "-f", "f64le", "-ar", fmt.Sprint(rate), "-ac", "2", "-i", path,
			"-af", "ebur128=peak=true+sample", "-f", "null", "-").CombinedOutput()
		if err != nil {
			t.Fatalf("ffmpeg: %v\n%s", err, out)
		}
		summary := out[bytes.LastIndex(out, []byte("Summary:")):]
		m := New(rate, Weights(2))
		m.Write(sound)
		r := m.Reading()
		peak := max(r.Channels[0].Peak, r.Channels[1].Peak)
		true := max(r.Channels[0].TruePeak, r.Channels[1].TruePeak)
		within(t, fmt.Sprintf("integrated at %g Hz", rate), r.Loudness.Integrated, number(t, summary, `I: +(\S+) LUFS`), 0.1)
		// Tech 3342 allows 1 LU; here it is what the first 3 s count for.
		within(t, fmt.Sprintf("range at %g Hz", rate), r.Loudness.Range, number(t, summary, `LRA: +(\S+) LU`), 0.5)
		within(t, fmt.Sprintf("sample peak at %g Hz", rate), peak, number(t, summary, `(?s)Sample peak:.*?Peak: +(\S+) dBFS`), 0.06)
		within(t, fmt.Sprintf("true peak at %g Hz", rate), true, number(t, summary, `(?s)True peak:.*?Peak: +(\S+) dBFS`), 0.3)
	}
}

func number(t *testing.T, text []byte, pattern string) float64 {
	t.Helper()
	found := regexp.MustCompile(pattern).FindSubmatch(text)
	if found == nil {
		t.Fatalf("no %s in\n%s", pattern, text)
	}
	x, err := strconv.ParseFloat(string(found[1]), 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

func writeRaw(t *testing.T, path string, sound [][]float64) {
	t.Helper()
	file := make([]byte, 0, 16*len(sound[0]))
	for i := range sound[0] {
		for _, ch := range sound {
			file = binary.LittleEndian.AppendUint64(file, math.Float64bits(ch[i]))
		}
	}
	if err := os.WriteFile(path, file, 0o600); err != nil {
		t.Fatal(err)
	}
}

func ExampleNew() {
	m := New(48000, Weights(2))
	sine := tone(48000, 5, 0.1, 1000, 0) // -20 dBFS
	m.Write([][]float64{sine, sine})
	r := m.Reading()
	note, cents := Note(r.Tone.Hz)
	fmt.Printf("%.1f LUFS, %.1f dBTP, PPM at mark %.1f, %s %+.1f cents\n",
		r.Loudness.Integrated, r.Channels[0].TruePeak, PPMMark(r.Channels[0].PPMMax), note, cents)
	// Output: -20.0 LUFS, -20.0 dBTP, PPM at mark 3.5, B5 +21.3 cents
}
