package pink

import (
	"math"
	"testing"

	"lampblack/patch/dsp/hash"
)

// Brown is -6.0206 dB an octave, blue +3.0103 and violet +6.0206: power ~ 1/f^2,
// f and f^2. (A plain sum of white samples is only -5.72 dB an octave from 4 to
// 8 kHz at 48 kHz.)
func TestColoursKeepTheirSlopes(t *testing.T) {
	for _, rate := range []float64{8000, 22050, 44100, 48000, 96000, 192000, 384000} {
		brown, blue, violet := Brown(rate, 1, 5), Blue(rate, 1), Violet(rate, 1)
		var e [3]float64
		for hz := 20.0; hz < min(20000, 0.46*rate); hz *= 1.001 {
			f := hz / rate
			leak := (1 + 25/1e6) / (1 + 25/hz/hz)
			for i, power := range []float64{
				brown.Power(f) * hz * hz / 1e6 / leak,
				blue.Power(f) * Difference(f) * 1000 / hz,
				violet.Power(f) * Difference(f) * 1e6 / hz / hz,
			} {
				e[i] = max(e[i], math.Abs(10*math.Log10(power)))
			}
		}
		t.Logf("%6.0f Hz: brown within %.5f dB, blue %.5f, violet %.5f of the slope", rate, e[0], e[1], e[2])
		if !(max(e[0], e[2]) < 0.001 && e[1] < 0.005) {
			t.Errorf("at %g Hz brown, blue, violet are %.5f dB off their slopes", rate, e)
		}
		if rate < 22050 {
			continue
		}
		octave := 10 * math.Log10(brown.Power(8000/rate)/brown.Power(4000/rate))
		t.Logf("%6.0f Hz: brown from 4 to 8 kHz: %.4f dB", rate, octave)
		if math.Abs(octave+6.0206) > 0.001 {
			t.Errorf("at %g Hz brown falls by %.4f dB from 4 to 8 kHz; want 6.0206", rate, -octave)
		}
	}
}

// The running filter is the one whose response is computed.
func TestRunIsNext(t *testing.T) {
	for name, f := range map[string]Filter{"pink": Design(48000, 1), "brown": Brown(48000, 1, 5), "blue": Blue(192000, 1), "violet": Violet(48000, 1)} {
		s, x, y := NewStream(f, before), make([]float64, 1000), make([]float64, 1000)
		f.state = s.start
		white(x, 0)
		for i, w := range x {
			y[i] = f.Next(w)
		}
		s.Run(x, 0)
		for i := range x {
			if math.Abs(x[i]-y[i]) > 1e-14*(1+math.Abs(y[i])) {
				t.Fatalf("%s: sample %d is %g; want %g", name, i, x[i], y[i])
			}
		}
	}
}

func white(dst []float64, first uint64) {
	for i := range dst {
		dst[i] = hash.Signed(3, first+uint64(i))
	}
}

func before(dst []float64, first uint64) {
	for i := range dst {
		dst[i] = hash.Signed(4, first+uint64(i))
	}
}

// A run that begins anywhere gives the bits of one that began at 0, also at the
// start of a cell and just before.
func TestSeekingGivesTheBitsOfARunFromTheStart(t *testing.T) {
	f := Design(48000, 1)
	s := NewStream(f, before)
	cell := s.cell
	x := make([]float64, 4*cell)
	white(x, 0)
	s.Run(x, 0)
	for _, at := range []uint64{0, 1, 1000, cell - 1, cell, cell + 1, 2*cell - s.back, 2*cell - 1, 2 * cell, 3*cell + 12345} {
		seeker := NewStream(f, before)
		seeker.Seek(at, white)
		y := make([]float64, min(uint64(len(x))-at, cell+1000))
		white(y, at)
		seeker.Run(y, at)
		for i := range y {
			if y[i] != x[at+uint64(i)] {
				t.Fatalf("from %d on: sample %d is %g; a run from 0 gives %g", at, i, y[i], x[at+uint64(i)])
			}
		}
	}
}

// The states computed on the side differ from those of the run by less than
// roundings: no step is heard where a cell begins.
func TestCellsJoinWithoutAStep(t *testing.T) {
	f := Design(48000, 1)
	s := NewStream(f, before)
	f.state = s.start
	for first := uint64(0); first < 3*s.cell; first += 64 {
		x := make([]float64, 64)
		white(x, first)
		y := append([]float64(nil), x...)
		s.Run(x, first)
		for i := range y {
			if d := math.Abs(f.Next(y[i]) - x[i]); d > 1e-13 {
				t.Fatalf("sample %d is %g off a filter that never restarts", first+uint64(i), d)
			}
		}
	}
}

// After a gap the old state goes on: it does not jump to a cell's that was not
// computed whole. One cell later the bits are those of the numbers.
func TestAfterAGapTheStateGoesOn(t *testing.T) {
	s := NewStream(Design(48000, 1), before)
	x := make([]float64, 2*s.cell)
	white(x, 0)
	s.Run(x[:1000], 0)
	gap := s.cell - 100
	free := s.filter
	y := make([]float64, 3*s.cell-gap)
	white(y, gap)
	want := append([]float64(nil), y[:1000]...)
	s.Run(y, gap)
	free.run(want)
	for i := range want {
		if y[i] != want[i] {
			t.Fatalf("sample %d after the gap is %g; want %g", i, y[i], want[i])
		}
	}
	other := NewStream(Design(48000, 1), before)
	other.Seek(2*s.cell, white)
	z := make([]float64, 1000)
	white(z, 2*s.cell)
	other.Run(z, 2*s.cell)
	for i := range z {
		if z[i] != y[2*s.cell-gap+uint64(i)] {
			t.Fatalf("sample %d of the second cell after the gap depends on the gap", i)
		}
	}
}

func BenchmarkRun(b *testing.B) {
	for name, f := range map[string]Filter{"pink": Design(48000, 1), "brown": Brown(48000, 1, 5), "blue": Blue(48000, 1)} {
		b.Run(name, func(b *testing.B) {
			s, x := NewStream(f, before), make([]float64, 64)
			for first := uint64(0); b.Loop(); first += 64 {
				for i := range x {
					x[i] = 0.5
				}
				s.Run(x, first)
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*64), "ns/sample")
		})
	}
}

func BenchmarkSeek(b *testing.B) {
	s := NewStream(Design(48000, 1), before)
	for b.Loop() {
		s.Seek(3*s.cell-1, white) // the farthest place
	}
}
