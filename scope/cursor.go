package scope

import "math"

// Cursors are two places in a signal, in samples; either may be the first.
type Cursors struct{ A, B float64 }

// CursorReading is what two cursors read.
type CursorReading struct {
	ValueA, ValueB float64 // of the signal, by interpolation (see At)
	Rise           float64 // from A to B
	Seconds        float64 // from A to B; negative if B comes first
	Hz             float64 // 1/|Seconds|; +Inf where they meet
	Frequency      float64 // of the signal between them (see Frequency); 0 if it has none
}

// ReadCursors returns what the cursors read in samples taken at rate.
func ReadCursors[S Sample](c Cursors, samples []S, rate float64) CursorReading {
	r := CursorReading{ValueA: At(samples, c.A), ValueB: At(samples, c.B), Seconds: (c.B - c.A) / rate}
	r.Rise = r.ValueB - r.ValueA
	r.Hz = math.Abs(1 / r.Seconds)
	r.Frequency, _ = Frequency(samples, rate, View{min(c.A, c.B), math.Abs(c.B - c.A)})
	return r
}

// Frequency returns how often a second the signal of a view, taken at rate, comes
// up through the middle between its lowest and highest value, and false if it
// does so less than twice. The signal must fall below the middle by a quarter of
// the way to its lowest value in between, so that noise and overtones do not
// count. From the first crossing to the last, it is exact to 1e-4 of a sample.
func Frequency[S Sample](samples []S, rate float64, v View) (hz float64, ok bool) {
	first, last := max(int(math.Ceil(v.First)), 0), min(int(v.First+v.Length), len(samples)-1)
	if first >= last {
		return 0, false
	}
	span := extent(samples, float64(first), float64(last))
	middle := (span.Min + span.Max) / 2
	f := finder[S]{trigger: Trigger{Level: middle, Hysteresis: (span.Max - span.Min) / 8}, samples: samples}
	f.begin(first)
	count, from, to := 0, stretch{}, stretch{}
	for f.next(last) {
		if count == 0 {
			from = f.found
		}
		to = f.found
		count++
	}
	if count < 2 {
		return 0, false
	}
	return float64(count-1) * rate / (f.place(to) - f.place(from)), true
}
