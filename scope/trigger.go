package scope

import "math"

// Trigger says where a picture of a signal begins: at a crossing of a level, so
// that a repeating signal stands still. The zero value fires at every rise
// through 0.
type Trigger struct {
	Level      float64
	Hysteresis float64 // how far below (when falling: above) the level the signal must have been before; >= 0
	Falling    bool    // fire when the signal falls through the level instead
}

// Find returns the place, in samples, of the last crossing in samples at or
// between from and to (0 to len(samples)-1). It lies between two samples: the
// signal is taken to be band-limited, and the place is exact to a thousandth of
// a sample for tones below 0.4 of the rate.
func Find[S Sample](t Trigger, samples []S, from, to float64) (at float64, ok bool) {
	last := min(int(math.Ceil(to)), len(samples)-1)
	for i := last; i > 0 && float64(i) >= from; i-- {
		if !crosses(t, samples, i) || !armed(t, samples, i-1) {
			continue
		}
		if at := place(t, samples, i); at >= from && at <= to {
			return at, true
		}
	}
	return 0, false
}

// crosses reports whether the signal comes through the level between sample i-1
// and sample i.
func crosses[S Sample](t Trigger, samples []S, i int) bool {
	before, now := float64(samples[i-1]), float64(samples[i])
	if t.Falling {
		return before > t.Level && now <= t.Level
	}
	return before < t.Level && now >= t.Level
}

// armed reports whether the signal, going back from sample i, was beyond the
// hysteresis before it last stood on the far side of the level.
func armed[S Sample](t Trigger, samples []S, i int) bool {
	for ; i >= 0; i-- {
		depth := t.Level - float64(samples[i])
		if t.Falling {
			depth = -depth
		}
		if depth >= t.Hysteresis {
			return true
		}
		if depth < 0 {
			return false
		}
	}
	return false
}

// place finds the crossing between samples i-1 and i: by halving, on the
// interpolated signal.
func place[S Sample](t Trigger, samples []S, i int) float64 {
	low, high := float64(i-1), float64(i)
	for range 16 {
		middle := (low + high) / 2
		if v := At(samples, middle); (v < t.Level) != t.Falling {
			low = middle
		} else {
			high = middle
		}
	}
	return (low + high) / 2
}

// View is the part of a signal that a picture shows.
type View struct {
	First  float64 // place of the left edge, in samples; may lie between two
	Length float64 // width of the picture, in samples, > 0
}

// Align returns the newest view of the given length in which the crossing
// stands before of the way from the left (0 to 1), and true; or, if there is no
// crossing, the newest view at all, and false: the picture then runs free.
func Align[S Sample](t Trigger, samples []S, length, before float64) (View, bool) {
	newest := max(0, float64(len(samples)-1)-length)
	lead := before * length
	at, ok := Find(t, samples, lead, newest+lead)
	if !ok {
		return View{newest, length}, false
	}
	return View{at - lead, length}, true
}
