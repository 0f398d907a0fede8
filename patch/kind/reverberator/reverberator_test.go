package reverberator

import (
	"math"
	"math/cmplx"
	"testing"

	"gonum.org/v1/gonum/dsp/fourier"
	"gonum.org/v1/gonum/stat"

	"lampblack/patch/dsp/hash"
	"lampblack/patch/kind/rig"
)

// bare is the room alone, with the same decay at all frequencies.
func bare(decay float64) *rig.Rig {
	return rig.New(Kind()).Set("mix", 100, "%").Set("predelay", 0, "s").Set("decay", decay, "s").Set("high decay", 100, "%")
}

// response is the left side's answer to an impulse.
func response(r *rig.Rig, seconds float64) []float64 {
	return r.Feed("left", rig.Impulse).Out("left", int(seconds*48000))
}

// t60 is twice T30: the straight line through the backward integral of the
// energy from -5 to -35 dB, drawn on to 60 dB.
// Source: Schroeder, New method of measuring reverberation time, JASA 37, 1965;
// ISO 3382-1.
func t60(energy []float64, rate float64) float64 {
	sum := 0.0
	back := make([]float64, len(energy))
	for i := len(energy) - 1; i >= 0; i-- {
		sum += energy[i]
		back[i] = sum
	}
	var at, db []float64
	for i, e := range back {
		if d := 10 * math.Log10(e/back[0]); d < -5 && d > -35 {
			at, db = append(at, float64(i)/rate), append(db, d)
		}
	}
	_, slope := stat.LinearRegression(at, db, nil, false)
	return -60 / slope
}

func squares(x []float64) []float64 {
	y := make([]float64, len(x))
	for i, v := range x {
		y[i] = v * v
	}
	return y
}

func TestDecayIsWhatItSays(t *testing.T) {
	for _, size := range []float64{0.01, 0.03, 0.06} {
		for _, decay := range []float64{0.3, 1, 3, 10} {
			got := t60(squares(response(bare(decay).Set("size", size, "s"), 1.5*decay)), 48000)
			t.Logf("size %g s: %g s measured as %.4f (%+.2f %%)", size, decay, got, 100*(got/decay-1))
			within := 0.01
			if size/decay > 0.15 {
				within = 0.05 // 12 dB a pass: the curve has steps
			}
			if math.Abs(got/decay-1) > within {
				t.Errorf("size %g s: %g s is measured as %.4f", size, decay, got)
			}
		}
	}
}

// positions returns the spectra of both sides' answers to three kinds of source, as
// a measurement in a room averages over places (ISO 3382-1). They are filled up
// with silence to n samples.
func positions(set func(*rig.Rig) *rig.Rig, seconds float64) (spectra [][]complex128, n int) {
	samples := int(seconds * 48000)
	for n = 1; n < 2*samples; n *= 2 {
	}
	f := fourier.NewFFT(n)
	for _, sides := range [][2]rig.Wave{{rig.Impulse, nothing}, {nothing, rig.Impulse}, {rig.Impulse, func(n int) float64 { return -rig.Impulse(n) }}} {
		for _, y := range set(bare(1)).Feed("left", sides[0]).Feed("right", sides[1]).Run(samples) {
			spectra = append(spectra, f.Coefficients(nil, append(y, make([]float64, n-samples)...)))
		}
	}
	return spectra, n
}

// inBand is the sum of the energies of n samples with those spectra, in an octave
// band around centre; their times are not shifted.
func inBand(spectra [][]complex128, n int, centre float64) []float64 {
	f := fourier.NewFFT(n)
	c, y, sum := make([]complex128, n/2+1), make([]float64, n), make([]float64, n/2)
	for _, s := range spectra {
		for k := range c {
			c[k] = s[k] * complex(band(float64(k)*48000/float64(n), centre), 0)
		}
		f.Sequence(y, c)
		for i := range sum {
			sum[i] += y[i] * y[i]
		}
	}
	return sum
}

func nothing(int) float64 { return 0 }

// band weighs a frequency in an octave band around centre: a cosine in the
// logarithm, an octave to either side.
func band(hz, centre float64) float64 {
	if d := math.Abs(math.Log2(hz / centre)); d < 1 {
		return 0.5 + 0.5*math.Cos(math.Pi*d)
	}
	return 0
}

