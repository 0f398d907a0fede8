package timing

import (
	"math"
	"sync/atomic"
	"time"
)

// binWidth is how fine a histogram is, and bins how many there are: 0 to 100 ms.
// What took longer is counted in one bin more.
const (
	binWidth = 50 * time.Microsecond
	bins     = 2000
)

// Histogram counts durations. The zero value is empty. One goroutine adds,
// others may read.
type Histogram struct {
	counts  [bins + 1]atomic.Int64
	count   atomic.Int64
	sum     atomic.Int64 // ns
	longest atomic.Int64 // ns
}

// Add counts a duration, without waiting or allocating.
func (h *Histogram) Add(d time.Duration) {
	h.counts[min(max(int(d/binWidth), 0), bins)].Add(1)
	h.sum.Add(int64(d))
	if int64(d) > h.longest.Load() {
		h.longest.Store(int64(d))
	}
	h.count.Add(1)
}

// Count returns how many durations were added.
func (h *Histogram) Count() int64 { return h.count.Load() }

// Longest returns the longest of all.
func (h *Histogram) Longest() time.Duration { return time.Duration(h.longest.Load()) }

// Mean returns the mean of all, 0 of none.
func (h *Histogram) Mean() time.Duration {
	if h.Count() == 0 {
		return 0
	}
	return time.Duration(h.sum.Load() / h.Count())
}

// Quantile returns the duration that a part of all, 0 to 1, does not exceed: the
// upper edge of its bin, so that it is too long by 50 us at most. Of what lies
// beyond 100 ms it returns the longest.
func (h *Histogram) Quantile(part float64) time.Duration {
	rank, seen := int64(math.Ceil(part*float64(h.Count()))), int64(0)
	for i := range bins {
		if seen += h.counts[i].Load(); seen >= rank && seen > 0 {
			return min(time.Duration(i+1)*binWidth, h.Longest())
		}
	}
	return h.Longest()
}
