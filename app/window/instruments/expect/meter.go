package expect

import (
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/mat"

	"lampblack/scope"
	"lampblack/scope/fft"
)

// Meter measures lines whose frequencies are about known. One goroutine uses it.
//
// Each line has an amplitude that may rise or fall evenly, a phase and a frequency;
// all of them are what makes
// the sum of squares of what is left of the spectrum the least (Gauss-Newton;
// lines that overlap are solved for together). The window's lobes are narrow
// enough that others don't count.
type Meter struct {
	n      int
	rate   float64
	fft    *fft.Real
	window []float64
	x      []float64
	left   []complex128 // the spectrum, less the lines found so far
	lines  []tone
}

// tone is a line as it is being found.
type tone struct {
	row   int
	at    float64 // in bins
	first float64 // where it was expected
	a     complex128
	slope complex128 // by how much of the kernel's derivative its level moves on
	fixed bool       // its frequency is not looked for
	mute  bool       // too near to a neighbour: it is taken away, and nothing is told
}

// nearest is how near to each other two lines may be, in bins, to be told apart.
const nearest = 1.5

// hopeless is how near two lines may be at all to be solved for, in bins.
const hopeless = 0.5

// beside is how far under its neighbour a line may be neglected, in dB.
const beside = 80

// unclear is by how many dB a reading may have been moved by what else is there
// until it is none.
const unclear = 1

// lent is by how many dB a line may stand over the highest bin at all: half a bin
// away and beside a neighbour that takes away from it.
const lent = 12

// NewMeter returns a meter that takes n samples, a power of two is fastest, at a
// rate.
func NewMeter(n int, rate float64) *Meter {
	m := &Meter{n: n, rate: rate, fft: fft.New(n), window: make([]float64, n), x: make([]float64, n), left: make([]complex128, n/2+1)}
	fill(m.window)
	return m
}

// Len is how many samples the meter takes.
func (m *Meter) Len() int { return m.n }

// Rest is the strongest line that is left when all that was expected is taken
// away.
type Rest struct{ Hz, Level float64 }

// Read measures the lines among rows in samples, and returns what is left beside
// them.
func (m *Meter) Read(rows []Row, samples []float32) Rest {
	m.transform(samples)
	m.choose(rows)
	m.crowd()
	highest := m.rest().Level
	blocks := m.blocks()
	for sweep := range sweeps {
		moved := 0.0
		for _, b := range blocks {
			moved = max(moved, m.solve(b, sweep))
		}
		if sweep > 2 && moved < 1e-7 {
			break
		}
	}
	for _, t := range m.lines {
		if t.mute {
			continue
		}
		m.tell(&rows[t.row], t, highest)
	}
	return m.rest()
}

// transform takes the spectrum about the middle of the samples.
func (m *Meter) transform(samples []float32) {
	for i, w := range m.window {
		m.x[i] = float64(samples[i]) * w
	}
	re, im := make([]float64, m.n/2+1), make([]float64, m.n/2+1)
	m.fft.Transform(re, im, m.x)
	scale := 1 / (float64(m.n) * terms[0])
	for k := range m.left {
		sign := scale * float64(1-2*(k%2))
		m.left[k] = complex(re[k]*sign, im[k]*sign)
	}
}

// choose sets the tones that are looked for.
func (m *Meter) choose(rows []Row) {
	m.lines = m.lines[:0]
	order := byHz(rows)
	for i, row := range order {
		r := &rows[row]
		at := r.Hz * float64(m.n) / m.rate
		if at > float64(m.n/2-lobe) {
			r.Reading = Reading{Told: TooWeak} // at half the rate a line is its own mirror image
			continue
		}
		gap := math.Inf(1)
		for _, other := range neighbours(order, i) {
			o := &rows[other]
			if apart := math.Abs(o.Hz-r.Hz) * float64(m.n) / m.rate; o.Most > r.Least-beside {
				gap = min(gap, apart)
			}
		}
		if r.Hz > 0 {
			gap = min(gap, 2*at) // its own image
		}
		if gap < nearest {
			r.Reading = Reading{Told: TooNear, Needs: float64(m.n) / m.rate * nearest / gap}
			if len(m.lines) == 0 || at-m.lines[len(m.lines)-1].at > hopeless {
				m.lines = append(m.lines, tone{row: row, at: at, first: at, fixed: true, mute: true})
			}
			continue
		}
		m.lines = append(m.lines, tone{row: row, at: at, first: at, fixed: r.Hz == 0})
	}
}

