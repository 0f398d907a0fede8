package recording

import (
	"encoding/binary"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strconv"
	"strings"
	"testing"
)

// floats reads raw little-endian float64 samples of interleaved channels.
func floats(raw []byte, channels int) [][]float64 {
	samples := make([][]float64, channels)
	for i := range len(raw) / 8 {
		samples[i%channels] = append(samples[i%channels], math.Float64frombits(binary.LittleEndian.Uint64(raw[8*i:])))
	}
	return samples
}

// differ returns the largest difference of two sounds; infinite if they differ
// in shape.
func differ(a, b [][]float64) float64 {
	if len(a) != len(b) || len(a[0]) != len(b[0]) {
		return math.Inf(1)
	}
	largest := 0.0
	for c := range a {
		for i, x := range a[c] {
			largest = max(largest, math.Abs(x-b[c][i]))
		}
	}
	return largest
}

func read(t testing.TB, path string) []byte {
	t.Helper()
	file, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return file
}

// Files of every kind that two independent programs write are read as ffmpeg
// reads them. Ogg Vorbis decoders may differ by their own rounding, and ffmpeg
// (5.1) leaves out the last 128 samples, which sox and the positions in the file
// count. The MP3 decoder in use gives 16-bit steps,
// cut instead of rounded, of 1/32767: two steps of 1/32768 off at most.
func TestDecodeAgainstFFmpegAndSox(t *testing.T) {
	need(t, "ffmpeg", "ffmpeg")
	need(t, "sox", "sox")
	const sine = "aevalsrc=0.4*sin(2*PI*440*t)+0.1*sin(2*PI*3000*t)|0.3*sin(2*PI*441*t):d=0.5:s="
	ffmpeg := func(rate string, channels string, args ...string) func(*testing.T, string) {
		return func(t *testing.T, path string) {
			run(t, "ffmpeg", append([]string{"-v", "error", "-f", "lavfi", "-i", sine + rate, "-ac", channels}, append(args, path)...)...)
		}
	}
	sox := func(args ...string) func(*testing.T, string) {
		return func(t *testing.T, path string) {
			run(t, "sox", append(append([]string{"-D", "-n", "-r", "44100"}, args...), path, "synth", "0.5", "sine", "440", "gain", "-6")...)
		}
	}
	const exact, rounding, steps16 = 0, 2e-5, 2.0 / 32768
	for _, test := range []struct {
		name, file string
		write      func(*testing.T, string)
		within     float64
	}{
		{"8-bit", "a.wav", sox("-b", "8", "-c", "2"), exact},
		{"16-bit", "a.wav", sox("-b", "16", "-c", "1"), exact},
		{"24-bit, extensible", "a.wav", sox("-b", "24", "-c", "2"), exact},
		{"32-bit", "a.wav", sox("-b", "32", "-c", "2"), exact},
		{"32-bit float", "a.wav", sox("-b", "32", "-e", "floating-point", "-c", "2"), exact},
		{"64-bit float", "a.wav", sox("-b", "64", "-e", "floating-point", "-c", "1"), exact},
		{"ffmpeg's 24-bit with a LIST chunk", "a.wav", ffmpeg("48000", "2", "-c:a", "pcm_s24le"), exact},
		{"FLAC 16-bit", "a.flac", ffmpeg("44100", "2"), exact},
		{"FLAC 24-bit", "a.flac", ffmpeg("96000", "1", "-sample_fmt", "s32"), exact},
		{"Ogg Vorbis", "a.ogg", ffmpeg("44100", "2", "-c:a", "libvorbis", "-q:a", "6"), rounding},
		{"Ogg Vorbis, one channel", "a.ogg", ffmpeg("48000", "1", "-c:a", "libvorbis"), rounding},
		{"MP3 constant", "a.mp3", ffmpeg("44100", "2", "-b:a", "192k"), steps16},
		{"MP3 variable", "a.mp3", ffmpeg("48000", "2", "-q:a", "2"), steps16},
		{"MP3 one channel", "a.mp3", ffmpeg("32000", "1", "-b:a", "64k"), steps16},
		{"MP3 version 2", "a.mp3", ffmpeg("22050", "2", "-b:a", "64k"), steps16},
		{"MP3 version 2, one channel", "a.mp3", ffmpeg("24000", "1", "-b:a", "48k"), steps16},
		{"MP3 version 2, 16 kHz", "a.mp3", ffmpeg("16000", "1", "-b:a", "24k"), steps16},
	} {
		t.Run(test.name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), test.file)
			test.write(t, path)
			file := read(t, path)
			info, err := Check(file)
			if err != nil {
				t.Fatal(err)
			}
			clip, decoded, err := Decode(file, info.Rate)
			if err != nil {
				t.Fatal(err)
			}
			frames, err := strconv.Atoi(strings.TrimSpace(string(run(t, "soxi", "-s", path))))
			if err != nil {
				t.Fatal(err)
			}
			want := floats(run(t, "ffmpeg", "-v", "error", "-i", path, "-f", "f64le", "-"), info.Channels)
			ours := clip.Channels
			if info.Format == Vorbis {
				ours = nil
				for _, samples := range clip.Channels {
					ours = append(ours, samples[:len(samples)-128])
				}
			}
			if info.Format == MP3 { // soxi counts delay and padding
				frames = len(want[0])
			}
			if got := differ(ours, want); got > test.within {
				t.Errorf("%d samples differ from ffmpeg's %d by up to %g; allowed is %g", len(clip.Channels[0]), len(want[0]), got, test.within)
			}
			if decoded.Frames != int64(frames) || decoded.Truncated || len(decoded.Notices()) > 0 {
				t.Errorf("decoded %+v, it has %d samples", decoded, frames)
			}
			if info.Frames != decoded.Frames {
				t.Errorf("Check says %d samples, Decode %d", info.Frames, decoded.Frames)
			}
		})
	}
}

