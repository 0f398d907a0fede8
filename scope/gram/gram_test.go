package gram

import (
	"math"
	"slices"
	"testing"

	"lampblack/scope"
)

func settings() Settings {
	return Settings{
		Rate: 48000, Samples: 1024, Hop: 256, Window: scope.Hann, Height: 200, Frames: 50,
		Axis: scope.Axis{Low: 50, High: 20000, Logarithmic: true},
	}
}

// sweep is a sine whose frequency doubles every second, from 100 Hz on:
// the phase is the integral of its frequency.
func sweep(n int) []float64 {
	x := make([]float64, n)
	for i := range x {
		x[i] = math.Sin(2 * math.Pi * 100 / math.Ln2 * (math.Exp2(float64(i)/48000) - 1))
	}
	return x
}

// The ridge of a frame stands at the frequency that the sweep has at the frame's
// clock, on either axis.
func TestFramesStandWhereTheSoundIs(t *testing.T) {
	for _, axis := range []scope.Axis{{Low: 50, High: 20000, Logarithmic: true}, {Low: 0, High: 8000}} {
		s := settings()
		s.Axis = axis
		g := New(s)
		g.Write(sweep(5 * 48000))
		if g.Len() != s.Frames || g.Count() != (5*48000-1024)/256+1 {
			t.Fatalf("%d of %d frames remembered", g.Len(), g.Count())
		}
		for back := range g.Len() {
			levels, clock := g.Frame(back)
			best := 0
			for i, db := range levels {
				if db > levels[best] {
					best = i
				}
			}
			want := axis.Fraction(100*math.Exp2(float64(clock)/48000)) * float64(s.Height)
			bin := (axis.Fraction(3000+48000./1024) - axis.Fraction(3000)) * float64(s.Height)
			if math.Abs(float64(best)+0.5-want) > bin/2+1.5 {
				t.Errorf("%+v: at clock %d the ridge stands in level %d, want %.1f", axis, clock, best, want)
			}
			if levels[best] < -1.5 || levels[best] > 0.1 { // Hann loses up to 1.42 dB between bins (Harris 1978)
				t.Errorf("%+v: the ridge stands at %.2f dBFS", axis, levels[best])
			}
		}
	}
}

// A click is seen in the frames whose spectra hold it, and their clocks say so.
func TestClocksAreThoseOfTheSamples(t *testing.T) {
	g := New(settings())
	g.Reset(1000000)
	samples := make([]float32, 8000)
	samples[5000] = 1
	g.Write32(samples)
	for back := range g.Len() {
		levels, clock := g.Frame(back)
		away := math.Abs(float64(clock - 1005000))
		loud := levels[100] > scope.Floor
		if away < 500 && !loud || away > 512 && loud {
			t.Errorf("the frame at clock %d holds %g dBFS, the click came at 1005000", clock, levels[100])
		}
	}
	back, ok := g.At(1005000)
	if _, clock := g.Frame(back); !ok || clock-1005000 > 128 || 1005000-clock > 128 {
		t.Errorf("nearest to the click is the frame at %d, %v", clock, ok)
	}
	if _, ok := g.At(0); ok {
		t.Error("a frame is found a million samples before the first")
	}
}

func TestBlocksMakeNoDifference(t *testing.T) {
	signal := sweep(30000)
	for _, hop := range []int{1, 256, 1024, 3000} {
		s := settings()
		s.Hop = hop
		if hop == 1 {
			signal = signal[:1200]
		} else {
			signal = sweep(30000)
		}
		whole, parts := New(s), New(s)
		frames, in := whole.Write(signal), 0
		for at, n := 0, 1; at < len(signal); at, n = at+n, n*3%97+1 {
			in += parts.Write(signal[at:min(at+n, len(signal))])
		}
		if frames != in || frames != (len(signal)-1024)/hop+1 || whole.Len() != parts.Len() {
			t.Fatalf("hop %d: %d frames in one block, %d in many", hop, frames, in)
		}
		for back := range whole.Len() {
			a, clockA := whole.Frame(back)
			b, clockB := parts.Frame(back)
			if clockA != clockB || !slices.Equal(a, b) {
				t.Fatalf("hop %d: frame %d differs", hop, back)
			}
		}
	}
}

func TestNothingAllocates(t *testing.T) {
	g, block := New(settings()), make([]float32, 1000)
	if got := testing.AllocsPerRun(10, func() { g.Write32(block); g.At(0) }); got != 0 {
		t.Errorf("a block allocates %v times", got)
	}
}

func BenchmarkWrite(b *testing.B) {
	g, block := New(settings()), make([]float32, 4800)
	for i, x := range sweep(4800) {
		block[i] = float32(x)
	}
	b.ReportAllocs()
	for b.Loop() {
		g.Write32(block)
	}
	perSecond := float64(b.Elapsed().Nanoseconds()) / float64(b.N) * 10
	b.ReportMetric(1e9/perSecond, "x-realtime")
}
