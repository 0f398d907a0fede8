package pink

import (
	"math"

	"lampblack/patch/dsp/approx"
)

const (
	lowest  = 6.0 // Hz: the lowest pole
	from    = 18  // Hz: the fit starts here
	topPole = 0.2 // of the sample rate: the highest of the low poles
	end     = 0.46
	spread  = 3   // largest ratio of neighbouring poles: ripple of 0.002 dB
	points  = 200 // frequencies at which the fit is made
)

// topAngles are the angles (radians short of half the sample rate) of poles
// that follow 1/f up to there, where the low poles, being even around half the
// rate, cannot.
var topAngles = [...]float64{0.2, 0.6, 1.8}

// sum is a sum of power responses of one-pole filters, as a function of u = cos
// w - 1 (w: angular frequency), and the weights of
//
//	low: (1-p)^2 / |1 - p/z|^2     top: |1 + 1/z|^2 / |1 + q/z|^2     and 1
type sum struct {
	low, top   []float64 // poles p of the low, q of the top ones (at -q)
	wLow, wTop []float64
	one        float64
}

func poles(rate float64) sum {
	var s sum
	octaves := log2(topPole * rate / lowest)
	steps := math.Ceil(octaves / log2(spread))
	for k := 0.0; k <= steps; k++ {
		f := float64(topPole * approx.Exp2(float64(-octaves*k)/steps))
		s.low = append(s.low, approx.Exp2(float64(-2*math.Pi*math.Log2E*f)))
	}
	for _, a := range topAngles {
		s.top = append(s.top, approx.Exp2(float64(-math.Log2E*a)))
	}
	s.wLow, s.wTop = make([]float64, len(s.low)), make([]float64, len(s.top))
	return s
}

// log2 is the base-2 logarithm of x, 1 to 2^32, found by halving.
func log2(x float64) float64 {
	lo, hi := 0.0, 32.0
	for range 60 {
		if m := (lo + hi) / 2; approx.Exp2(m) < x {
			lo = m
		} else {
			hi = m
		}
	}
	return lo
}

// versine is 1 - cos(2 pi f), f 0 to 0.5, without loss of digits at low f.
func versine(f float64) float64 {
	s := approx.Sine(f / 2)
	return float64(2 * s * s)
}

// fit finds the weights that bring the sum closest to 1/f, f being the part of
// the sample rate, by least squares of the relative error. The frequencies lie
// evenly over the octaves, and closer towards both ends, where a fit errs most.
func (s *sum) fit(rate float64) {
	n := len(s.low) + len(s.top) + 1
	normal := make([][]float64, n)
	for i := range normal {
		normal[i] = make([]float64, n+1)
	}
	row, octaves := make([]float64, n+1), log2(end*rate/from)
	row[n] = 1 // the wanted sum times f
	for i := range points {
		place := versine((float64(i)+0.5)/(2*points)) / 2
		s.row(row, float64(from/rate)*approx.Exp2(float64(octaves*place)))
		for r := range n {
			for k := range row {
				normal[r][k] += float64(row[r] * row[k])
			}
		}
	}
	x := solve(normal)
	for i, p := range s.low {
		s.wLow[i] = x[i] / (1 - p)
	}
	copy(s.wTop, x[len(s.low):])
	s.one = x[n-1]
}

// row fills in what each member contributes at f, times f; the low ones are
// scaled so that all are of the order of 1.
func (s *sum) row(row []float64, f float64) {
	v := versine(f)
	for i, p := range s.low {
		row[i] = float64(f*(1-p)) / (float64((1-p)*(1-p)) + float64(2*p*v))
	}
	for i, q := range s.top {
		row[len(s.low)+i] = float64(f*(4-float64(2*v))) / (float64((1+q)*(1+q)) - float64(2*q*v))
	}
	row[len(s.low)+len(s.top)] = f
}

// solve is Gauss's elimination with pivots; each row ends in its right side.
func solve(m [][]float64) []float64 {
	n := len(m)
	x := make([]float64, n)
	for i := range n {
		for r := i + 1; r < n; r++ {
			if math.Abs(m[r][i]) > math.Abs(m[i][i]) {
				m[i], m[r] = m[r], m[i]
			}
		}
		for r := i + 1; r < n; r++ {
			q := m[r][i] / m[i][i]
			for k := i; k <= n; k++ {
				m[r][k] -= float64(q * m[i][k])
			}
		}
	}
	for i := n - 1; i >= 0; i-- {
		x[i] = m[i][n]
		for k := i + 1; k < n; k++ {
			x[i] -= float64(m[i][k] * x[k])
		}
		x[i] /= m[i][i]
	}
	return x
}

// decay is the pole of a one-pole filter whose cutoff is f, a part of the rate.
func decay(f float64) float64 { return approx.Exp2(float64(-2 * math.Pi * math.Log2E * f)) }