// speech is a spoken recording of the Debian package alsa-utils.
func speech(t testing.TB) string {
	t.Helper()
	const path = "/usr/share/sounds/alsa/Front_Center.wav"
	if _, err := os.Stat(path); err != nil {
		t.Fatalf("a spoken recording is needed: install the Debian package alsa-utils (%v)", err)
	}
	return path
}

func TestSpeechAgainstSoxAndFFmpeg(t *testing.T) {
	need(t, "sox", "sox")
	need(t, "ffmpeg", "ffmpeg")
	path := speech(t)
	file := read(t, path)
	clip, info, err := Decode(file, 48000)
	if err != nil || info.Rate != 48000 || info.Channels != 1 || info.Bits != 16 || info.Silent {
		t.Fatalf("%+v, %v; want 16 bits, one channel, 48,000 Hz", info, err)
	}
	for program, raw := range map[string][]byte{
		"sox":    run(t, "sox", "-D", path, "-t", "f64", "-"),
		"ffmpeg": run(t, "ffmpeg", "-v", "error", "-i", path, "-f", "f64le", "-"),
	} {
		if got := differ(clip.Channels, floats(raw, 1)); got != 0 {
			t.Errorf("at its own rate the speech differs from %s's by %g", program, got)
		}
	}
	again, _, _ := Decode(file, 44100)
	clip, _, err = Decode(file, 44100)
	if err != nil || !reflect.DeepEqual(again, clip) {
		t.Fatalf("two runs give different bits (%v)", err)
	}
	theirs := floats(run(t, "sox", "-D", path, "-t", "f64", "-", "rate", "-v", "-s", "44100"), 1)[0]
	ours := clip.Channels[0]
	n := min(len(ours), len(theirs))
	if len(ours) != int(math.Round(float64(info.Frames)*44100/48000)) || len(theirs)-n > 1 {
		t.Fatalf("%d samples, sox has %d", len(ours), len(theirs))
	}
	// The filters differ above 20 kHz, where speech has next to nothing.
	if null := nullDB(theirs[:n], ours[:n]); null > -70 {
		t.Errorf("resampled speech differs from sox's by %.1f dB; allowed is -70 dB", null)
	} else {
		t.Logf("resampled speech differs from sox's by %.1f dB", null)
	}
}

// nullDB returns the level of the difference re that of a.
func nullDB(a, b []float64) float64 {
	var signal, rest float64
	for i, x := range a {
		signal += x * x
		rest += (x - b[i]) * (x - b[i])
	}
	return 10 * math.Log10(rest/signal)
}

// wavFile returns a WAV file with the given chunk bytes after "WAVE".
func wavFile(chunks ...[]byte) []byte {
	body := []byte("WAVE")
	for _, c := range chunks {
		body = append(body, c...)
	}
	return append(binary.LittleEndian.AppendUint32([]byte("RIFF"), uint32(len(body))), body...)
}

// pcm returns a format chunk.
func pcm(tag, channels, rate, frame, bits int) []byte {
	b := binary.LittleEndian.AppendUint16(nil, uint16(tag))
	b = binary.LittleEndian.AppendUint16(b, uint16(channels))
	b = binary.LittleEndian.AppendUint32(b, uint32(rate))
	b = binary.LittleEndian.AppendUint32(b, uint32(rate*frame))
	b = binary.LittleEndian.AppendUint16(b, uint16(frame))
	return chunk("fmt ", binary.LittleEndian.AppendUint16(b, uint16(bits)))
}

