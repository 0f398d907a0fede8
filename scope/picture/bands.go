package picture

import (
	"io"
	"math"
	"runtime"
	"sync"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"

	"lampblack/scope"
)

// Band is a third of an octave.
type Band struct {
	Name string  // its nominal mid-band frequency in Hz: "31.5"
	Hz   float64 // its exact mid-band frequency
	RMS  float64 // root of the mean square of what it holds, 1 is full scale
	Fine bool    // false: the sound is too short to tell it from its neighbours
}

// nominal are the names of ten third octaves from 10 Hz on (IEC 61260-1:2014,
// annex E, and ISO 266).
var nominal = [10]float64{10, 12.5, 16, 20, 25, 31.5, 40, 50, 63, 80}

// ThirdOctaves measures samples in the thirds of an octave from 20 Hz to 20 kHz,
// as far as they lie below half the rate: the power of each is added up between
// its edges, without the slopes that a filter has. The mean squares of all bands
// add up to that of what lies between 17.8 Hz and 22.4 kHz.
//
// Source: IEC 61260-1:2014, 5.2 to 5.5, base ten: mid-band frequencies
// 1000 Hz * 10^(k/10), edges a factor of 10^(1/20) above and below.
func ThirdOctaves(samples []float64, rate int) []Band {
	power, bin := spectralPower(samples, rate)
	var bands []Band
	for k := -17; k <= 13; k++ {
		exact := 1000 * math.Pow(10, float64(k)/10)
		low, high := exact*math.Pow(10, -0.05), exact*math.Pow(10, 0.05)
		if high > float64(rate)/2 {
			break
		}
		name := nominal[(k+20)%10] * math.Pow(10, float64((k+20)/10))
		bands = append(bands, Band{
			Name: short(name), Hz: exact,
			RMS: math.Sqrt(gathered(power, low/bin, high/bin)), Fine: high-low >= 2*bin && float64(len(samples))/float64(rate)*(high-low) >= 2,
		})
	}
	return bands
}

// spectralPower returns the mean square in each bin of a spectrum, and how far
// the bins are apart, in Hz. Hann windows that overlap by three quarters, with
// silence before and after, weigh every sample alike: the squares of four such
// windows add up to 1.5 everywhere.
func spectralPower(samples []float64, rate int) (power []float64, bin float64) {
	n := 1024
	for float64(n) < 1.2*float64(rate) {
		n *= 2
	}
	count := (len(samples)+n-1)/(n/4) + 3
	power = make([]float64, n/2+1)
	var all sync.WaitGroup
	var adding sync.Mutex
	workers := min(runtime.GOMAXPROCS(0), count)
	sums := make([][]float64, workers)
	for k := range workers {
		all.Go(func() {
			sum := powerOf(samples, n, k*count/workers, (k+1)*count/workers)
			adding.Lock()
			defer adding.Unlock()
			sums[k] = sum
		})
	}
	all.Wait()
	// A sine of 0 dBFS has a mean square of 1/2, spread over the bins of the window;
	// the hop over the length is the share of time that each spectrum stands for.
	share := 0.5 / scope.Hann.NoiseBandwidth() * float64(n/4) / float64(len(samples))
	for _, sum := range sums {
		for i, v := range sum {
			power[i] += v * share
		}
	}
	return power, float64(rate) / float64(n)
}

// powerOf adds up the powers of the spectra from first on.
func powerOf(samples []float64, n, first, after int) []float64 {
	spectrum, window := scope.NewSpectrum(n, scope.Hann), make([]float64, n)
	sum := make([]float64, n/2+1)
	for i := first; i < after; i++ {
		cut(window, samples, (i-3)*n/4)
		for k, v := range spectrum.Transform(window) {
			if v > scope.Floor {
				sum[k] += math.Pow(10, v/10)
			}
		}
	}
	return sum
}

// gathered adds up power from one place between bins to another.
func gathered(power []float64, from, to float64) float64 {
	sum := 0.0
	for i := int(from + 0.5); i < len(power) && float64(i)-0.5 < to; i++ {
		part := min(to, float64(i)+0.5) - max(from, float64(i)-0.5)
		sum += power[i] * max(part, 0)
	}
	return sum
}

