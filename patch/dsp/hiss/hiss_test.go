package hiss

import (
	"math"
	"testing"

	"lampblack/patch/dsp/hash"
)

// Butterworth, Wireless Engineer 7, 1930: both sides 3.0103 dB down at the
// corner, 10 log10(1 + x^4) at x times it, in the frequencies of the bilinear
// transform.
func TestASplitIsAButterworthFilterOfOrder2(t *testing.T) {
	for _, hz := range []float64{500, 1000, 2000, 4000, 8000} {
		s := NewSplit(2000, 48000)
		var low, high [2]float64
		for i := range 9600 {
			x := 0.0
			if i == 0 {
				x = 1
			}
			l, h := s.Next(x)
			sin, cos := math.Sincos(2 * math.Pi * hz * float64(i) / 48000)
			low[0], low[1] = low[0]+l*cos, low[1]-l*sin
			high[0], high[1] = high[0]+h*cos, high[1]-h*sin
		}
		x := math.Tan(math.Pi*hz/48000) / math.Tan(math.Pi*2000/48000)
		for _, c := range []struct{ got, want float64 }{
			{math.Hypot(low[0], low[1]), 1 / math.Sqrt(1+math.Pow(x, 4))},
			{math.Hypot(high[0], high[1]), 1 / math.Sqrt(1+math.Pow(x, -4))},
		} {
			if math.Abs(c.got-c.want) > 1e-9 {
				t.Errorf("at %g Hz: gain %.9f; the formula gives %.9f", hz, c.got, c.want)
			}
		}
	}
}

func TestNoiseThatRisesHissesAndATonePlusOvertonesDoesNot(t *testing.T) {
	for _, rate := range []float64{16000, 48000, 192000} {
		d := New(rate)
		before := 0.0
		for i := range int(rate) {
			x := hash.Signed(1, uint64(i))
			y := x - before // 6 dB an octave upwards
			before = x
			if hissing := d.Next(y); i > int(rate/10) && !hissing {
				t.Fatalf("rate %g: noise does not hiss at sample %d", rate, i)
			}
		}
		for i := range int(rate) {
			p := math.Mod(150*float64(i)/rate, 1)
			if hissing := d.Next(2*p - 1); i > int(rate/10) && hissing {
				t.Fatalf("rate %g: a saw hisses at sample %d", rate, i)
			}
		}
		for range int(rate) {
			d.Next(0)
			d.Flush()
		}
		if d != New(rate) {
			t.Errorf("rate %g: silence leaves %+v", rate, d)
		}
	}
}

func BenchmarkDetector(b *testing.B) {
	d := New(48000)
	for i := uint64(0); b.Loop(); i++ {
		d.Next(float64(i % 100))
	}
}
