package picture

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"

	"lampblack/scope"
)

// The spectrum's picture: what it spans and how it is taken.
const (
	lowest    = 20.  // Hz
	faintest  = -120 // dBFS
	longest   = 16384
	averaging = "mean of %d spectra of %d samples, Blackman-Harris window"
)

// Spectrum draws the mean spectrum of one or two channels, in dBFS (a full-scale
// sine is 0) against frequency on a logarithmic axis from 20 Hz to half the
// rate, 20 kHz at most. Spectra of up to 16,384 samples overlap by half and are
// averaged by power over the whole length; below the axis stands how many.
func Spectrum(w io.Writer, channels [][]float64, rate int, o Options) error {
	if err := checkChannels(channels, rate); err != nil {
		return err
	}
	if rate < 100 {
		return fmt.Errorf("the rate is %d Hz; a spectrum from %g Hz on needs 100 Hz or more; the picture was not drawn", rate, lowest)
	}
	p, err := newPage(o)
	if err != nil {
		return err
	}
	axis := scope.Axis{Low: lowest, High: min(20000, float64(rate)/2), Logarithmic: true}
	columns := make([]float64, 2*p.Width)
	pl := p.plot(o.Title, "", "dBFS")
	// The axis is even in log Hz: with plot's own logarithmic scale (v0.17) a long
	// name at the axis pushes the picture aside.
	pl.X.Min, pl.X.Max, pl.X.Tick.Marker = math.Log10(axis.Low), math.Log10(axis.High), frequencies{}
	pl.Y.Min, pl.Y.Max, pl.Y.Tick.Marker = faintest, 0, evenly(6)
	p.rule(pl)
	for c, samples := range channels {
		s, count := meanSpectrum(samples)
		s.Columns(columns, float64(rate), axis)
		pl.X.Label.Text = fmt.Sprintf("frequency, Hz    ("+averaging+")", count, s.Len())
		line := plotter.Line{XYs: make(plotter.XYs, len(columns))}
		line.Width, line.Color = stroke, p.Ink.Left
		if c == 1 {
			line.Color, line.Dashes = p.Ink.Right, []vg.Length{vg.Points(3), vg.Points(2)}
		}
		for i, v := range columns {
			pl.Y.Max = max(pl.Y.Max, 10*math.Ceil(v/10-0.01))
			line.XYs[i] = plotter.XY{X: math.Log10(axis.At((float64(i) + 0.5) / float64(len(columns)))), Y: max(v, faintest)}
		}
		pl.Add(&line)
	}
	if len(channels) == 2 {
		pl.X.Label.Text += "    left unbroken, right dashed"
	}
	return p.write(w, pl)
}

// meanSpectrum averages the spectra over the whole of samples. Those too short
// for one spectrum end in silence.
func meanSpectrum(samples []float64) (*scope.Spectrum, int) {
	n := longest
	for n > 256 && n > len(samples) {
		n /= 2
	}
	if len(samples) < n {
		samples = append(append([]float64(nil), samples...), make([]float64, n-len(samples))...)
	}
	count := (len(samples)-n)/(n/2) + 1
	s := scope.NewSpectrum(n, scope.BlackmanHarris)
	s.Average(count)
	for i := range count {
		s.Transform(samples[i*n/2:][:n])
	}
	return s, count
}

// frequencies puts marks at every 1, 2 and 5 of a decade, named, and at all
// other whole ones, unnamed, on an axis of log10 Hz.
type frequencies struct{}

// Ticks implements plot.Ticker.
func (frequencies) Ticks(low, high float64) []plot.Tick {
	var ticks []plot.Tick
	low, high = math.Pow(10, low), math.Pow(10, high)*1.0001
	for decade := 1.0; decade <= high; decade *= 10 {
		for digit := 1.0; digit < 10; digit++ {
			hz := digit * decade
			if hz < low*0.9999 || hz > high {
				continue
			}
			label := ""
			if digit == 1 || digit == 2 || digit == 5 {
				label = short(hz)
			}
			ticks = append(ticks, plot.Tick{Value: math.Log10(hz), Label: label})
		}
	}
	return ticks
}

// short writes 2000 as 2k.
func short(hz float64) string {
	if hz >= 1000 {
		return strconv.FormatFloat(hz/1000, 'f', -1, 64) + "k"
	}
	return strconv.FormatFloat(hz, 'f', -1, 64)
}

// number writes v with the true minus sign and no negative zero.
func number(v float64, decimals int) string {
	text := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Trim(text, "-0.") == "" {
		return strings.TrimPrefix(text, "-")
	}
	return strings.Replace(text, "-", "\u2212", 1)
}
