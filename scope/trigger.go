package scope

// Trigger says where a picture of a signal begins: at a crossing of a level, so
// that a repeating signal stands still. The zero value fires at every rise
// through 0.
type Trigger struct {
	Level      float64
	Hysteresis float64 // how far below (when falling: above) the level the signal must have been before; >= 0
	Falling    bool    // fire when the signal falls through the level instead
}

// Find returns the place, in samples, of the last crossing in samples at or
// between from and to (0 to len(samples)-1). The signal is taken to be
// band-limited: a crossing lies between two samples, also where the signal
// reaches the level only between them, and its place is exact to 1e-4 of a
// sample for steep crossings of tones up to 0.375 of the rate (18 kHz at 48 kHz).
func Find[S Sample](t Trigger, samples []S, from, to float64) (at float64, ok bool) {
	if len(samples) == 0 {
		return 0, false
	}
	// What lies before a short stretch matters only if nothing fires in it.
	for back := 512; ; back *= 4 {
		first := max(min(int(to), len(samples)-1)-back, 0)
		f := finder[S]{trigger: t, samples: samples}
		f.begin(first)
		if s, ok := f.last(from, to); ok {
			return f.place(s), true
		}
		if first == 0 {
			return 0, false
		}
	}
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
