package sound

import "math"

// lookAhead is how many samples the limiter sees a peak before it comes: 2 ms
// at 48 kHz, short enough to play through.
const lookAhead = 96

// limiter keeps both channels within the ceiling. Its gain is a moving average
// over lookAhead samples of a gain that is low enough for every sample among
// them, so the output can't pass the ceiling and the gain has no corners. The
// output comes lookAhead-1 samples late.
type limiter struct {
	left, right [lookAhead]float64 // the delay
	wanted      [lookAhead]float64 // gain that each of the last samples needs
	slow        [lookAhead]float64 // the same after hold and release, being averaged
	at          int
	sum         float64 // of slow
	held        float64 // the released gain now
	release     float64 // a step towards 1
}

const releaseSeconds = 0.2

func (l *limiter) init(rate int) {
	l.held = 1
	l.release = 1 - math.Exp(-1/(releaseSeconds*float64(rate)))
	for i := range l.wanted {
		l.wanted[i], l.slow[i] = 1, 1
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
	l.wanted[l.at] = need
	l.left[l.at], l.right[l.at] = left, right

	lowest := need
	if l.held < 1 || need < 1 { // all wanted are 1 while nothing is limited
		for _, w := range l.wanted {
			lowest = min(lowest, w)
		}
	}
	l.held = min(lowest, l.held+l.release*(1-l.held))
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
