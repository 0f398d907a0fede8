package picture

import (
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/plot"
)

// axis is one side of a panel.
type axis struct {
	low, high   float64
	logarithmic bool
	marks       plot.Ticker
}

// at returns where v stands, 0 at the beginning of the axis and 1 at its end.
func (a axis) at(v float64) float64 {
	if a.logarithmic {
		return math.Log(v/a.low) / math.Log(a.high/a.low)
	}
	return (v - a.low) / (a.high - a.low)
}

// evenly puts about so many marks at steps of 1, 2 or 5 times a power of ten,
// with the true minus sign.
type evenly int

// Ticks implements plot.Ticker.
func (n evenly) Ticks(low, high float64) []plot.Tick {
	step := math.Pow(10, math.Floor(math.Log10((high-low)/float64(n))))
	for _, factor := range []float64{2, 2.5, 2} { // 1, 2, 5, 10
		if (high-low)/step <= float64(n) {
			break
		}
		step *= factor
	}
	decimals := max(0, int(math.Ceil(-math.Log10(step)-1e-9)))
	var ticks []plot.Tick
	for k := math.Ceil(low/step - 1e-9); k*step <= high+1e-9*step; k++ {
		ticks = append(ticks, plot.Tick{Value: k * step, Label: number(k*step, decimals)})
	}
	return ticks
}

// frequencies puts marks at every 1, 2 and 5 of a decade, named, and at all
// other whole ones, unnamed, on an axis of Hz.
type frequencies struct{}

// Ticks implements plot.Ticker.
func (frequencies) Ticks(low, high float64) []plot.Tick {
	var ticks []plot.Tick
	for decade := 1.0; decade <= high; decade *= 10 {
		for digit := 1.0; digit < 10; digit++ {
			hz := digit * decade
			if hz < low*0.9999 || hz > high*1.0001 {
				continue
			}
			label := ""
			if digit == 1 || digit == 2 || digit == 5 {
				label = short(hz)
			}
			ticks = append(ticks, plot.Tick{Value: hz, Label: label})
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

// level writes a factor of full scale in dB.
func level(x float64) string {
	if x <= 0 {
		return "\u2212∞"
	}
	return number(20*math.Log10(x), 1)
}

// span writes a time so that it can be read: 8.2 s, 3:05.0 min, 12 ms.
func span(seconds float64) string {
	switch {
	case seconds >= 120:
		m := math.Floor(seconds / 60)
		rest := strconv.FormatFloat(seconds-60*m, 'f', 1, 64)
		if len(rest) < 4 {
			rest = "0" + rest
		}
		return strconv.FormatFloat(m, 'f', 0, 64) + ":" + rest + " min"
	case seconds < 0.1:
		return strconv.FormatFloat(seconds*1000, 'g', 3, 64) + " ms"
	}
	return strconv.FormatFloat(math.Round(seconds*1000)/1000, 'f', -1, 64) + " s"
}
