package weigh

import (
	"math"
	"math/big"
	"testing"

	"lampblack/patch/dsp/hash"
)

func numbers(seed uint64, n int) []float64 {
	x := make([]float64, n)
	for i := range x {
		x[i] = hash.Signed(seed, uint64(i)) * math.Exp2(20*hash.Signed(seed+50, uint64(i)))
	}
	return x
}

// Each of eight sums of n/8 products is off by at most so many roundings.
func TestSumsAreRight(t *testing.T) {
	for n := 0; n <= 64; n += 4 {
		x, a, b, f := numbers(1, n), numbers(2, n), numbers(3, n), 0.3
		one, two, size := new(big.Float).SetPrec(2000), new(big.Float).SetPrec(2000), 0.0
		mul := func(x, y float64) *big.Float {
			return new(big.Float).SetPrec(2000).Mul(big.NewFloat(x), big.NewFloat(y))
		}
		for i := range x {
			one.Add(one, mul(x[i], a[i]))
			two.Add(two, mul(x[i], a[i]+f*(b[i]-a[i])))
			size += math.Abs(x[i]) * (math.Abs(a[i]) + math.Abs(b[i]))
		}
		want1, _ := one.Float64()
		want2, _ := two.Float64()
		if e := math.Abs(Sum(x, a) - want1); e > 1e-15*size {
			t.Errorf("%d products: %g; want %g", n, Sum(x, a), want1)
		}
		if e := math.Abs(Between(x, a, b, f) - want2); e > 2e-15*size {
			t.Errorf("%d products between: %g; want %g", n, Between(x, a, b, f), want2)
		}
	}
}

// Four at once, or one after the other: the same bits.
func TestBothWaysGiveTheSameBits(t *testing.T) {
	for n := 4; n <= 64; n += 4 {
		for seed := range uint64(200) {
			x, a, b := numbers(seed, n), numbers(seed+1000, n), numbers(seed+2000, n)
			f := hash.Signed(9, seed)
			if p, q := sum(x, a), sumOnes(x, a); math.Float64bits(p) != math.Float64bits(q) {
				t.Fatalf("%d products: %x and %x", n, p, q)
			}
			if p, q := between(x, a, b, f), betweenOnes(x, a, b, f); math.Float64bits(p) != math.Float64bits(q) {
				t.Fatalf("%d products between: %x and %x", n, p, q)
			}
		}
	}
}

func TestLengthsMustFit(t *testing.T) {
	for name, f := range map[string]func(){
		"unequal": func() { Sum(make([]float64, 8), make([]float64, 4)) },
		"odd":     func() { Between(make([]float64, 6), make([]float64, 6), make([]float64, 6), 0) },
	} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%s lengths are taken", name)
				}
			}()
			f()
		}()
	}
}

var sink float64

func BenchmarkSum32(b *testing.B) {
	x, w := numbers(1, 32), numbers(2, 32)
	for b.Loop() {
		sink += Sum(x, w)
	}
}

func BenchmarkSum32Ones(b *testing.B) {
	x, w := numbers(1, 32), numbers(2, 32)
	for b.Loop() {
		sink += sumOnes(x, w)
	}
}

func BenchmarkBetween32(b *testing.B) {
	x, v, w := numbers(1, 32), numbers(2, 32), numbers(3, 32)
	for b.Loop() {
		sink += Between(x, v, w, 0.3)
	}
}

func BenchmarkBetween32Ones(b *testing.B) {
	x, v, w := numbers(1, 32), numbers(2, 32), numbers(3, 32)
	for b.Loop() {
		sink += betweenOnes(x, v, w, 0.3)
	}
}
