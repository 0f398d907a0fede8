package bands

import (
	"lampblack/patch/dsp/bound"
)

// abreast is how many bands are computed side by side: each waits for its own last
// sample, so four take hardly longer than one.
const abreast = 4

// four are the bands first to first + 3; first is even, and those that are left
// out pass nothing.
type four struct {
	first  int
	coeffs [9][abreast]float64 // b, a1, a2 of the three sections
	states [6][abreast]float64 // z1, z2 of the three
}

// row is a sample of four bands.
type row [abreast]float64

// put gives band k, of those here, its coefficients.
func (f *four) put(k int, b band) {
	for i, s := range b {
		f.coeffs[3*i][k-f.first] = s.b
		f.coeffs[3*i+1][k-f.first] = s.a1
		f.coeffs[3*i+2][k-f.first] = s.a2
	}
}

// steps are by how many rows of the gains one goes on after an even and after an
// odd sample.
type steps struct{ even, odd int }

// run adds what the bands pass of in, times their gains, to sums.
func (f *four) run(sums []row, in []float64, gains []gain, s steps) {
	if four4(f, sums, in, gains, s) {
		return
	}
	for k := range abreast {
		f.lane(k, sums, in, gains, s)
	}
}

// lane is run for one band.
func (f *four) lane(k int, sums []row, in []float64, gains []gain, s steps) {
	c, z := &f.coeffs, &f.states
	s1, s2, t1, t2, u1, u2 := z[0][k], z[1][k], z[2][k], z[3][k], z[4][k], z[5][k]
	sums = sums[:len(in)]
	at := 0
	for i, x := range in {
		x = float64(x * c[0][k])
		y := x + s1
		s1 = s2 - float64(c[1][k]*y)
		s2 = -x - float64(c[2][k]*y)
		x = float64(y * c[3][k])
		y = x + t1
		t1 = t2 - float64(c[4][k]*y)
		t2 = -x - float64(c[5][k]*y)
		x = float64(y * c[6][k])
		y = x + u1
		u1 = u2 - float64(c[7][k]*y)
		u2 = -x - float64(c[8][k]*y)
		sums[i][k] += float64(y * gains[at][f.first+k])
		at += s.even
		s.even, s.odd = s.odd, s.even
	}
	z[0][k], z[1][k], z[2][k], z[3][k], z[4][k], z[5][k] = s1, s2, t1, t2, u1, u2
}

// rest makes bands that have all but died exactly silent.
func (f *four) rest() {
	for k := range abreast {
		alive := false
		for i := range f.states {
			alive = alive || bound.Flush(f.states[i][k]) != 0
		}
		for i := range f.states {
			if !alive {
				f.states[i][k] = 0
			}
		}
	}
}
