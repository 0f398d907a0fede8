package sound

import "math"

// lookAhead is how many samples the limiter sees a peak before it comes: 2 ms
// at 48 kHz, short enough to play through.
const lookAhead = 96

// holdSeconds is how long the gain stays after a peak, and releaseSeconds the
// time constant with which it then goes back. Without the hold it would rise
// between the peaks of a low tone and bend its shape; the hold is longer than
// half a cycle of 25 Hz.
const (
	holdSeconds    = 0.025
	releaseSeconds = 0.2
)

// limiter keeps both channels within the ceiling. Its gain is a moving average
// over lookAhead samples of a gain that is low enough for every sample among
// them, so the output can't pass the ceiling and the gain has no corners. The
// output comes lookAhead-1 samples late.
type limiter struct {
	left, right [lookAhead]float64 // the delay
	wanted      lowest             // gain that each of the last samples needs
	slow        [lookAhead]float64 // the same after hold and release, being averaged
	at          int
	sum         float64 // of slow
	held        float64 // the released gain now
	release     float64 // a step towards 1
}

func (l *limiter) init(rate int) {
	l.held = 1
	l.release = 1 - math.Exp(-1/(releaseSeconds*float64(rate)))
	l.wanted.init(lookAhead + int(holdSeconds*float64(rate)))
	for i := range l.slow {
		l.slow[i] = 1
	}
	l.sum = lookAhead
}

// next takes one sample a channel and returns those from lookAhead-1 samples
// ago, limited, with the gain that was applied.
func (l *limiter) next(left, right float64) (float64, float64, float64) {
	need := 1.0
	if peak := max(math.Abs(left), math.Abs(right)); peak > ceiling {
		need = ceiling / peak
	}
	l.left[l.at], l.right[l.at] = left, right
	l.held = min(l.wanted.next(need), l.held+l.release*(1-l.held))
	if l.held > 1-1e-9 {
		l.held = 1
	}
	l.sum += l.held - l.slow[l.at]
	l.slow[l.at] = l.held
	l.at++
	if l.at == lookAhead {
		l.at = 0
		l.resum()
	}
	gain := min(l.sum/lookAhead, 1)
	x, y := l.left[l.at]*gain, l.right[l.at]*gain
	return min(max(x, -ceiling), ceiling), min(max(y, -ceiling), ceiling), gain
}

// resum adds the average up anew, so that rounding errors can't pile up.
func (l *limiter) resum() {
	l.sum = 0
	for _, g := range l.slow {
		l.sum += g
	}
}

// lowest knows the lowest of the last values. It keeps those that no later one
// undercuts, in a ring: the first of them is the lowest.
type lowest struct {
	value        []float64
	when         []int // numbers of the values
	first, count int
	now          int
}

func (w *lowest) init(values int) {
	w.value, w.when = make([]float64, values), make([]int, values)
}

// next takes one value and returns the lowest of the last len(w.value).
func (w *lowest) next(x float64) float64 {
	n := len(w.value)
	w.now++
	if w.count > 0 && w.when[w.first] <= w.now-n {
		w.first = (w.first + 1) % n
		w.count--
	}
	for w.count > 0 && w.value[(w.first+w.count-1)%n] >= x {
		w.count--
	}
	last := (w.first + w.count) % n
	w.value[last], w.when[last] = x, w.now
	w.count++
	return w.value[w.first]
}
