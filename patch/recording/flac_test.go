package recording

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// need fails the test if a reference program is not there, and names the Debian
// package that has it.
func need(t *testing.T, program, pkg string) {
	t.Helper()
	if _, err := exec.LookPath(program); err != nil {
		t.Fatalf("%s is needed to check against: install the Debian package %s", program, pkg)
	}
}

// run returns the standard output of a reference program.
func run(t *testing.T, program string, args ...string) []byte {
	t.Helper()
	var stdout, stderr bytes.Buffer
	cmd := exec.Command(program, args...)
	cmd.Stdout, cmd.Stderr = &stdout, &stderr
	if err := cmd.Run(); err != nil {
		t.Fatalf("%s %v: %v\n%s", program, args, err, stderr.Bytes())
	}
	return stdout.Bytes()
}

func write(t *testing.T, name string, file []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, file, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// signals are what a sound maker's renders are like, from easy to hard to press.
func signals(n int) map[string][][]float64 {
	random := rand.New(rand.NewPCG(1, 2))
	silence, sine, noise, loud, square := make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range n {
		sine[i] = 0.5 * math.Sin(2*math.Pi*440*float64(i)/48000)
		noise[i] = 2*random.Float64() - 1
		loud[i] = 1.5 * sine[i] * 2
		square[i] = math.Copysign(1, sine[i])
	}
	// A saw through a resonance, and noise through one: what patches are made of.
	reed, wind := make([]float64, n), make([]float64, n)
	for i := range n {
		for _, s := range []struct {
			y []float64
			x float64
		}{{reed, math.Mod(float64(i)*220/48000, 1) - 0.5}, {wind, noise[i]}} {
			s.y[i] = 0.05 * s.x
			if i > 1 {
				s.y[i] += 1.9*s.y[i-1] - 0.95*s.y[i-2]
			}
		}
	}
	return map[string][][]float64{
		"reed": {reed}, "wind": {wind}, "reed and wind": {reed, wind},
		"silence": {silence}, "sine": {sine}, "noise": {noise}, "over full scale": {loud},
		"noise and its inverse": {noise, loud}, "square of full scale": {square}, "equal sides": {sine, sine},
		"silence and noise": {silence, noise},
	}
}

func encode(t testing.TB, channels [][]float64, rate int) []byte {
	t.Helper()
	var file bytes.Buffer
	if err := EncodeFLAC(&file, channels, rate); err != nil {
		t.Fatal(err)
	}
	return file.Bytes()
}

func TestFLACComesBackUnchanged(t *testing.T) {
	for _, n := range []int{1, 2, 3, 4, 5, 17, 191, 4095, 4096, 4097, 10000} {
		for name, channels := range signals(n) {
			for _, rate := range []int{8000, 11025, 24000, 44100, 48000, 176400, 192000, 383999, 384000} {
				if rate != 48000 && n != 17 {
					continue
				}
				got, gotRate, err := DecodeFLAC(encode(t, channels, rate))
				if err != nil || gotRate != rate || len(got) != len(channels) || len(got[0]) != n {
					t.Fatalf("%s, %d samples at %d Hz: %v, %d Hz, %d channels", name, n, rate, err, gotRate, len(got))
				}
				for c := range channels {
					for i, step := range quantise24(channels[c]) {
						if got[c][i] != float64(step)/(1<<23) {
							t.Fatalf("%s, %d samples at %d Hz: channel %d sample %d is %v, want %v", name, n, rate, c, i, got[c][i], float64(step)/(1<<23))
						}
					}
				}
			}
		}
	}
}

// Two independent programs read what we write, sample by sample.
func TestFLACAgainstFFmpegAndSox(t *testing.T) {
	need(t, "ffmpeg", "ffmpeg")
	need(t, "sox", "sox")
	for name, channels := range signals(9999) {
		path := write(t, "ours.flac", encode(t, channels, 48000))
		for program, raw := range map[string][]byte{
			"ffmpeg": run(t, "ffmpeg", "-v", "error", "-i", path, "-f", "s32le", "-"),
			"sox":    run(t, "sox", path, "-t", "s32", "-"),
		} {
			if len(raw) != 4*9999*len(channels) {
				t.Fatalf("%s reads %d bytes of %q, want %d", program, len(raw), name, 4*9999*len(channels))
			}
			for c := range channels {
				for i, step := range quantise24(channels[c]) {
					got := int32(binary.LittleEndian.Uint32(raw[4*(i*len(channels)+c):]))
					if got != step<<8 {
						t.Fatalf("%s: %q channel %d sample %d is %d, want %d", program, name, c, i, got>>8, step)
					}
				}
			}
		}
	}
}

// A second encoder's files, with adaptive predictors that ours does not write.
func TestFLACFromFFmpeg(t *testing.T) {
	need(t, "ffmpeg", "ffmpeg")
	for _, pcm := range []string{"s16", "s32"} {
		path := filepath.Join(t.TempDir(), "theirs.flac")
		run(t, "ffmpeg", "-v", "error", "-f", "lavfi", "-i", "aevalsrc=0.4*sin(2*PI*440*t)+0.1*random(0)|0.3*sin(2*PI*441*t):s=44100:d=0.7",
			"-sample_fmt", pcm, path)
		file, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		got, rate, err := DecodeFLAC(file)
		if err != nil || rate != 44100 {
			t.Fatalf("%s: %v, %d Hz", pcm, err, rate)
		}
		raw := run(t, "ffmpeg", "-v", "error", "-i", path, "-f", "f64le", "-")
		for i := range len(raw) / 8 {
			if want := math.Float64frombits(binary.LittleEndian.Uint64(raw[8*i:])); got[i%2][i/2] != want {
				t.Fatalf("%s: channel %d sample %d is %v, want %v", pcm, i%2, i/2, got[i%2][i/2], want)
			}
		}
	}
}

// Prediction must be worth its name. ffmpeg's encoder, with predictors of the
// same kinds and up to the same order, is the measure: ours may be 1 % larger at
// most.
func TestFLACIsAsSmallAsFFmpegs(t *testing.T) {
	need(t, "ffmpeg", "ffmpeg")
	for _, name := range []string{"sine", "noise", "equal sides", "silence and noise", "reed", "wind", "reed and wind"} {
		channels := signals(96000)[name]
		path := write(t, "ours.flac", encode(t, channels, 48000))
		theirs := filepath.Join(t.TempDir(), "theirs.flac")
		ours, reference := audioSize(t, path), math.MaxInt
		for _, kind := range []string{"fixed", "levinson"} {
			run(t, "ffmpeg", "-y", "-v", "error", "-i", path, "-lpc_type", kind, "-max_prediction_order", map[string]string{"fixed": "4", "levinson": "12"}[kind],
				"-frame_size", "4096", "-sample_fmt", "s32", theirs)
			reference = min(reference, audioSize(t, theirs))
		}
		t.Logf("%s: %d bytes, ffmpeg %d, plain 24-bit %d", name, ours, reference, 3*96000*len(channels))
		if float64(ours) > 1.01*float64(reference) {
			t.Errorf("%s takes %d bytes; ffmpeg needs %d", name, ours, reference)
		}
	}
}

// audioSize returns the size of a FLAC file without its metadata.
func audioSize(t *testing.T, path string) int {
	t.Helper()
	file, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	at := 4
	for last := false; !last; {
		last = file[at]&0x80 != 0
		at += 4 + int(binary.BigEndian.Uint32(file[at:])&0xffffff)
	}
	return len(file) - at
}

func TestFLACRefusesWhatItCannotHold(t *testing.T) {
	for name, channels := range map[string][][]float64{
		"no channel": {}, "three channels": {{0}, {0}, {0}}, "no samples": {{}}, "unequal sides": {{0}, {0, 0}},
		"not a number": {{0, math.NaN()}}, "infinite": {{0}, {math.Inf(-1)}},
	} {
		var file bytes.Buffer
		if err := EncodeFLAC(&file, channels, 48000); err == nil || file.Len() != 0 {
			t.Errorf("%s: error %v, %d bytes written", name, err, file.Len())
		}
	}
	if err := EncodeFLAC(&bytes.Buffer{}, [][]float64{{0}}, 7999); err == nil {
		t.Error("a rate of 7,999 Hz is accepted")
	}
}

// Damage anywhere in the audio is found: by the frames' checksums or by the MD5
// sum of the samples.
func TestFLACDamageIsFound(t *testing.T) {
	file := encode(t, signals(5000)["noise"], 48000)
	for at := 4; at < len(file); at += 97 {
		broken := bytes.Clone(file)
		broken[at] ^= 0x10
		if at >= 8 && at < 18 { // block and frame sizes are hints; the samples are the same
			continue
		}
		if _, rate, err := DecodeFLAC(broken); err == nil && rate == 48000 {
			t.Errorf("byte %d was changed and nobody noticed", at)
		}
	}
	if _, _, err := DecodeFLAC(file[:len(file)-1]); err == nil {
		t.Error("a missing last byte is not noticed")
	}
}

func BenchmarkFLAC(b *testing.B) {
	channels := signals(480000)["noise and its inverse"]
	file := encode(b, channels, 48000)
	b.Run("encode", func(b *testing.B) {
		for b.Loop() {
			if err := EncodeFLAC(&bytes.Buffer{}, channels, 48000); err != nil {
				b.Fatal(err)
			}
		}
		b.ReportMetric(10*float64(b.N)/b.Elapsed().Seconds(), "x-realtime")
	})
	b.Run("decode", func(b *testing.B) {
		for b.Loop() {
			if _, _, err := DecodeFLAC(file); err != nil {
				b.Fatal(err)
			}
		}
		b.ReportMetric(10*float64(b.N)/b.Elapsed().Seconds(), "x-realtime")
	})
}

func ExampleEncodeFLAC() {
	var file bytes.Buffer
	err := EncodeFLAC(&file, [][]float64{{0, 0.5, -0.5}}, 48000)
	channels, rate, _ := DecodeFLAC(file.Bytes())
	fmt.Println(err, channels, rate)
	// Output: <nil> [[0 0.5 -0.5]] 48000
}
