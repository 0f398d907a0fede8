package meter

import "math"

// A histogram of loudness takes the place of a list that would grow: bins of 0.01
// LU from -70 to +80 LUFS. Each keeps the sum of its powers, so a mean is exact;
// only a block within 0.01 LU of a gate may fall on its wrong side.
const (
	absoluteGate  = -70.0 // LUFS: BS.1770-5, Tech 3342
	relativeGate  = -10.0 // LU: BS.1770-5
	rangeGate     = -20.0 // LU: Tech 3342
	binsEachLU    = 100
	binsOfLoudest = 150 * binsEachLU
)

type histogram struct {
	counts [binsOfLoudest]int64
	powers [binsOfLoudest]float64
}

func (h *histogram) add(power float64) {
	at := (lufs(power) - absoluteGate) * binsEachLU
	if !(at > 0) {
		return
	}
	i := min(int(at), binsOfLoudest-1)
	h.counts[i]++
	h.powers[i] += power
}

// above returns the mean power of all bins from the one on whose mean is over
// limit, that bin, and how many blocks there are.
func (h *histogram) above(limit float64) (mean float64, from int, count int64) {
	from = binsOfLoudest
	sum := 0.0
	for i, n := range h.counts {
		if n == 0 || h.powers[i] <= limit*float64(n) {
			continue
		}
		from = min(from, i)
		sum += h.powers[i]
		count += n
	}
	return sum / max(float64(count), 1), from, count
}

// mean returns the gated mean power.
func (h *histogram) mean() float64 {
	all, _, _ := h.above(0)
	gated, _, _ := h.above(all * math.Pow(10, relativeGate/10))
	return gated
}

// spread returns the ends of the loudness range in LUFS: the 10th and the 95th
// percentile of what passes the gates; both 0 if that is too little.
func (h *histogram) spread() (low, high float64) {
	all, _, _ := h.above(0)
	_, from, count := h.above(all * math.Pow(10, rangeGate/10))
	if count < 2 {
		return 0, 0
	}
	return h.percentile(from, count, 0.10), h.percentile(from, count, 0.95)
}

// percentile returns the loudness below which that share of the blocks from a bin
// on lies.
func (h *histogram) percentile(from int, count int64, share float64) float64 {
	rank := int64(math.Round(float64(count-1) * share))
	for i := from; i < binsOfLoudest; i++ {
		if rank -= h.counts[i]; rank < 0 {
			return lufs(h.powers[i] / float64(h.counts[i]))
		}
	}
	return absoluteGate
}