// crowded is how near, in bins, neighbours on both sides may be if a frequency is
// to be looked for: two unknowns a line, level and frequency, must find two bins
// of their own.
const crowded = 4

// crowd holds the frequencies of lines that stand in a crowd.
func (m *Meter) crowd() {
	for i := 1; i+1 < len(m.lines); i++ {
		if m.lines[i].at-m.lines[i-1].at < crowded && m.lines[i+1].at-m.lines[i].at < crowded {
			m.lines[i].fixed = true
		}
	}
}

// neighbours are those next to place i.
func neighbours(order []int, i int) (out []int) {
	for _, k := range []int{i - 1, i + 1} {
		if k >= 0 && k < len(order) {
			out = append(out, order[k])
		}
	}
	return out
}

// block is a stretch of lines that are solved for together.
type block struct{ from, to int }

// together is how many lines are solved for at once, and crowds how many of those that
// stand in a crowd; longer rows of neighbours go block by block, again and again.
const together, crowds = 12, 96

func (m *Meter) blocks() []block {
	var out []block
	for i := range m.lines {
		if last := len(out) - 1; i > 0 {
			gap, count := m.lines[i].at-m.lines[i-1].at, i-out[last].from
			if gap < 2*float64(lobe) && (count < together || gap < crowded && count < crowds) {
				out[last].to = i + 1
				continue
			}
		}
		out = append(out, block{i, i + 1})
	}
	return out
}

// span is which bins a block is read from.
func (m *Meter) span(b block) (low, high int) {
	low = max(int(m.lines[b.from].at)-lobe, 0)
	return low, min(int(m.lines[b.to-1].at)+lobe+1, m.n/2)
}

// solve finds the lines of a block anew, and returns how far they moved in bins.
func (m *Meter) solve(b block, sweep int) (moved float64) {
	lines := m.lines[b.from:b.to]
	for i := range lines {
		m.add(lines[i], 1)
	}
	low, high := m.span(b)
	columns := 0
	for i := range lines {
		columns += 1 + free(lines[i], sweep)
	}
	var even, odd mat.VecDense
	okEven := m.least(&even, lines, low, high, columns, sweep, 1)
	okOdd := m.least(&odd, lines, low, high, columns, sweep, -1)
	for i, c := 0, 0; i < len(lines); i++ {
		t := &lines[i]
		if okEven {
			t.a = complex(even.AtVec(c), 0)
		}
		if okOdd && t.at > 0 {
			t.a += complex(0, odd.AtVec(c))
		}
		c++
		if free(*t, sweep) == 0 {
			continue
		}
		if okEven && okOdd {
			moved = max(moved, t.shift(complex(even.AtVec(c), odd.AtVec(c))))
		}
		c++
	}
	for i := range lines {
		m.add(lines[i], -1)
	}
	return moved
}

// free is 1 if the frequency of a tone is looked for: first come the levels.
func free(t tone, sweep int) int {
	if t.fixed || sweep == 0 {
		return 0
	}
	return 1
}

// shift moves a tone by what its derivative's share says, and returns how far.
func (t *tone) shift(b complex128) float64 {
	if t.a == 0 {
		return 0
	}
	ratio := b / t.a // its real part is a shift, the rest a level that rises or falls
	by := -real(ratio)
	t.slope = t.a * complex(0, imag(ratio))
	by = min(max(by, -0.5), 0.5)
	if t.at+by < 0 || math.Abs(t.at+by-t.first) > 3 { // nothing of its own is there
		t.at, t.fixed, t.slope = t.first, true, 0
		return 1
	}
	t.at += by
	return math.Abs(by)
}

