package recording

import (
	"math"

	"github.com/mewkiz/flac/frame"
)

// The linear predictor that is tried beside the fixed ones.
const (
	linearOrder = 12 // the longest; the streamable subset allows 12 up to 48 kHz
	linearBits  = 14 // of a coefficient, with its sign
)

// linear returns how to write a block with a predictor fitted to it, if one can
// be fitted: autocorrelation of the windowed block, Durbin's recursion, the
// order that promises the fewest bits, coefficients rounded.
//
// Sources: RFC 9639, section 9.2.6; Makhoul, Linear prediction: a tutorial
// review, Proc. IEEE 63(4), 1975.
func linear(samples []int32, width int) (coded, bool) {
	if len(samples) < 4*linearOrder {
		return coded{}, false
	}
	coefficients, shift, ok := round(fit(autocorrelation(samples), len(samples), width))
	if !ok {
		return coded{}, false
	}
	order := len(coefficients)
	residual := make([]int32, 0, len(samples)-order)
	for i := order; i < len(samples); i++ {
		var sum int64
		for k, c := range coefficients {
			sum += int64(c) * int64(samples[i-1-k])
		}
		r := int64(samples[i]) - sum>>shift
		if r > 1<<29 || r < -1<<29 {
			return coded{}, false // no gain, and decoders hold 32 bits
		}
		residual = append(residual, int32(r))
	}
	rice, method, cost := partition(residual, order)
	return coded{frame.SubHeader{
		Pred:                 frame.PredFIR,
		Order:                order,
		ResidualCodingMethod: method,
		CoeffPrec:            linearBits,
		CoeffShift:           shift,
		Coeffs:               coefficients,
		RiceSubframe:         rice,
	}, cost + 9 + order*(width+linearBits)}, true
}

// autocorrelation of the block in a window that falls to 0 at both ends (of
// Welch, 1 - t^2, squared). Products are rounded before they are summed, so that
// the same samples give the same file on any processor.
func autocorrelation(samples []int32) (lags [linearOrder + 1]float64) {
	windowed := make([]float64, len(samples))
	middle := float64(len(samples)-1) / 2
	for i, s := range samples {
		t := (float64(i) - middle) / (middle + 1)
		w := 1 - float64(t*t)
		windowed[i] = float64(s) * float64(w*w)
	}
	for k := range lags {
		later := windowed[k:]
		var a, b float64 // two sums do not wait for each other
		for i := 1; i < len(later); i += 2 {
			a += float64(later[i-1] * windowed[i-1])
			b += float64(later[i] * windowed[i])
		}
		if n := len(later); n%2 == 1 {
			a += float64(later[n-1] * windowed[n-1])
		}
		lags[k] = a + b
	}
	return lags
}

// fit returns the coefficients of the predictor whose order promises the fewest
// bits for n samples; none if there is nothing to predict.
func fit(lags [linearOrder + 1]float64, n, width int) []float64 {
	var now, best []float64
	rest := lags[0]
	fewest := math.Inf(1)
	for order := 1; order <= linearOrder && rest > 0; order++ {
		reflection := lags[order]
		for k, c := range now {
			reflection -= float64(c * lags[order-1-k])
		}
		reflection /= rest
		next := make([]float64, order)
		for k, c := range now {
			next[k] = c - float64(reflection*now[order-2-k])
		}
		next[order-1] = reflection
		now = next
		rest = float64(rest * (1 - float64(reflection*reflection)))
		// Half of log2 of the power that is left, a sample; the constant does not
		// depend on the order.
		bits := float64(n)*math.Log2(max(rest/float64(n), 1))/2 + float64(order*(width+linearBits))
		if bits < fewest {
			best, fewest = now, bits
		}
	}
	return best
}

// round turns coefficients into whole numbers to be shifted right. What one
// loses in rounding the next one makes up for.
func round(coefficients []float64) (rounded []int32, shift int32, ok bool) {
	largest := 0.0
	for _, c := range coefficients {
		largest = max(largest, math.Abs(c))
	}
	if !(largest > 0) || largest >= 1<<(linearBits-1) {
		return nil, 0, false
	}
	_, exponent := math.Frexp(largest) // largest < 2^exponent
	shift = int32(min(max(linearBits-1-exponent, 0), 15))
	owed := 0.0
	const limit = 1<<(linearBits-1) - 1
	for _, c := range coefficients {
		owed += float64(c * float64(int(1)<<shift))
		r := min(max(math.RoundToEven(owed), -limit-1), limit)
		owed -= r
		rounded = append(rounded, int32(r))
	}
	return rounded, shift, true
}