// The decay in octave bands is what the formula in the help says, put together
// over the band: E(t) = sum of weight^2 10^(-6 t/T(f)).
func TestEveryBandDecaysByTheFormula(t *testing.T) {
	inverse := func(f, decay, high, highCorner, low, lowCorner float64) float64 {
		tan := func(f float64) float64 { return math.Pow(math.Tan(math.Pi*f/48000), 2) }
		h := tan(f) / (tan(highCorner) + tan(f))
		l := tan(lowCorner) / (tan(lowCorner) + tan(f))
		return 1/decay + (1/(decay*high)-1/decay)*h + (1/(decay*low)-1/decay)*l
	}
	for _, c := range []struct{ decay, high, low, size float64 }{{1, 0.5, 1, 0.03}, {3, 0.3, 1.5, 0.03}, {1, 1, 0.5, 0.02}} {
		set := func(r *rig.Rig) *rig.Rig {
			r.Set("decay", c.decay, "s").Set("size", c.size, "s").Set("high decay", 100*c.high, "%").Set("high corner", 4000, "Hz")
			return r.Set("low decay", 100*c.low, "%").Set("low corner", 200, "Hz")
		}
		spectra, n := positions(set, 1.2*c.decay*max(c.low, 1))
		for _, centre := range []float64{125, 250, 500, 1000, 2000, 4000, 8000} {
			measured := t60(inBand(spectra, n, centre), 48000)
			want := make([]float64, int(2*c.decay*max(c.low, 1)*1000)) // one a millisecond
			for f := centre / 2; f < centre*2; f *= 1.02 {
				w := math.Pow(band(f, centre), 2) * f // f: equal steps of the logarithm
				step := math.Pow(10, -0.006*inverse(f, c.decay, c.high, 4000, c.low, 200))
				for i := range want {
					want[i] += w
					w *= step
				}
			}
			predicted := t60(want, 1000)
			t.Logf("%g s, high %g, low %g: %5g Hz %.3f s, formula %.3f (%+.1f %%)", c.decay, c.high, c.low, centre, measured, predicted, 100*(measured/predicted-1))
			if math.Abs(measured/predicted-1) > 0.03 {
				t.Errorf("decay %g s, high %g, low %g: %g Hz decays in %.3f s; the formula says %.3f", c.decay, c.high, c.low, centre, measured, predicted)
			}
		}
	}
}

// Echo density: the share of samples beyond one standard deviation in a window of
// 20 ms, against that of a normal distribution (0.3173). It is 1 when the echoes
// are as dense as noise. Source: Abel and Huang, AES convention paper 6985, 2006.
func TestEchoesGetAsDenseAsNoise(t *testing.T) {
	for _, c := range []struct{ size, by float64 }{{0.01, 0.05}, {0.03, 0.12}, {0.06, 0.25}} {
		x := response(bare(2).Set("size", c.size, "s"), 1)
		dense := -1.0
		for at := 0; at+960 < len(x) && dense < 0; at += 48 {
			w := x[at : at+960]
			s, out := rig.RMS(w), 0
			for _, v := range w {
				if math.Abs(v) > s {
					out++
				}
			}
			if float64(out)/960/0.3173 > 0.95 {
				dense = float64(at) / 48000
			}
		}
		t.Logf("size %g s: as dense as noise after %.0f ms", c.size, 1000*dense)
		if dense < 0 || dense > c.by {
			t.Errorf("size %g s: as dense as noise after %g s; want %g", c.size, dense, c.by)
		}
	}
}

// The levels of a diffuse field's spectrum have a spread of 5.57 dB, whatever the
// room. Source: Schroeder, Acustica 4, 1954 (the figure from memory).
func TestTheSpectrumIsAsEvenAsThatOfARoom(t *testing.T) {
	x := response(bare(1), 2)
	c := fourier.NewFFT(len(x)).Coefficients(nil, x)
	var db []float64
	for k := 400; k < 36000; k += 3 {
		db = append(db, 20*math.Log10(cmplx.Abs(c[k])))
	}
	got := stat.StdDev(db, nil)
	t.Logf("spread %.2f dB", got)
	if math.Abs(got-5.57) > 0.5 {
		t.Errorf("the spectrum's levels have a spread of %.2f dB; want 5.57", got)
	}
	thirds := make(map[int][]float64)
	for k := 400; k < 36000; k++ {
		b := int(math.Floor(3 * math.Log2(float64(k)/2000)))
		thirds[b] = append(thirds[b], cmplx.Abs(c[k])*cmplx.Abs(c[k]))
	}
	for b, p := range thirds {
		if db := 10 * math.Log10(stat.Mean(p, nil)); math.Abs(db) > 2 && len(p) > 300 {
			t.Errorf("the third of an octave at %.0f Hz is at %.2f dB", 1000*math.Exp2(float64(b)/3), db)
		}
	}
}

func noise(seed uint64) rig.Wave { return func(n int) float64 { return hash.Signed(seed, uint64(n)) } }

// A steady noise is as loud inside as outside, and the two sides are strangers.
func TestNoiseIsAsLoudInside(t *testing.T) {
	for _, decay := range []float64{0.3, 3, 20} {
		r := bare(decay).Feed("left", noise(1)).Feed("right", noise(2))
		r.Run(int(decay * 48000))
		out := r.Run(96000)
		for side, y := range out {
			if db := rig.DB(rig.RMS(y) * math.Sqrt(3)); math.Abs(db) > 1 {
				t.Errorf("decay %g s, side %d: %.2f dB", decay, side, db)
			}
		}
	}
	out := bare(2).Feed("left", rig.Impulse).Run(96000)
	if c := stat.Correlation(out[0], out[1], nil); math.Abs(c) > 0.05 {
		t.Errorf("left and right correlate by %.3f", c)
	}
}

