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
// of order 0 to 4, or a predictor fitted to the block, fails to predict,
// Rice-coded in partitions.
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
	if fitted, ok := linear(samples, width); ok && fitted.bits < best.bits {
		best = fitted
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

// partition finds into how many parts (2^0 to 2^8) to cut a block's residual,
// so that each has the Rice parameter that fits it, and returns the cost in bits.
// The first part is shorter by the order of the predictor.
func partition(residual []int32, order int) (*frame.RiceSubframe, frame.ResidualCodingMethod, int) {
	n, finest := len(residual)+order, 0
	for finest < 8 && n%(2<<finest) == 0 && n>>(finest+1) > order {
		finest++
	}
	sums := foldedSums(residual, order, finest)
	var best *frame.RiceSubframe
	var bestMethod frame.ResidualCodingMethod
	bestCost := 0
	for parts := finest; parts >= 0; parts-- {
		rice := &frame.RiceSubframe{PartOrder: parts, Partitions: make([]frame.RicePartition, 1<<parts)}
		method, cost := frame.ResidualCodingMethodRice1, 0
		for p := range rice.Partitions {
			size := uint64(n >> parts)
			if p == 0 {
				size -= uint64(order)
			}
			k, c := riceParameter(sums[p], size)
			if k > 14 { // 15 is an escape in the narrow method
				method = frame.ResidualCodingMethodRice2
			}
			rice.Partitions[p].Param = k
			cost += c
		}
		if cost += (4 + int(method)) << parts; best == nil || cost < bestCost {
			best, bestMethod, bestCost = rice, method, cost
		}
		for p := range 1 << parts / 2 { // two parts become one
			sums[p] = sums[2*p] + sums[2*p+1]
		}
	}
	return best, bestMethod, bestCost
}

// foldedSums returns, for each of 2^parts parts, the sum of its values folded to
// 0, 1, 2, ... (0, -1, 1, -2, 2, ...).
func foldedSums(residual []int32, order, parts int) []uint64 {
	sums := make([]uint64, 1<<parts)
	size := (len(residual) + order) >> parts
	start := 0
	for p := range sums {
		end := (p+1)*size - order
		for _, r := range residual[start:end] {
			sums[p] += uint64(uint32(r<<1) ^ uint32(r>>31))
		}
		start = end
	}
	return sums
}

// riceParameter returns the Rice parameter for n folded values of that sum, and
// the bits that they take: n*(k+1) and, nearly, sum/2^k - n/2.
func riceParameter(sum, n uint64) (k uint, cost int) {
	price := func(k uint) int { return int(n*uint64(k+1) + sum>>k - min(n/2, sum>>k)) }
	k = uint(max(bits.Len64(sum/n)-2, 0))
	for k < 30 && price(k+1) < price(k) {
		k++
	}
	return k, price(k)
}
