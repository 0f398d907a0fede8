package scope

import (
	"math"
	"sync"

	"lampblack/patch/dsp/approx"
	"lampblack/patch/dsp/weigh"
)

// The interpolating filter: a sinc in a Kaiser window over 2*sincSide samples,
// tabulated at sincPhases places between two samples. Side and beta were chosen
// by computing the error over all places: 1e-5 of the amplitude at 18 kHz and
// 2.4e-5 at 20 kHz, for a rate of 48 kHz.
const (
	sincSide   = 20
	sincPhases = 512
	sincBeta   = 10
)

type sincRow = [2 * sincSide]float64

var sincTable = sync.OnceValue(func() *[sincPhases + 1]sincRow {
	table := new([sincPhases + 1]sincRow)
	for p := range table {
		sum := 0.0
		for k := range table[p] {
			t := float64(k-sincSide+1) - float64(p)/sincPhases
			table[p][k] = approx.Sinc(t) * approx.BesselI0(sincBeta*math.Sqrt(max(0, 1-t*t/(sincSide*sincSide))))
			sum += table[p][k]
		}
		for k := range table[p] {
			table[p][k] /= sum // a steady level stays what it is
		}
	}
	return table
})

// At returns the value of the signal at a place between its samples (0 to
// len(samples)-1), taken to be band-limited: for tones below 0.41 of the rate
// (20 kHz at 48 kHz) the error is below 3e-5 of their amplitude, 20 samples or
// more from the ends. Beyond the ends the signal is taken to stay as it is there;
// of no samples it is 0.
func At[S Sample](samples []S, place float64) float64 {
	if len(samples) == 0 {
		return 0
	}
	if !(place > 0) {
		place = 0 // NaN, too
	}
	place = min(place, float64(len(samples)-1))
	i := int(place)
	phase := (place - float64(i)) * sincPhases
	if phase == 0 {
		return float64(samples[i])
	}
	p := int(phase)
	table := sincTable()
	before, after, between := table[p][:], table[p+1][:], phase-float64(p)
	var x sincRow
	first := i - sincSide + 1
	if first < 0 || first+2*sincSide > len(samples) {
		for k := range x {
			x[k] = float64(samples[min(max(first+k, 0), len(samples)-1)])
		}
		return weigh.Between(x[:], before, after, between)
	}
	around := samples[first : first+2*sincSide : first+2*sincSide]
	if wide, ok := any(around).([]float64); ok {
		return weigh.Between(wide, before, after, between)
	}
	for k, s := range around {
		x[k] = float64(s)
	}
	return weigh.Between(x[:], before, after, between)
}

// rise is a generous bound of how far the signal may climb over the highest of
// three samples, b, between them. Of a parabola it is twelve times the most; a
// sine of 0.45 of the rate may climb so far: 1 - cos(w/2) over samples that bend
// by cos(w/2) - cos(3 w/2).
func rise(a, b, c float64) float64 { return 1.5 * max(2*b-a-c, 0) }

// gentle is crest with a short way where the signal is smooth: where the third and
// fourth differences are below 0.3 and 0.07 of the second, as those of tones up to
// 0.04 of the rate are at their peaks (w and 2 - 2 cos w for w radians a sample),
// the parabola through three samples errs by 1e-4 of the amplitude at most.
func gentle[S Sample](samples []S, i int, sign float64) (at, value float64) {
	if i < 2 || i+2 >= len(samples) {
		return crest(samples, i, sign)
	}
	a, b, c := float64(samples[i-1]), float64(samples[i]), float64(samples[i+1])
	second := a - 2*b + c
	before := second - (float64(samples[i-2]) - 2*a + b)
	after := b - 2*c + float64(samples[i+2]) - second
	limit := math.Abs(second)
	if !(math.Abs(after-before) < 0.07*limit && max(math.Abs(before), math.Abs(after)) < 0.3*limit) {
		return crest(samples, i, sign)
	}
	shift := (a - c) / (2 * second)
	return float64(i) + shift, b - (a-c)*shift/4
}

// bump looks for a peak, or a dip, between samples i and i+1 that no sample
// betrays, since the samples around it only rise or only fall: from four of them
// it tells whether there may be one, from the middle whether there is.
func bump[S Sample](samples []S, i int) (at, value float64, ok bool) {
	if i < 1 || i+2 >= len(samples) {
		return 0, 0, false
	}
	a, b, c, d := samples[i-1], samples[i], samples[i+1], samples[i+2]
	if !mayHide(c-b, c-2*b+a, d-2*c+b) {
		return 0, 0, false
	}
	peak := b < c && c < d || b > c && a > b // else crest finds it from the sample
	dip := b < c && a < b || b > c && c > d
	if !peak && !dip {
		return 0, 0, false
	}
	at = float64(i) + 0.5
	sign := 1.0
	switch value = At(samples, at); {
	case peak && value > float64(max(b, c)):
	case dip && value < float64(min(b, c)):
		sign = -1
	default:
		return 0, 0, false
	}
	at, value = climb(samples, at, value, 0.25, sign)
	return at, value, true
}

// mayHide reports whether there is room for a peak or dip between two samples
// that differ by slope, with second differences bend and next: only where these are
// greater than the slope and change by half or more from one to the other.
func mayHide[S Sample](slope, bend, next S) bool {
	third := 2 * (next - bend)
	most := max(bend*bend, next*next)
	return slope*slope <= most && third*third > most
}

// crest returns where the signal is highest around sample i, which is not lower
// than its neighbours, and how high; with sign -1 where it is lowest around a
// sample that is not higher than its neighbours. The place is within a sample
// of i, the height exact to 2e-4 of the amplitude.
func crest[S Sample](samples []S, i int, sign float64) (at, value float64) {
	at, value = float64(i), float64(samples[i])
	left, right := At(samples, at-0.5), At(samples, at+0.5)
	if sign*left > sign*value && sign*right > sign*value { // one to either side
		leftAt, leftValue := climb(samples, at-0.5, left, 0.25, sign)
		rightAt, rightValue := climb(samples, at+0.5, right, 0.25, sign)
		if sign*leftValue > sign*rightValue {
			return leftAt, leftValue
		}
		return rightAt, rightValue
	}
	switch {
	case sign*left > sign*value:
		at, value = at-0.5, left
	case sign*right > sign*value:
		at, value = at+0.5, right
	}
	return climb(samples, at, value, 0.25, sign)
}

// climb goes from a place, where the signal has that value, up (sign 1) or down
// to where it turns, less than two steps away.
func climb[S Sample](samples []S, at, value, step, sign float64) (top, height float64) {
	value *= sign
	for ; step >= 0.125; step /= 2 {
		left, right := sign*At(samples, at-step), sign*At(samples, at+step)
		switch {
		case left > value && left >= right:
			at, value = at-step, left
		case right > value:
			at, value = at+step, right
		}
	}
	const last = 0.125
	left, right := sign*At(samples, at-last), sign*At(samples, at+last)
	if curve := left - 2*value + right; curve < 0 {
		shift := min(max((left-right)/(2*curve), -1), 1)
		at, value = at+last*shift, value-(left-right)*shift/4
	}
	return at, sign * value
}
