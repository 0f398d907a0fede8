package hash

import (
	"math"
	"testing"
)

// The reference sequence of SplitMix64 for the seed 1234567, as published with
// its C source (values from memory).
func TestBitsAreSplitMix64(t *testing.T) {
	for i, want := range []uint64{
		6457827717110365317, 3203168211198807973, 9817491932198370423,
		4593380528125082431, 16408922859458223821,
	} {
		if got := Bits(1234567, uint64(i+1)); got != want {
			t.Errorf("number %d is %d; want %d", i+1, got, want)
		}
	}
}

// An even distribution over -1..1 has mean 0, variance 1/3, and fills equal
// intervals equally: Pearson's chi-square of 256 intervals has mean 255 and
// standard deviation sqrt(510). Bounds are at 5 standard deviations.
func TestSignedIsEvenAndUncorrelated(t *testing.T) {
	const n = 1 << 20
	var sum, square, neighbour, before float64
	var bins [256]float64
	for i := range uint64(n) {
		x := Signed(42, i)
		if !(x > -1 && x < 1) || x == 0 {
			t.Fatalf("number %d is %g", i, x)
		}
		sum += x
		square += x * x
		neighbour += x * before
		before = x
		bins[int((x+1)*128)]++
	}
	chi := 0.0
	for _, c := range bins {
		d := c - n/256.0
		chi += d * d / (n / 256.0)
	}
	root := math.Sqrt(n)
	if m := sum / n; math.Abs(m) > 5/math.Sqrt(3)/root {
		t.Errorf("mean %g", m)
	}
	if v := square / n; math.Abs(v-1.0/3) > 5*math.Sqrt(4.0/45)/root {
		t.Errorf("variance %g; want 1/3", v)
	}
	if c := neighbour / n; math.Abs(c) > 5.0/3/root {
		t.Errorf("neighbours are correlated: %g", c)
	}
	if math.Abs(chi-255) > 5*math.Sqrt(510) {
		t.Errorf("chi-square of 256 intervals is %g; want 255 +- 113", chi)
	}
}

func TestFillIsSigned(t *testing.T) {
	var x [100]float64
	Fill(x[:], 42, 1<<64-50) // over the end of the numbers, to 0
	for i, y := range x {
		if want := Signed(42, 1<<64-50+uint64(i)); y != want {
			t.Fatalf("number %d is %g; want %g", i, y, want)
		}
	}
}

func TestKeysDifferWithEverySeedAndTheirOrder(t *testing.T) {
	seen := map[uint64]string{}
	for name, k := range map[string]uint64{
		"none": Key(), "0": Key(0), "0 0": Key(0, 0), "1": Key(1), "1 2": Key(1, 2), "2 1": Key(2, 1),
	} {
		if other, ok := seen[k]; ok {
			t.Errorf("seeds %s and %s give one key", name, other)
		}
		seen[k] = name
	}
}

func BenchmarkSigned(b *testing.B) {
	var sum float64
	for i := uint64(0); b.Loop(); i++ {
		sum += Signed(7, i)
	}
	_ = sum
}

func BenchmarkFill(b *testing.B) {
	var x [64]float64
	for i := uint64(0); b.Loop(); i += 64 {
		Fill(x[:], 7, i)
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*len(x)), "ns/sample")
}