// claim returns a chunk that claims size bytes and has the body given.
func claim(id string, size uint32, body ...byte) []byte {
	return append(binary.LittleEndian.AppendUint32([]byte(id), size), body...)
}

// Files that lie, each with what must become of it. -1: refused; else the
// number of samples that are to be had.
var liars = []struct {
	name string
	file []byte
	want int
}{
	{"empty", nil, -1},
	{"four bytes", []byte("RIFF"), -1},
	{"text", []byte("MThd and so on"), -1},
	{"no chunks", wavFile(), -1},
	{"sound of a file is whole", wavFile(pcm(1, 1, 48000, 2, 16), chunk("data", []byte{1, 0, 2, 0})), 2},
	{"data of 0xffffffff bytes: a stream whose length was never filled in", wavFile(pcm(1, 1, 48000, 2, 16), claim("data", 0xffffffff, 1, 0, 2, 0)), 2},
	{"data of 0 bytes, with samples after it", wavFile(pcm(1, 1, 48000, 2, 16), claim("data", 0, 1, 0, 2, 0)), 2},
	{"data of 0 bytes, with a chunk after it", wavFile(pcm(1, 1, 48000, 2, 16), claim("data", 0), chunk("LIST", []byte("INFO"))), -1},
	{"data of no bytes", wavFile(pcm(1, 1, 48000, 2, 16), claim("data", 0)), -1},
	{"data of 2 GiB", wavFile(pcm(1, 1, 48000, 2, 16), claim("data", 0x7fffffff, 1, 0, 2, 0)), 2},
	{"data a little too long", wavFile(pcm(1, 1, 48000, 2, 16), claim("data", 100, 1, 0, 2, 0, 3)), 2},
	{"half a frame at the end", wavFile(pcm(1, 2, 48000, 4, 16), chunk("data", []byte{1, 0, 2, 0, 3, 0})), 1},
	{"format of negative size", wavFile(claim("fmt ", 0xfffffff0, pcm(1, 1, 48000, 2, 16)[8:]...), chunk("data", []byte{1, 0})), -1},
	{"format of 2 bytes", wavFile(claim("fmt ", 2, 1, 0), chunk("data", []byte{1, 0})), -1},
	{"no format", wavFile(chunk("data", []byte{1, 0})), -1},
	{"no data", wavFile(pcm(1, 1, 48000, 2, 16)), -1},
	{"no channels", wavFile(pcm(1, 0, 48000, 0, 16), chunk("data", []byte{1, 0})), -1},
	{"three channels", wavFile(pcm(1, 3, 48000, 6, 16), chunk("data", []byte{1, 0, 1, 0, 1, 0})), -1},
	{"rate of 0", wavFile(pcm(1, 1, 0, 2, 16), chunk("data", []byte{1, 0})), -1},
	{"rate of -1", wavFile(pcm(1, 1, -1, 2, 16), chunk("data", []byte{1, 0})), -1},
	{"frame of no bytes", wavFile(pcm(1, 1, 48000, 0, 16), chunk("data", []byte{1, 0})), -1},
	{"frame of too many bytes", wavFile(pcm(1, 1, 48000, 4, 16), chunk("data", []byte{1, 0, 1, 0})), -1},
	{"no bits", wavFile(pcm(1, 1, 48000, 0, 0), chunk("data", []byte{1, 0})), -1},
	{"12 bits", wavFile(pcm(1, 1, 48000, 2, 12), chunk("data", []byte{1, 0})), -1},
	{"a compressed kind (2)", wavFile(pcm(2, 1, 48000, 2, 16), chunk("data", []byte{1, 0})), -1},
	{"extensible without its end", wavFile(pcm(0xfffe, 1, 48000, 2, 16), chunk("data", []byte{1, 0})), -1},
	{"JUNK before the format", wavFile(chunk("JUNK", make([]byte, 28)), pcm(1, 1, 48000, 2, 16), chunk("data", []byte{1, 0})), 1},
	{"a chunk of odd length, padded", wavFile(claim("note", 3, 1, 2, 3, 0), pcm(1, 1, 48000, 2, 16), chunk("data", []byte{1, 0})), 1},
	{"a chunk that claims 4 GiB", wavFile(claim("note", 0xfffffffe, 1, 2), pcm(1, 1, 48000, 2, 16), chunk("data", []byte{1, 0})), -1},
	{"chunks after the data", wavFile(pcm(1, 1, 48000, 2, 16), chunk("data", []byte{1, 0}), claim("LIST", 0xffffffff)), 1},
	{"FLAC mark alone", []byte("fLaC"), -1},
	{"FLAC block of 16 MiB", []byte("fLaC\x84\xff\xff\xff\x00"), -1},
	{"FLAC with a comment first", []byte("fLaC\x84\x00\x00\x00"), -1},
	{"Ogg mark alone", []byte("OggS"), -1},
	{"ID3 tag of 256 MiB", []byte("ID3\x04\x00\x00\x7f\x7f\x7f\x7f"), -1},
	{"MP3 header alone", []byte{0xff, 0xfb, 0x90, 0x00}, -1},
	{"MPEG layer II", append([]byte{0xff, 0xfd, 0x90, 0x00}, make([]byte, 2000)...), -1},
	{"MPEG version 2.5", append([]byte{0xff, 0xe3, 0x90, 0x00}, make([]byte, 2000)...), -1},
	{"MP3 of free bit rate", append([]byte{0xff, 0xfb, 0x00, 0x00}, make([]byte, 2000)...), -1},
}

