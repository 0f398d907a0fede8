package scope

import "math"

// finder goes through a signal and finds where a trigger fires. Between the
// nodes that it visits, the samples and the peaks between them that matter, the
// signal is taken to rise or fall only, so that no crossing is missed or counted
// twice.
type finder[S Sample] struct {
	trigger Trigger
	samples []S
	i       int // of the sample to be visited next
	armed   bool
	node    node    // visited last
	found   stretch // in which the signal comes through the level
}

// node is a place and how far the signal lies past the level there, seen in the
// direction of the slope.
type node struct{ at, past float64 }

// stretch reaches from one node to the next.
type stretch struct{ from, to float64 }

// past returns how far a value lies past the level.
func (t Trigger) past(v float64) float64 {
	if t.Falling {
		return t.Level - v
	}
	return v - t.Level
}

// begin goes to a sample, from which the finder sets out unarmed.
func (f *finder[S]) begin(i int) {
	f.i, f.armed, f.node = i, false, node{at: math.Inf(-1)}
}

// last returns the last stretch that fires between two places.
func (f *finder[S]) last(from, to float64) (last stretch, ok bool) {
	for f.next(len(f.samples)-1) && f.found.from <= to {
		if f.found.to < from {
			continue
		}
		if f.found.from < from || f.found.to > to { // it may fire outside
			if at := f.place(f.found); at < from || at > to {
				continue
			}
		}
		last, ok = f.found, true
	}
	return last, ok
}

// next visits samples up to the one of that index, and stops at the first stretch
// in which the trigger fires.
func (f *finder[S]) next(last int) bool {
	for ; f.i <= min(last, len(f.samples)-1); f.i++ {
		now := node{float64(f.i), f.trigger.past(float64(f.samples[f.i]))}
		if math.IsInf(f.node.at, -1) { // the first
			f.visit(now)
			continue
		}
		fired := false
		if at, value, ok := bump(f.samples, f.i-1); ok {
			fired = f.visit(node{at, f.trigger.past(value)})
		}
		peak, ok := f.peak(now)
		if ok && peak.at < now.at {
			fired = f.visit(peak) || fired
		}
		fired = f.visit(now) || fired
		if ok && peak.at > now.at {
			fired = f.visit(peak) || fired
		}
		if fired {
			f.i++
			return true
		}
	}
	return false
}

// visit goes on to a node and reports whether the trigger fires on the way.
func (f *finder[S]) visit(now node) bool {
	before := f.node
	f.node = now
	if before.past < 0 && now.past >= 0 && f.armed {
		f.found = stretch{before.at, now.at}
		f.armed = false
		return true
	}
	if now.past < 0 && now.past <= -f.trigger.Hysteresis {
		f.armed = true
	}
	return false
}

// peak returns the peak beside a sample that is not lower or not higher than its
// neighbours, if it may lie across a level that the sample does not reach.
func (f *finder[S]) peak(now node) (node, bool) {
	if f.i+1 >= len(f.samples) {
		return node{}, false
	}
	a, c := f.trigger.past(float64(f.samples[f.i-1])), f.trigger.past(float64(f.samples[f.i+1]))
	b, sign := now.past, 1.0
	switch {
	case b < 0 && b >= a && b >= c: // may fire
		if b+rise(a, b, c) < 0 {
			return node{}, false
		}
	case b > -f.trigger.Hysteresis && b <= a && b <= c: // may arm
		if b-rise(-a, -b, -c) > -f.trigger.Hysteresis {
			return node{}, false
		}
		sign = -1
	default:
		return node{}, false
	}
	if f.trigger.Falling {
		sign = -sign
	}
	at, value := crest(f.samples, f.i, sign)
	return node{at, f.trigger.past(value)}, true
}

// place returns where in a stretch the signal comes through the level.
func (f *finder[S]) place(s stretch) float64 {
	past := func(at float64) float64 { return f.trigger.past(At(f.samples, at)) }
	low, high := past(s.from), past(s.to)
	if high <= 0 || low >= 0 { // the level is the peak, but for rounding
		return s.to
	}
	if at := zero(past, s.from, s.to, low, high); at >= s.from && at <= s.to {
		return at
	}
	return s.to // a sample nearby is no number
}