// Bands draws the levels of the thirds of an octave, root mean square in dBFS (a
// full-scale sine is -3.0), as bars; the right one of two channels stands beside the left, dashed.
// Bands that a short sound cannot tell apart are left out.
func Bands(w io.Writer, s Sound, o Options) error {
	if err := s.checkSpectral(); err != nil {
		return err
	}
	p, err := newPage(o, 1600, 1000)
	if err != nil {
		return err
	}
	var bands [][]Band
	for _, samples := range s.Channels {
		bands = append(bands, ThirdOctaves(samples, s.Rate))
	}
	p.bands(p.sheet(), bands)
	return p.finish(w)
}

func (p *page) bands(r vg.Rectangle, channels [][]Band) {
	low, high := bandSpan(channels)
	x := axis{low: -0.5, high: float64(len(channels[0])) + 0.4, marks: bandNames(channels[0])}
	y := axis{low: low, high: high, marks: evenly(max(2, min(12, int(r.Size().Y/p.pt(24)))))}
	f := p.field(r, x, y, names{"Third octaves", "dBFS", "rms; mid-band frequencies of IEC 61260-1, base ten", "Hz", false})
	looks := f.channelLooks()
	width := f.across(1) - f.across(0)
	part := width * 0.76 / vg.Length(len(channels)) // of a bar
	room, decimals := part+f.pt(0.5), 0             // for the number over a bar
	if len(channels) == 1 {
		room = width
	}
	if room > f.wide(figures, 7, "\u221288.8") {
		decimals = 1
	}
	for c, bands := range channels {
		for i, b := range bands {
			v := 20 * math.Log10(b.RMS)
			if !b.Fine || !(v > low) {
				continue
			}
			x := f.across(float64(i)) - width*0.38 + part*vg.Length(c)
			f.bar(x, x+part-f.pt(0.8)*vg.Length(len(channels)-1), v, looks[c], c == 0)
			if label := number(v, decimals); f.wide(figures, 7, label) < room {
				f.say(figures, 7, f.Ink.Quiet, x+part/2, f.up(v)+f.pt(3), centre, label)
			}
		}
	}
	if len(channels) == 2 {
		f.key("Third octaves", looks...)
	}
}

func (f panel) bar(left, right vg.Length, v float64, look keyLine, filled bool) {
	box := vg.Rectangle{Min: vg.Point{X: f.snap(left), Y: f.box.Min.Y}, Max: vg.Point{X: f.snap(right), Y: f.snap(f.up(v))}}
	if filled {
		faint := f.Ink.Left
		faint.A = 0x38
		f.fill(box, faint)
	}
	f.stroke([]vg.Point{box.Min, {X: box.Min.X, Y: box.Max.Y}, box.Max, {X: box.Max.X, Y: box.Min.Y}}, f.pt(0.9), look.colour, look.dash)
}

// bandSpan returns the ends of the level axis: 10 dB beyond the highest band, and
// 80 dB below that at most.
func bandSpan(channels [][]Band) (low, high float64) {
	highest, least := math.Inf(-1), math.Inf(1)
	for _, bands := range channels {
		for _, b := range bands {
			if v := 20 * math.Log10(b.RMS); b.Fine && b.RMS > 0 {
				highest, least = max(highest, v), min(least, v)
			}
		}
	}
	if math.IsInf(highest, -1) {
		return -80, 0
	}
	high = 10 * math.Ceil((highest+4)/10)
	return max(high-80, min(10*math.Floor(least/10), high-30)), high
}

// bandNames names the bands on an axis that counts them.
type bandNames []Band

// Ticks implements plot.Ticker.
func (b bandNames) Ticks(_, _ float64) (ticks []plot.Tick) {
	for i := range b {
		ticks = append(ticks, plot.Tick{Value: float64(i), Label: b[i].Name})
	}
	return ticks
}
