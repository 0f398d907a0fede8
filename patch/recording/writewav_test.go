package recording

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
	"testing"
)

func written(t testing.TB, channels [][]float64, rate int, f Format) []byte {
	t.Helper()
	var file bytes.Buffer
	if err := WriteWAV(&file, channels, rate, f); err != nil {
		t.Fatal(err)
	}
	return file.Bytes()
}

// What is written is what soxi and ffprobe say is there, and what sox and ffmpeg
// read equals what we read.
func TestWAVAgainstSoxAndFFprobe(t *testing.T) {
	need(t, "soxi", "sox")
	need(t, "ffprobe", "ffmpeg")
	for _, test := range []struct {
		format             Format
		bits, codec, sigil string
	}{
		{Bits16, "16", "pcm_s16le", "16-bit Signed Integer PCM"},
		{Bits24, "24", "pcm_s24le", "24-bit Signed Integer PCM"},
		{Float32, "32", "pcm_f32le", "32-bit Floating Point PCM"},
	} {
		for _, channels := range [][][]float64{{sine(4801, 440, 48000)}, {sine(4801, 440, 48000), sine(4801, 441, 48000)}} {
			file := written(t, channels, 48000, test.format)
			if got := int(binary.LittleEndian.Uint32(file[4:])) + 8; got != len(file) || len(file)%2 != 0 {
				t.Errorf("%s: RIFF says %d bytes, the file has %d", test.format, got, len(file))
			}
			path := write(t, "ours.wav", file)
			if got := strings.Fields(string(run(t, "soxi", "-s", path)) + string(run(t, "soxi", "-r", path)) + string(run(t, "soxi", "-c", path))); fmt.Sprint(got) != fmt.Sprintf("[4801 48000 %d]", len(channels)) {
				t.Errorf("%s: soxi says %v", test.format, got)
			}
			if got := string(run(t, "soxi", path)); !strings.Contains(got, test.sigil) {
				t.Errorf("soxi does not say %q:\n%s", test.sigil, got)
			}
			var probe struct{ Streams []map[string]any }
			if err := json.Unmarshal(run(t, "ffprobe", "-v", "error", "-show_streams", "-of", "json", path), &probe); err != nil || len(probe.Streams) != 1 ||
				probe.Streams[0]["codec_name"] != test.codec || probe.Streams[0]["sample_rate"] != "48000" || probe.Streams[0]["duration_ts"] != 4801.0 {
				t.Errorf("%s: ffprobe says %v (%v)", test.format, probe, err)
			}
			clip, info, err := Decode(file, 48000)
			if err != nil || fmt.Sprint(info.Bits) != test.bits || info.Float != (test.format == Float32) {
				t.Fatalf("%s: %v, %+v", test.format, err, info)
			}
			for program, raw := range map[string][]byte{
				"sox":    run(t, "sox", "-D", path, "-t", "f64", "-"),
				"ffmpeg": run(t, "ffmpeg", "-v", "error", "-i", path, "-f", "f64le", "-"),
			} {
				// sox keeps 32-bit whole numbers inside.
				if got := differ(clip.Channels, floats(raw, len(channels))); got > 0 && (program != "sox" || got > 1.0/(1<<31)) {
					t.Errorf("%s: we read what %s reads but for %g", test.format, program, got)
				}
			}
			limit := map[Format]float64{Bits16: 1.5 / (1 << 15), Bits24: 0.5 / (1 << 23), Float32: 1.0 / (1 << 25)}[test.format]
			if got := differ(clip.Channels, channels); got > limit {
				t.Errorf("%s: a sample is wrong by %g; allowed is %g", test.format, got, limit)
			}
		}
	}
}

