package yin

import (
	"math"
	"math/rand"
	"testing"
)

// saw returns sample i of a band-limited saw of that frequency at 48 kHz.
func saw(hz float64, i int) float64 {
	var x float64
	for h := 1.0; h*hz < 20000; h++ {
		x += math.Sin(2*math.Pi*math.Mod(hz*h*float64(i)/48000, 1)) / h
	}
	return x
}

// The running sums against the formula of the paper (its eqs. 6 and 8), summed
// anew from the kept samples.
func TestDipsAreThoseOfTheFormula(t *testing.T) {
	f, k := New(48000), newKeeper(48000)
	r := rand.New(rand.NewSource(3))
	var kept []float64
	for i := range 9600 {
		x := saw(101.3, i) + 0.3*r.NormFloat64()
		if y, ok := k.next(x); ok {
			kept = append(kept, y)
		}
		if !f.Next(x) {
			continue
		}
		f.Look(Range{Lowest: 70, Highest: 1000, Threshold: 0.15})
		if i < 2400 {
			continue
		}
		samples := (int(f.rate*window/70)/hop + 1) * hop
		sum := 0.0
		for lag := 1; lag < 170; lag++ {
			d := 0.0
			for n := len(kept) - samples; n < len(kept); n++ {
				d += math.Pow(kept[n]-kept[n-lag], 2)
			}
			sum += d
			if want := d * float64(lag) / sum; math.Abs(f.dip[lag]-want) > 1e-12*(1+want) {
				t.Fatalf("sample %d, lag %d: %g; the formula gives %g", i, lag, f.dip[lag], want)
			}
		}
	}
}

// The low-pass of the kept samples at every rate: what would come back as
// something else is 60 dB down, and the band that is used is level.
func TestKeeperPassesWhatIsUsedAndStopsWhatWouldFold(t *testing.T) {
	for _, rate := range []float64{8000, 22050, 44100, 48000, 96000, 192000, 384000} {
		k := newKeeper(rate)
		n := 2 * len(k.taps)
		gain := func(hz float64) float64 {
			var re, im float64
			for i := range n {
				tap := k.taps[min(i, n-1-i)]
				sin, cos := math.Sincos(2 * math.Pi * hz / rate * float64(i))
				re, im = re+tap*cos, im+tap*sin
			}
			return 20 * math.Log10(math.Hypot(re, im))
		}
		kept := rate / float64(k.every)
		for _, c := range []struct{ at, least, most float64 }{
			{0, -1e-9, 1e-9}, {0.1, -0.01, 0.01}, {0.2, -0.05, 0.05}, {0.36, -6.3, -5.7}, {0.5, -1000, -60}, {0.9, -1000, -60},
		} {
			if c.at*kept > rate/2 {
				continue
			}
			if db := gain(c.at * kept); !(db >= c.least && db <= c.most) {
				t.Errorf("rate %g: at %g of the kept rate %.3f dB; want %g to %g", rate, c.at, db, c.least, c.most)
			}
		}
	}
}

// The paper's claim is that a repeat is found whatever the wave: harmonics 3 to
// 7 alone have their missing root.
func TestAMissingRootIsFound(t *testing.T) {
	for _, rate := range []float64{8000, 44100, 48000, 96000, 384000} {
		f := New(rate)
		var found Found
		for i := range int(rate / 4) {
			x := 0.0
			for h := 3.0; h <= 7; h++ {
				x += math.Sin(2 * math.Pi * math.Mod(155.5*h*float64(i)/rate, 1))
			}
			if f.Next(x) {
				found = f.Look(Range{Lowest: 70, Highest: 1000, Threshold: 0.15})
			}
		}
		if cents := 1200 * math.Log2(found.Hz/155.5); !(math.Abs(cents) < 0.1) || !found.Below {
			t.Errorf("at %g Hz: %+v, %.3f cents off", rate, found, cents)
		}
	}
}

// A lowest frequency that goes down needs lags that were not summed so far; they
// count as soon as they are whole.
func TestLowestMayMove(t *testing.T) {
	f := New(48000)
	var found Found
	for i := range 24000 {
		if f.Next(saw(61.7, i)) {
			lowest := 300.0
			if i > 12000 {
				lowest = 50
			}
			found = f.Look(Range{Lowest: lowest, Highest: 1000, Threshold: 0.15})
			if i < 12000 && i > 2400 && found.Below && found.Hz < 290 {
				t.Fatalf("sample %d: %g Hz is below the lowest", i, found.Hz)
			}
		}
	}
	if cents := 1200 * math.Log2(found.Hz/61.7); !(math.Abs(cents) < 0.1) {
		t.Errorf("found %+v", found)
	}
}

func TestSilenceHasNoPeriod(t *testing.T) {
	f := New(48000)
	for i := range 4800 {
		if f.Next(0) {
			if found := f.Look(Range{Lowest: 40, Highest: 2000, Threshold: 0.5}); found.Hz != 0 || found.Below {
				t.Fatalf("sample %d: %+v", i, found)
			}
		}
	}
}

func BenchmarkFinder(b *testing.B) {
	f := New(48000)
	x := make([]float64, 4800)
	for i := range x {
		x[i] = saw(100, i)
	}
	i := 0
	for b.Loop() {
		if f.Next(x[i]) {
			f.Look(Range{Lowest: 70, Highest: 1000, Threshold: 0.15})
		}
		if i++; i == len(x) {
			i = 0
		}
	}
}