func TestFilesThatLie(t *testing.T) {
	for _, liar := range liars {
		info, err := Check(liar.file)
		clip, decoded, decodeErr := Decode(liar.file, 48000)
		switch {
		case liar.want < 0:
			if decodeErr == nil || clip != nil {
				t.Errorf("%s is accepted: %+v", liar.name, decoded)
			}
		case err != nil || decodeErr != nil:
			t.Errorf("%s is refused: %v, %v", liar.name, err, decodeErr)
		case len(clip.Channels[0]) != liar.want || info.Frames != int64(liar.want):
			t.Errorf("%s gives %d samples, want %d", liar.name, len(clip.Channels[0]), liar.want)
		}
		if testing.Verbose() && decodeErr != nil {
			t.Logf("%s: %v", liar.name, decodeErr)
		}
	}
}

// What is said of a file that was taken although something is the matter.
func TestNotices(t *testing.T) {
	nan := binary.LittleEndian.AppendUint32(nil, math.Float32bits(float32(math.NaN())))
	for _, test := range []struct {
		name string
		file []byte
		want []string
	}{
		{"truncated", wavFile(pcm(1, 1, 8000, 2, 16), claim("data", 32000, append(make([]byte, 7999), 1)...)), []string{"the file ends early: 0.5 s of 2 s are there"}},
		{"silent", wavFile(pcm(1, 1, 8000, 2, 16), chunk("data", make([]byte, 8))), []string{"the recording is silent: all 4 samples are 0"}},
		{"no number", wavFile(pcm(3, 1, 8000, 4, 32), chunk("data", append(nan, 0, 0, 0, 63))), []string{"samples set to 0: 1 (no numbers, or more than 60 dB above full scale)"}},
	} {
		_, info, err := Decode(test.file, 8000)
		if err != nil || !reflect.DeepEqual(info.Notices(), test.want) {
			t.Errorf("%s: %v, %q; want %q", test.name, err, info.Notices(), test.want)
		}
	}
}

// A file cut anywhere gives what is there, or an error: never more than was in
// it, and what is given equals the start of the whole.
func TestTruncatedFilesGiveWhatIsThere(t *testing.T) {
	need(t, "ffmpeg", "ffmpeg")
	for _, name := range []string{"a.wav", "a.flac", "a.ogg", "a.mp3"} {
		path := filepath.Join(t.TempDir(), name)
		args := []string{"-v", "error", "-f", "lavfi", "-i", "aevalsrc=0.5*random(0):s=32000:d=3"}
		if name == "a.ogg" {
			args = append(args, "-page_duration", "50000") // a cut page is lost: short ones
		}
		run(t, "ffmpeg", append(args, path)...)
		file := read(t, path)
		whole, _, err := Decode(file, 32000)
		if err != nil {
			t.Fatal(err)
		}
		given := 0
		for cut := 1; cut < len(file); cut += 1 + len(file)/40 {
			clip, info, err := Decode(file[:cut], 32000)
			if err != nil {
				continue
			}
			given++
			got, all := clip.Channels[0], whole.Channels[0]
			// The last samples of a cut MP3 or Vorbis file lack what overlaps them.
			compare := max(0, min(len(got), len(all))-1200)
			if !info.Truncated || len(got) > len(all)+1200 || differ([][]float64{got[:compare]}, [][]float64{all[:compare]}) != 0 {
				t.Errorf("%s cut at byte %d of %d: truncated %v, %d of %d samples, or other samples", name, cut, len(file), info.Truncated, len(got), len(all))
			}
		}
		if given < 20 {
			t.Errorf("%s: only %d of 40 cuts gave any sound", name, given)
		}
	}
}

func ExampleCheck() {
	_, err := Check([]byte("RIFF\x00\x00\x00\x00WAVEfmt \xff\xff\xff\xff"))
	fmt.Println(err)
	// Output: chunk "fmt " at byte 12 of the WAV file claims 4294967295 bytes; 0 are left; the recording was not loaded
}
