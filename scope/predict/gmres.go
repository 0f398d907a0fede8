package predict

import "math/cmplx"

const (
	mostDirections = 12   // that gmres looks in
	solved         = 1e-6 // what it may leave, beside what is asked for
)

// gmres solves a x = b, a linear. ok is false if it is not solved in
// mostDirections steps.
//
// Source: Saad and Schultz, SIAM J. Sci. Stat. Comput. 7(3), 1986; the rotations as
// in Golub and Van Loan, Matrix Computations, 5.1.8.
func gmres(b []complex128, a func(dst, x []complex128)) (x []complex128, ok bool) {
	x = make([]complex128, len(b))
	size := real(cmplx.Sqrt(dot(b, b)))
	if size == 0 {
		return x, true
	}
	ways := [][]complex128{scaled(b, 1/size)}
	var h [][]complex128 // its columns, made triangular
	var cos, sin []complex128
	left := []complex128{complex(size, 0)}
	for j := range mostDirections {
		v := make([]complex128, len(b))
		a(v, ways[j])
		column := make([]complex128, j+2)
		for i, w := range ways {
			column[i] = dot(w, v)
			for k := range v {
				v[k] -= column[i] * w[k]
			}
		}
		length := real(cmplx.Sqrt(dot(v, v)))
		column[j+1] = complex(length, 0)
		for i := range j {
			p, q := column[i], column[i+1]
			column[i], column[i+1] = cmplx.Conj(cos[i])*p+cmplx.Conj(sin[i])*q, cos[i]*q-sin[i]*p
		}
		p, q := column[j], column[j+1]
		r := complex(real(cmplx.Sqrt(p*cmplx.Conj(p)+q*cmplx.Conj(q))), 0)
		if r == 0 {
			return nil, false
		}
		cos, sin = append(cos, p/r), append(sin, q/r)
		column[j], column[j+1] = r, 0
		h = append(h, column)
		left = append(left, -sin[j]*left[j])
		left[j] *= cmplx.Conj(cos[j])
		if cmplx.Abs(left[j+1]) <= solved*size || length == 0 {
			back(x, ways, h, left)
			return x, true
		}
		ways = append(ways, scaled(v, 1/length))
	}
	return nil, false
}

// back solves the triangle h y = left and adds up y times the directions.
func back(x []complex128, ways, h [][]complex128, left []complex128) {
	y := make([]complex128, len(h))
	for i := len(h) - 1; i >= 0; i-- {
		y[i] = left[i]
		for j := i + 1; j < len(h); j++ {
			y[i] -= h[j][i] * y[j]
		}
		y[i] /= h[i][i]
		for k := range x {
			x[k] += y[i] * ways[i][k]
		}
	}
}

func dot(a, b []complex128) (sum complex128) {
	for i, v := range a {
		sum += cmplx.Conj(v) * b[i]
	}
	return sum
}

func scaled(a []complex128, by float64) []complex128 {
	out := make([]complex128, len(a))
	for i, v := range a {
		out[i] = v * complex(by, 0)
	}
	return out
}
