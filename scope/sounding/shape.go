package sounding

import "math"

// Shape is what is read in the answer of an envelope to a gate. Times are in s,
// NaN where there is no such part, or it is too short to be read.
type Shape struct {
	Top        Point   // the highest point: when it is reached, and its level
	AttackTau  float64 // time constant of the rise; +Inf: it rises evenly
	DecayTau   float64 // of the fall from the top, while the gate is up
	Sustain    float64 // where that fall leads to, at the end of the gate or far beyond it
	AtEnd      float64 // level when the gate ends
	ReleaseTau float64 // of the fall after the gate
}

// touches is how near to the top a sample counts as the top.
const touches = 1e-6

// ReadShape reads y, taken at rate, whose gate begins at sample 0 and is up for
// gate seconds; 0: there is no gate, and everything after the top is decay.
func ReadShape(y []float64, rate, gate float64) Shape {
	nan := math.NaN()
	s := Shape{Top: Point{nan, nan}, AttackTau: nan, DecayTau: nan, Sustain: nan, AtEnd: nan, ReleaseTau: nan}
	end := len(y) - 1
	if gate > 0 {
		end = min(int(gate*rate+0.5), end)
	}
	if end < 3 {
		return s
	}
	top, first := 0, 0
	for i, v := range y[:end+1] {
		if v > y[top] {
			top = i
		}
	}
	for y[first] < y[top]*(1-touches) {
		first++
	}
	stays := first
	for stays < end && y[stays+1] >= y[top]*(1-touches) {
		stays++
	}
	s.Top = Point{reached(y, first, top) / rate, y[top]}
	s.AttackTau, _ = timeConstant(y, 0, first-1, rate)
	s.DecayTau, s.Sustain = timeConstant(y, stays+1, end, rate)
	if stays >= end-1 {
		s.Sustain = y[end]
	}
	if gate > 0 {
		s.AtEnd = y[end]
		last := len(y) - 1
		for last > end && y[last] < 1e-9*y[end] {
			last--
		}
		s.ReleaseTau, _ = timeConstant(y, end, last, rate)
	}
	return s
}

// reached returns the place between two samples at which the top is reached, on
// the line that led there.
func reached(y []float64, first, top int) float64 {
	if first < 2 {
		return float64(first)
	}
	step := y[first-1] - y[first-2]
	if step <= 0 {
		return float64(first)
	}
	return math.Min(float64(first-1)+(y[top]-y[first-1])/step, float64(first))
}

// evenly is how little the steps of an even line differ, as a part of them.
const evenly = 1e-6

// timeConstant returns the time constant of an exponential curve through y[from]
// to y[to], and where it leads to: three points, equally far apart, say both. It
// is +Inf of a straight line, NaN of what is no such curve.
//
// Source: Prony's method for one exponential; R. W. Hamming, Numerical Methods
// for Scientists and Engineers.
func timeConstant(y []float64, from, to int, rate float64) (tau, aim float64) {
	apart := (to - from) / 2
	if from < 0 || apart < 2 {
		return math.NaN(), math.NaN()
	}
	// Of a long tail only the beginning bends enough to be read.
	for apart > 8 && math.Abs(y[from+2*apart]-y[from+apart]) < 0.02*math.Abs(y[from+apart]-y[from]) {
		apart /= 2
	}
	a, b, c := y[from], y[from+apart], y[from+2*apart]
	r := (c - b) / (b - a)
	switch {
	case b == a:
		return math.NaN(), a
	case math.Abs(r-1) < evenly:
		return math.Inf(1), c
	case !(r > 0 && r < 1):
		return math.NaN(), math.NaN()
	}
	return -float64(apart) / rate / math.Log(r), a + (b-a)/(1-r)
}
