package yin

import "math"

// A dip is a candidate if it is no shallower than shallow; the first candidate
// that is below both the threshold and nearly * deepest + slack is the period.
// The paper's rule has the threshold alone. But a strong overtone makes a dip
// at its own period as well, which that takes: of 1,000 synthetic voices it got
// 4.4 % of the looks wrong, this rule 0.24 % (the numbers were chosen on 150 of
// them).
const (
	shallow    = 0.6
	nearly     = 3
	slack      = 0.03
	bonus      = 0.02 // by which a dip about where the last one was may be shallower
	alike      = 0.12 // what is about equal, as a share
	candidates = 64
)

// candidate is a dip and its depth between the samples.
type candidate struct {
	lag int
	dip float64
}

// choose returns the lag nearest to the bottom of the dip that is the period,
// between two lags, or 0.
func (f *Finder) choose(from, to int, r Range) int {
	best, least := 0, math.Inf(1)
	found := f.found[:0]
	for lag := from; lag <= to; lag++ {
		v := f.dip[lag]
		if v > f.dip[lag-1] || v > f.dip[lag+1] {
			continue
		}
		if v < shallow && len(found) < cap(found) {
			v = f.depth(lag)
			found = append(found, candidate{lag, v})
		}
		if v < least {
			best, least = lag, v
		}
	}
	limit := min(r.Threshold, float64(nearly*least)+slack)
	for i, c := range found {
		if c.dip < limit || c.dip < min(r.Threshold, limit+bonus) && f.about(c.lag, r.Near) {
			return deepest(found[i:])
		}
	}
	return best
}

// about reports whether a lag is nearly the period of a frequency.
func (f *Finder) about(lag int, hz float64) bool {
	d := float64(float64(lag)*hz) - f.rate
	return math.Abs(d) < float64(alike*f.rate)
}

// deepest returns the lag of the deepest of the dips that lie close above the
// first: a dip may be rippled by the overtones.
func deepest(found []candidate) int {
	best := found[0]
	for _, c := range found {
		if float64(c.lag) > float64((1+alike)*float64(found[0].lag)) {
			break
		}
		if c.dip < best.dip {
			best = c
		}
	}
	return best.lag
}

// depth is how deep the dip at lag is between the samples.
func (f *Finder) depth(lag int) float64 {
	if f.d[lag] > 0 {
		_, value := f.bottom(float64(lag))
		return max(float64(f.dip[lag]*(value/f.d[lag])), 0)
	}
	return f.dip[lag]
}
