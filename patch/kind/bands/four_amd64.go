package bands

import "lampblack/patch/dsp/lanes"

var fours = lanes.Fours()

// four4 runs all of f at once, to the bits of lane, or reports that it can't.
func four4(f *four, sums []row, in []float64, gains []gain, s steps) bool {
	if !fours || len(in) == 0 {
		return false
	}
	const size = len(gain{}) * 8
	_, _ = sums[len(in)-1], gains[(len(in)-1)/2*s.even+(len(in)-1)/2*s.odd]
	runFours(&f.coeffs, &f.states, &sums[0], &in[0], len(in), &gains[0][f.first], s.even*size, s.odd*size)
	return true
}

// runFours runs n samples, at least 1; the gains go on by so many bytes after an
// even and after an odd sample.
//
//go:noescape
func runFours(coeffs *[9][4]float64, states *[6][4]float64, sums *row, in *float64, n int, gains *float64, even, odd int)
