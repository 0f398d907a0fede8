package instruments

import (
	"math"
	"strconv"
)

// The ranges of the scope's switches. A division is a tenth of the picture's
// width and an eighth of its height.
const (
	leastTime, mostTime   = 10e-6, 10.0 // seconds a division
	longestShot           = 50e-3       // seconds a division; longer pictures outgrow what a tap remembers, and roll
	leastValue, mostValue = 0.001, 2.0  // units a division; full scale is +-1
)

// step returns the neighbour of v in the series 1, 2, 5, 10, ... that measuring
// instruments use: the next larger for n > 0, the next smaller for n < 0, n
// steps on, held within least and most.
func step(v float64, n int, least, most float64) float64 {
	decade := math.Floor(math.Log10(v) + 1e-9)
	mantissa := v / math.Pow(10, decade)
	i := 3 * int(decade)
	switch {
	case mantissa > 3.5:
		i += 2
	case mantissa > 1.5:
		i++
	}
	return min(max(series(i+n), least), most)
}

// series returns member i of 1, 2, 5, 10, ...; member 0 is 1.
func series(i int) float64 {
	decade := i / 3
	if i%3 < 0 {
		decade--
	}
	v := []float64{1, 2, 5}[i-3*decade]
	text := strconv.FormatFloat(v, 'f', -1, 64) + "e" + strconv.Itoa(decade)
	v, _ = strconv.ParseFloat(text, 64) // exact decimals: 0.2, not 0.2000001
	return v
}