func TestPredelayIsExact(t *testing.T) {
	for _, ms := range []float64{0, 20, 500} {
		x := response(bare(1).Set("predelay", ms/1000, "s"), 1)
		first := 0
		for x[first] == 0 {
			first++
		}
		shortest := int(0.03*48000*ratios[0] + 0.5)
		if want := int(ms*48) + shortest; first != want {
			t.Errorf("predelay %g ms: the first echo comes at sample %d; want %d", ms, first, want)
		}
	}
}

// Size and predelay as the engine smooths them: what a click of -60 dB adds to the
// second difference of a tone of 200 Hz is 0.001.
func TestAnotherSizeDoesNotClick(t *testing.T) {
	for _, c := range []struct {
		control, unit string
		from, to      float64
	}{{"size", "s", 0.03, 0.002}, {"size", "s", 0.03, 0.1}, {"predelay", "s", 0, 0.3}, {"modulation", "s", 0, 0.002}, {"decay", "s", 0.1, 30}, {"high decay", "%", 100, 5}} {
		r := bare(1).Feed("left", rig.Sine(200)).Move(c.control, c.unit, func(n int) float64 {
			way := 1 - math.Exp(-float64(max(n-48000, 0))/240)
			if c.control == "size" || c.control == "decay" { // smoothed as logarithms
				return c.from * math.Pow(c.to/c.from, way)
			}
			return c.from + (c.to-c.from)*way
		})
		r.Run(47000)
		y := r.Out("left", 20000)
		// The tone's own bend, and that of what sways.
		peak := 0.0
		for _, v := range y {
			peak = max(peak, math.Abs(v))
		}
		for i := 2; i < len(y); i++ {
			if d := math.Abs(y[i] - 2*y[i-1] + y[i-2]); d > 2*peak*math.Pow(2*math.Pi*200/48000, 2)+0.001 {
				t.Fatalf("%s to %g: sample %d: the second difference is %g", c.control, c.to, i-1000, d)
			}
		}
	}
}

func TestItForgetsWhatIsNoNumberAndEndsInSilence(t *testing.T) {
	for _, sway := range []float64{0, 0.001} {
		r := rig.New(Kind()).Set("decay", 0.3, "s").Set("modulation", sway, "s").Set("low decay", 150, "%").Feed("left", func(n int) float64 {
			return map[int]float64{5: math.NaN(), 6: math.Inf(1), 900: 0.3}[n]
		})
		out := r.Run(4 * 48000)
		for side, y := range out {
			for n, v := range y {
				if !(math.Abs(v) <= 1000) {
					t.Fatalf("side %d, sample %d is %g", side, n, v)
				}
			}
			if y[len(y)-1] != 0 {
				t.Errorf("side %d is still at %g after 4 s", side, y[len(y)-1])
			}
		}
		if !r.Clamped {
			t.Error("it did not say that it limited its input")
		}
	}
}

func TestTheMatrixKeepsEnergyAndMixesAll(t *testing.T) {
	for i := range lines {
		var x [lines]float64
		x[i] = 1
		hadamard(&x)
		for j, v := range x {
			if math.Abs(v) != 0.25 {
				t.Fatalf("line %d goes to line %d by %g; want +-1/4", i, j, v)
			}
		}
		hadamard(&x)
		if x[i] != 1 {
			t.Errorf("twice the matrix gives %g of line %d; want 1", x[i], i)
		}
	}
}

func BenchmarkReverberator(b *testing.B) {
	b.Run("steady", rig.New(Kind()).Feed("left", noise(1)).Bench)
	b.Run("silent", rig.New(Kind()).Set("decay", 0.1, "s").Feed("left", func(int) float64 { return 0 }).Bench)
	b.Run("swaying", rig.New(Kind()).Set("modulation", 0.001, "s").Feed("left", noise(1)).Bench)
	b.Run("decay moved", rig.New(Kind()).Feed("left", noise(1)).Move("decay", "s", func(n int) float64 { return 1 + 1e-7*float64(n) }).Bench)
}

// Size is the mean of the lines' lengths, and no two lines are equally long.
func TestSizeIsTheMeanOfTheLines(t *testing.T) {
	for _, size := range []float64{0.002, 0.03, 0.1} {
		var p place
		p.set(size, 0, 48000)
		sum, seen := 0, map[int]bool{}
		for _, m := range p.lengths {
			sum += m
			seen[m] = true
		}
		if mean := float64(sum) / lines / 48000; math.Abs(mean-size) > 0.5/48000 || len(seen) != lines {
			t.Errorf("size %g s: a mean of %g s, %d different lengths", size, mean, len(seen))
		}
	}
}