// The noise of whole numbers, in dB below a full-scale sine.
//
// Sources: W. R. Bennett, Spectra of quantized signals, Bell System Technical
// Journal 27 (1948): 6.02 N + 1.76 dB; Lipshitz, Wannamaker and Vanderkooy, JAES
// 40(5), 1992: triangular dither two steps wide makes the error's power three
// times as large (4.77 dB), and free of the signal. 997 Hz as in AES17, and a
// third more, so that no sample comes twice.
func TestNoiseOfWholeNumbers(t *testing.T) {
	signal := make([]float64, 1<<20)
	for i := range signal {
		signal[i] = (1 - 2.0/(1<<15)) * math.Sin(2*math.Pi*(997+1/math.Pi)*float64(i)/48000)
	}
	for _, test := range []struct {
		format Format
		want   float64 // dB
	}{{Bits16, -93.319}, {Bits24, -146.255}} {
		clip, _, err := Decode(written(t, [][]float64{signal}, 48000, test.format), 48000)
		if err != nil {
			t.Fatal(err)
		}
		if got := nullDB(signal, clip.Channels[0]); math.Abs(got-test.want) > 0.05 {
			t.Errorf("%s bits: noise at %.3f dB, want %.3f", test.format, got, test.want)
		}
		// Free of the signal: the error must not hold a line at its third harmonic.
		if test.format == Bits16 {
			quiet := sine(1<<18, 1000, 48000)
			for i := range quiet {
				quiet[i] *= 4.0 / (1 << 15) // an amplitude of two steps
			}
			clip, _, _ := Decode(written(t, [][]float64{quiet}, 48000, Bits16), 48000)
			var re, im float64
			for i, x := range clip.Channels[0] {
				sin, cos := math.Sincos(2 * math.Pi * 3000 * float64(i) / 48000)
				re, im = re+x*cos, im+x*sin
			}
			if line := 2 * math.Hypot(re, im) / (1 << 18) * (1 << 15); line > 0.01 {
				t.Errorf("a sine of two steps has a third harmonic of %.4f steps; without dither it would be %.2f", line, 0.08)
			}
		}
	}
}

func TestSameSamplesSameFile(t *testing.T) {
	channels := [][]float64{sine(1000, 440, 48000), sine(1000, 441, 48000)}
	if !bytes.Equal(written(t, channels, 48000, Bits16), written(t, channels, 48000, Bits16)) {
		t.Error("two files of the same samples differ")
	}
}

// Beyond full scale samples are limited, never folded to the other side, and
// counted.
func TestClipping(t *testing.T) {
	loud := []float64{0, 1, -1, 1.0000001, -1.5, 300, -300}
	if got := Clipped([][]float64{loud, loud}); got != 8 {
		t.Errorf("%d samples are counted as clipped, want 8", got)
	}
	for _, f := range []Format{Bits16, Bits24} {
		clip, _, err := Decode(written(t, [][]float64{loud}, 48000, f), 48000)
		if err != nil {
			t.Fatal(err)
		}
		for i, x := range clip.Channels[0] {
			if math.Abs(x-min(max(loud[i], -1), 1)) > 2.0/(1<<15) {
				t.Errorf("%s bits: %v becomes %v", f, loud[i], x)
			}
		}
	}
	clip, _, err := Decode(written(t, [][]float64{loud}, 48000, Float32), 48000)
	if err != nil || clip.Channels[0][5] != 300 {
		t.Errorf("32f does not keep 300: %v, %v", clip, err)
	}
}

// full is a disk with room for n bytes.
type full struct{ n int }

var errFull = errors.New("no space left on device")

func (f *full) Write(p []byte) (int, error) {
	if f.n -= len(p); f.n < 0 {
		return 0, errFull
	}
	return len(p), nil
}

func TestAFullDiskIsTold(t *testing.T) {
	channels := [][]float64{signals(100000)["noise"][0]}
	for _, room := range []int{0, 10, 5000, 100000} {
		if err := WriteWAV(&full{room}, channels, 48000, Bits24); !errors.Is(err, errFull) {
			t.Errorf("WAV, room for %d bytes: %v", room, err)
		}
		if err := EncodeFLAC(&full{room}, channels, 48000); !errors.Is(err, errFull) {
			t.Errorf("FLAC, room for %d bytes: %v", room, err)
		}
	}
	if err := WriteWAV(&full{1 << 20}, [][]float64{{math.NaN()}}, 48000, Float32); err == nil {
		t.Error("a sample that is no number is written")
	}
}

func ExampleWriteWAV() {
	var file bytes.Buffer
	err := WriteWAV(&file, [][]float64{{0, 0.5, -0.5, 2}}, 48000, Bits24)
	fmt.Println(file.Len(), Clipped([][]float64{{0, 0.5, -0.5, 2}}), err)
	// Output: 56 1 <nil>
}

func BenchmarkWriteWAV(b *testing.B) {
	samples := make([]float64, 480000)
	for i := range samples {
		samples[i] = math.Sin(float64(i) / 7)
	}
	for _, f := range []Format{Bits16, Bits24, Float32} {
		b.Run(f.String(), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if err := WriteWAV(io.Discard, [][]float64{samples}, 48000, f); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*len(samples)), "ns/sample")
		})
	}
}
