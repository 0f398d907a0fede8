package picture

import (
	"io"
	"math"
	"math/rand/v2"
	"testing"

	"lampblack/scope"
	"lampblack/scope/scipy"
)

func noise(n int) []float64 {
	random := rand.New(rand.NewPCG(11, 12))
	samples := make([]float64, n)
	for i := range samples {
		samples[i] = 0.1 * random.NormFloat64()
	}
	return samples
}

// Mid-band frequencies and names: IEC 61260-1:2014, annex E, table E.1 (from
// memory): the exact ones to five digits.
func TestBandsAreThoseOfTheStandard(t *testing.T) {
	bands := ThirdOctaves(noise(48000), 48000)
	names := ""
	for _, b := range bands {
		names += b.Name + " "
	}
	const want = "20 25 31.5 40 50 63 80 100 125 160 200 250 315 400 500 630 800 1k 1.25k 1.6k 2k 2.5k 3.15k 4k 5k 6.3k 8k 10k 12.5k 16k 20k "
	if names != want {
		t.Errorf("the bands are %swant %s", names, want)
	}
	for i, hz := range map[int]float64{0: 19.953, 2: 31.623, 8: 125.89, 18: 1258.9, 30: 19953} {
		if math.Abs(bands[i].Hz/hz-1) > 3e-5 {
			t.Errorf("band %s has its middle at %g Hz, want %g", bands[i].Name, bands[i].Hz, hz)
		}
	}
	if n := len(ThirdOctaves(noise(8000), 8000)); n != 23 { // up to 3.15 kHz: the next ends at 4.47 kHz
		t.Errorf("at 8 kHz there are %d bands, want 23", n)
	}
}

// A sine has its power in its band: 0.5 has an RMS of -9.03 dBFS. At the edge
// between two bands, 1122 Hz, each has half of it,
// to within a quarter of a bin.
func TestASineStandsInItsBand(t *testing.T) {
	db := func(b Band) float64 { return 20 * math.Log10(b.RMS) }
	for _, n := range []int{48000, 480000, 100001} {
		if got := db(ThirdOctaves(tone(n, 0.5, 1000), 48000)[17]); math.Abs(got+9.031) > 0.005 {
			t.Errorf("%d samples of 0.5 at 1 kHz read %.4f dBFS, want -9.031", n, got)
		}
	}
	edge := ThirdOctaves(tone(480000, 0.5, 1000*math.Pow(10, 0.05)), 48000)
	if math.Abs(db(edge[17])+12.041) > 0.15 || math.Abs(db(edge[18])+12.041) > 0.15 {
		t.Errorf("at the edge the bands read %.3f and %.3f dBFS, want -12.041", db(edge[17]), db(edge[18]))
	}
}

// A burst anywhere in a sound counts in full: nothing is weighed by where it is.
func TestTheBandsHoldAllOfTheSound(t *testing.T) {
	for _, at := range []int{0, 1000, 30000, 143000} {
		samples := make([]float64, 144000)
		copy(samples[at:], noise(900))
		sum := 0.0
		for _, b := range ThirdOctaves(samples, 48000) {
			sum += b.RMS * b.RMS
		}
		power, _ := spectralPower(samples, 48000)
		all := 0.0
		for _, p := range power {
			all += p
		}
		whole := math.Pow(scope.Measure(samples).RMS, 2)
		// White noise up to 24 kHz has 93 % of its power from 17.8 Hz to 22.4 kHz.
		if share := sum / whole; math.Abs(all/whole-1) > 1e-3 || share < 0.91 || share > 0.95 {
			t.Errorf("a burst at sample %d: spectrum %.5f, bands %.3f of its power", at, all/whole, share)
		}
	}
}

// numpy's transform of the whole of a noise, summed between the edges.
func TestBandsAgainstNumpy(t *testing.T) {
	samples := noise(5 * 48000)
	var want []float64
	scipy.Ask(t, `x = np.array(x); n = len(x)
p = 2 * np.abs(np.fft.rfft(x))**2 / n**2; f = np.arange(len(p)) * 48000 / n
print(json.dumps([float(np.sqrt(p[(f >= 1000*10**((k-.5)/10)) & (f < 1000*10**((k+.5)/10))].sum())) for k in range(-17, 14)]))`, samples, &want)
	for i, b := range ThirdOctaves(samples, 48000) {
		// The window shifts some of the noise over an edge: of a narrow band, more.
		if off := 20 * math.Log10(b.RMS/want[i]); math.Abs(off) > 0.02+1.5/math.Sqrt(b.Hz*0.23*5) {
			t.Errorf("band %s is %.3f dB off numpy's", b.Name, off)
		}
	}
}

func TestBarsSayTheirLevels(t *testing.T) {
	draw := func(w io.Writer, o Options) error { return Bands(w, mono(tone(480000, 0.5, 1000)), o) }
	if s := asSVG(t, draw, Options{}); !s.says("−9.0") || !s.says("1.25k") || !s.says("Third octaves") {
		t.Errorf("the picture says %q", s.texts)
	}
}