// least solves for the real parts (sign 1) or the imaginary ones (-1): a line and
// its image at the negative frequency add, or take away from each other.
func (m *Meter) least(dst *mat.VecDense, lines []tone, low, high, columns, sweep int, sign float64) bool {
	a, y := mat.NewDense(high-low+1, columns, nil), mat.NewVecDense(high-low+1, nil)
	for k := low; k <= high; k++ {
		v := real(m.left[k])
		if sign < 0 {
			v = imag(m.left[k])
		}
		y.SetVec(k-low, v)
		for i, c := 0, 0; i < len(lines); i++ {
			t := lines[i]
			here, image := float64(k)-t.at, float64(k)+t.at
			near := math.Abs(here) < far
			v := 0.0
			if near {
				v = kernel(here, m.n)
			}
			if image < far && (sign > 0 || t.at > 0) { // what stands still has no imaginary part: any column will do
				v += sign * kernel(image, m.n)
			}
			a.Set(k-low, c, v)
			c++
			if free(t, sweep) == 0 {
				continue
			}
			v = 0
			if near {
				v = slope(here, m.n)
			}
			if image < far {
				v -= sign * slope(image, m.n)
			}
			a.Set(k-low, c, v)
			c++
		}
	}
	return dst.SolveVec(a, y) == nil
}

// far is how many bins from a line nothing of it is left.
const far = float64(2*lobe + 2)

// add lays a tone on the spectrum (by 1), or takes it away (-1).
func (m *Meter) add(t tone, by float64) {
	reach := 2 * lobe
	for k := max(int(t.at)-reach, 0); k <= min(int(t.at)+reach, m.n/2); k++ {
		here, image := kernel(float64(k)-t.at, m.n), 0.0
		if float64(k)+t.at < far {
			image = kernel(float64(k)+t.at, m.n)
		}
		m.left[k] += complex(by*real(t.a)*(here+image), by*imag(t.a)*(here-image))
		if t.slope != 0 {
			here, image = slope(float64(k)-t.at, m.n), 0
			if float64(k)+t.at < far {
				image = slope(float64(k)+t.at, m.n)
			}
			m.left[k] += complex(by*real(t.slope)*(here-image), by*imag(t.slope)*(here+image))
		}
	}
}

// sweeps is how often all blocks are solved at most.
const sweeps = 16

// tell writes down what was found of a tone.
func (m *Meter) tell(r *Row, t tone, highest float64) {
	amplitude := 2 * cmplx.Abs(t.a)
	power, count := 0.0, 0
	for k := max(int(t.at)-2, 0); k <= min(int(t.at)+3, m.n/2); k++ {
		power += real(m.left[k])*real(m.left[k]) + imag(m.left[k])*imag(m.left[k])
		count++
	}
	r.Reading = Reading{Told: Read, FoundHz: t.at * m.rate / float64(m.n), Found: max(scope.DB(amplitude), scope.Floor)}
	r.Stray = scope.DB(1 + 2*math.Sqrt(power/float64(count))/max(amplitude, 1e-30))
	if t.fixed && r.Hz > 0 {
		r.FoundHz = math.NaN()
	}
	if r.Stray > unclear || r.Found > highest+lent {
		r.Reading = Reading{Told: Unclear}
	}
}

// rest finds the strongest line that is left.
func (m *Meter) rest() Rest {
	at, highest := 0, 0.0
	for k := range m.left {
		if a := cmplx.Abs(m.left[k]); a > highest {
			at, highest = k, a
		}
	}
	return Rest{Hz: float64(at) * m.rate / float64(m.n), Level: max(scope.DB(2*highest), scope.Floor)}
}

// Mean is the mean of Len samples by the weight that the meter gives to each: of
// an envelope that moves, the level that it lends to a line.
func (m *Meter) Mean(samples []float32) float64 {
	sum, weight := 0.0, 0.0
	for i, w := range m.window {
		sum += float64(samples[i]) * w
		weight += w
	}
	return sum / weight
}
