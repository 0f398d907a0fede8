package recording

import (
	"math/bits"

	"github.com/mewkiz/flac/frame"
)

// coded is how a channel of one block is to be written, and how many bits that
// takes (reckoned, within a fraction of a percent).
type coded struct {
	header frame.SubHeader
	bits   int
}

// predict chooses the cheapest way to write a block whose samples have the
// given width in bits: one constant value, plain, or as what a fixed polynomial
// of order 0 to 4 fails to predict, Rice-coded in partitions.
//
// Source: RFC 9639, sections 9.2.4 to 9.2.7.
func predict(samples []int32, width int) coded {
	if constant(samples) {
		return coded{frame.SubHeader{Pred: frame.PredConstant}, width}
	}
	best := coded{frame.SubHeader{Pred: frame.PredVerbatim}, width * len(samples)}
	residual := append([]int32(nil), samples...)
	for order := 0; order <= 4 && order < len(samples); order++ {
		if order > 0 {
			difference(residual[order-1:])
		}
		rice, method, cost := partition(residual[order:], order)
		if cost += order * width; cost < best.bits {
			best = coded{frame.SubHeader{
				Pred:                 frame.PredFixed,
				Order:                order,
				ResidualCodingMethod: method,
				RiceSubframe:         rice,
			}, cost}
		}
	}
	return best
}

// constant reports whether all samples are equal.
func constant(samples []int32) bool {
	for _, s := range samples[1:] {
		if s != samples[0] {
			return false
		}
	}
	return true
}

// difference replaces all samples but the first by their step from the one
// before. Done n times it leaves the residual of the fixed predictor of order n;
// 25 bits four times doubled fit into 29.
func difference(s []int32) {
	for i := len(s) - 1; i > 0; i-- {
		s[i] -= s[i-1]
	}
}

// partition finds into how many parts (2^0 to 2^6) to cut a block's residual,
// so that each has the Rice parameter that fits it, and returns the cost in bits.
// The first part is shorter by the order of the predictor.
func partition(residual []int32, order int) (*frame.RiceSubframe, frame.ResidualCodingMethod, int) {
	var best *frame.RiceSubframe
	var bestMethod frame.ResidualCodingMethod
	bestCost := 0
	n := len(residual) + order
	for parts := 0; parts <= 6 && n%(1<<parts) == 0 && n>>parts > order; parts++ {
		rice := &frame.RiceSubframe{PartOrder: parts}
		method, cost, start := frame.ResidualCodingMethodRice1, 0, 0
		for p := 1; p <= 1<<parts; p++ {
			end := p*(n>>parts) - order
			k, c := riceParameter(residual[start:end])
			if k > 14 { // 15 is an escape in the narrow method
				method = frame.ResidualCodingMethodRice2
			}
			rice.Partitions = append(rice.Partitions, frame.RicePartition{Param: k})
			cost += c
			start = end
		}
		if cost += (4 + int(method)) << parts; best == nil || cost < bestCost {
			best, bestMethod, bestCost = rice, method, cost
		}
	}
	return best, bestMethod, bestCost
}

// riceParameter returns the Rice parameter for a part of a residual and the
// bits that it takes. For values folded to 0, 1, 2, ... of sum S the bits are
// n*(k+1) and, nearly, S/2^k - n/2.
func riceParameter(residual []int32) (k uint, cost int) {
	var sum uint64
	for _, r := range residual {
		sum += uint64(uint32(r<<1) ^ uint32(r>>31))
	}
	n := uint64(len(residual))
	price := func(k uint) int { return int(n*uint64(k+1) + sum>>k - min(n/2, sum>>k)) }
	k = uint(max(bits.Len64(sum/n)-2, 0))
	for k < 30 && price(k+1) < price(k) {
		k++
	}
	return k, price(k)
}
