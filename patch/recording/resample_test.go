package recording

import (
	"fmt"
	"math"
	"testing"

	"github.com/gopxl/beep/v2"
)

func sine(n int, hz, rate float64) []float64 {
	s := make([]float64, n)
	for i := range s {
		s[i] = 0.5 * math.Sin(2*math.Pi*hz*float64(i)/rate)
	}
	return s
}

// A sine resampled is the sine computed at the new rate. Edges, where the
// recording begins and ends abruptly, are left out.
func TestResampledSineIsTheSameSine(t *testing.T) {
	for _, test := range []struct {
		from, to int
		hz       float64
		within   float64 // dB, the error re the sine
	}{
		{44100, 48000, 1000, -100}, {44100, 48000, 10000, -100}, {44100, 48000, 19500, -100},
		{48000, 44100, 1000, -100}, {48000, 44100, 10000, -100}, {48000, 44100, 19500, -100},
		{22050, 48000, 9900, -100}, {96000, 48000, 10000, -100}, {192000, 44100, 19500, -100},
		{8000, 384000, 3500, -100}, {47999, 48000, 10000, -100},
	} {
		src := sine(test.from/2, test.hz, float64(test.from))
		got := resample([][]float64{src}, test.from, test.to)[0]
		if len(got) != test.to/2 {
			if want := int(math.Round(float64(len(src)) * float64(test.to) / float64(test.from))); len(got) != want {
				t.Fatalf("%d to %d Hz: %d samples, want %d", test.from, test.to, len(got), want)
			}
		}
		edge := len(got) / 20
		want := sine(len(got), test.hz, float64(test.to))
		null := nullDB(want[edge:len(want)-edge], got[edge:len(got)-edge])
		t.Logf("%d to %d Hz, sine of %g Hz: error %.1f dB", test.from, test.to, test.hz, null)
		if null > test.within {
			t.Errorf("%d to %d Hz: a sine of %g Hz is wrong by %.1f dB; allowed is %g dB", test.from, test.to, test.hz, null, test.within)
		}
	}
}

// Why there is more to it than beep's resampler: alone it is this wrong. If a
// later version of it is not, the oversampler can go.
func TestBeepsResamplerAlone(t *testing.T) {
	for hz, want := range map[float64]float64{10000: -58.2, 19500: -8.4} {
		src, at := sine(22050, hz, 44100), 0
		stream := beep.Resample(quality, 44100, 48000, beep.StreamerFunc(func(p [][2]float64) (n int, ok bool) {
			for ; n < len(p) && at < len(src); n++ {
				p[n][0] = src[at]
				at++
			}
			return n, n > 0
		}))
		pairs := make([][2]float64, 24000)
		for at := 0; at < len(pairs); {
			n, ok := stream.Stream(pairs[at:])
			if at += n; !ok {
				break
			}
		}
		got := make([]float64, len(pairs))
		for i, pair := range pairs {
			got[i] = pair[0]
		}
		if null := nullDB(sine(24000, hz, 48000)[1000:23000], got[1000:23000]); math.Abs(null-want) > 1 {
			t.Errorf("%g Hz: the error is %.1f dB; it was %.1f dB when the oversampler was made", hz, null, want)
		}
	}
}

// What the new rate cannot hold is taken away instead of folding down.
func TestResampleDoesNotFold(t *testing.T) {
	for _, hz := range []float64{25000, 30000, 40000, 47000} {
		got := resample([][]float64{sine(48000, hz, 96000)}, 96000, 44100)[0]
		if level := nullDB(sine(len(got), 1000, 44100)[2000:20000], addTo(got, sine(len(got), 1000, 44100))[2000:20000]); level > -100 {
			t.Errorf("%g Hz folds down at %.1f dB when 96,000 Hz become 44,100", hz, level)
		}
	}
}

func addTo(a, b []float64) []float64 {
	sum := make([]float64, len(a))
	for i := range a {
		sum[i] = a[i] + b[i]
	}
	return sum
}

// A steady level stays what it is, and a click stays where it was.
func TestResampleKeepsLevelAndPlace(t *testing.T) {
	steady := make([]float64, 5000)
	for i := range steady {
		steady[i] = 0.25
	}
	for i, x := range resample([][]float64{steady}, 44100, 48000)[0][200:5200] {
		if math.Abs(x-0.25) > 1e-6 {
			t.Fatalf("a steady 0.25 becomes %v at sample %d", x, i+200)
		}
	}
	click := make([]float64, 5000)
	click[441] = 1 // at 10 ms
	got := resample([][]float64{click}, 44100, 48000)[0]
	largest := 0
	for i, x := range got {
		if x > got[largest] {
			largest = i
		}
	}
	if largest != 480 || got[479] == 0 {
		t.Errorf("a click at 10 ms stands at sample %d of 48,000 Hz, want 480", largest)
	}
}

func BenchmarkResample(b *testing.B) {
	src := [][]float64{sine(441000, 1000, 44100)}
	for b.Loop() {
		resample(src, 44100, 48000)
	}
	b.ReportMetric(10*float64(b.N)/b.Elapsed().Seconds(), "x-realtime")
}

func ExampleDecode() {
	file := wavFile(pcm(1, 1, 24000, 2, 16), chunk("data", make([]byte, 2400)))
	clip, info, err := Decode(file, 48000)
	fmt.Println(info.Format, info.Rate, info.Frames, len(clip.Channels[0]), info.Notices(), err)
	// Output: WAV 24000 1200 2400 [the recording is silent: all 1200 samples are 0] <nil>
}
