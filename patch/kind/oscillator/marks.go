package oscillator

import "math"

// A mark is a bit for every step of a piece of the block, the first the lowest.

// crossed marks the steps from one to the next of n+1 places, shifted up by so much
// and so much lower, that pass from one cycle to another.
func crossed(places []int64, n int, shift uint, less int64) (marks uint64) {
	if n == 0 {
		return 0
	}
	if fours && n+4 <= len(places) {
		return crossedFours(&places[0], n, shift, less) & (math.MaxUint64 >> (64 - n))
	}
	p := places[0]<<shift - less
	for i, next := range places[1 : n+1] {
		next = next<<shift - less
		marks |= uint64(differ(p, next)) << i
		p = next
	}
	return marks
}

// overtaken is crossed of places that each lie lower by a width of its own.
func overtaken(places, widths []int64, n int) (marks uint64) {
	if fours && n+4 <= len(places) {
		return overtakenFours(&places[0], &widths[0], n) & (math.MaxUint64 >> (64 - n))
	}
	p := places[0] - widths[0]
	for i, next := range places[1 : n+1] {
		next -= widths[i+1]
		marks |= uint64(differ(p, next)) << i
		p = next
	}
	return marks
}

// turning marks the steps that may turn back, of n whose neighbours are at both ends:
// those of any other run its way, and are not much shorter.
func turning(steps []float64, n int) (marks uint64) {
	if fours && n+5 <= len(steps) {
		return turningFours(&steps[0], n) & (math.MaxUint64 >> (64 - n))
	}
	before := float64(steps[0] * steps[1])
	for i := range n {
		d := steps[i+1]
		behind := float64(d * steps[i+2])
		least := float64(0.25 * float64(d*d))
		if !(before > least && behind > least) {
			marks |= 1 << i
		}
		before = behind
	}
	return marks
}

// bends is by how much, at most, the slope of a curve differs from its step, by
// computation.
func bends(s *[reaches]float64) float64 {
	if fours {
		return bendsFours(s)
	}
	return bendsOnes(s)
}

func bendsOnes(s *[reaches]float64) float64 {
	b0, b1, b2, b3 := s[1]-s[0], s[2]-s[1], s[3]-s[2], s[4]-s[3]
	b4, b5, b6, b7 := s[5]-s[4], s[6]-s[5], s[7]-s[6], s[8]-s[7]
	return (float64(0.445*(math.Abs(b3)+math.Abs(b4))) + float64(0.102*(math.Abs(b2)+math.Abs(b5)))) +
		(float64(0.02*(math.Abs(b1)+math.Abs(b6))) + float64(0.002*(math.Abs(b0)+math.Abs(b7))))
}
