package scope

import "math"

// Mode is what a Sweep shows while the trigger does not fire.
type Mode int

// The modes.
const (
	Auto   Mode = iota // the newest signal, running free
	Normal             // the picture that stands
	Single             // one picture; then nothing until Arm
)

// String returns the mode's name.
func (m Mode) String() string { return [...]string{"auto", "normal", "single"}[m] }

// State is what a Shot is.
type State int

// The states.
const (
	Fired    State = iota // a new picture, which stands at the trigger
	Standing              // nothing new: what was shown before stays
	Free                  // the newest signal, without a trigger
)

// SweepSettings tell where the pictures of a Sweep begin. Lengths are in samples. The
// zero value fires at every rise through 0 of channel 0.
type SweepSettings struct {
	Trigger
	Source   int     // index of the channel that is watched; the caller hands it to Next
	Mode     Mode    // Auto, Normal or Single
	HoldOff  float64 // after it has fired, the trigger stays silent so long
	OnEvents bool    // fire at the events given to Next (starts of notes, passes of the memory), not at a level
	Before   float64 // where in the picture the trigger stands: 0 left, 1 right
	Patience float64 // for so long Auto waits before it runs free; 0: two pictures, 4800 samples at least
}

// Sweep finds the pictures of a signal that is read again and again while it
// goes on. The zero value is ready; it never allocates. One goroutine uses it.
type Sweep struct {
	SweepSettings
	used    SweepSettings // with which it last looked
	length  float64
	looking bool    // it has looked before, without a gap since
	looked  int64   // clock of the next sample to be looked at
	armed   bool    // the signal has been beyond the hysteresis
	node    node    // visited last, on the clock
	fired   float64 // clock of the last time it fired
	ever    bool    // it has fired since Arm
	shown   float64 // clock of the picture's last sample
}

// Shot is what Next found. Who may have to show it for longer than the samples
// last, keeps them (see Keep).
type Shot struct {
	State State
	View  View    // of the samples given to Next; not set when Standing
	At    float64 // clock at which the trigger fired, last
}

// Arm lets a Single sweep wait for its next picture, and forgets what has fired.
func (s *Sweep) Arm() { s.looking, s.ever = false, false }

// Done reports whether a Single sweep has taken its picture.
func (s *Sweep) Done() bool { return s.Mode == Single && s.ever }

// Next looks for the newest picture of so many samples' length in samples, the
// newest of the source, whose last one stands just before the clock end. A
// picture is taken only once the signal has come to its right edge, and, so that
// it stands still to a thousandth of a sample, 20 samples beyond the trigger.
// events are clocks, in rising order; only OnEvents needs them.
func (s *Sweep) Next(samples []float64, end int64, length float64, events []int64) Shot {
	return sweep(s, samples, end, length, events)
}

// Next32 is Next for the samples of a tap.
func (s *Sweep) Next32(samples []float32, end int64, length float64, events []int64) Shot {
	return sweep(s, samples, end, length, events)
}

func sweep[S Sample](s *Sweep, samples []S, end int64, length float64, events []int64) Shot {
	if s.SweepSettings != s.used || length != s.length {
		s.used, s.length, s.looking = s.SweepSettings, length, false
		s.ever = s.Done() // what fired before may fire again, now that it is seen otherwise
	}
	if s.Done() {
		return Shot{State: Standing, At: s.fired}
	}
	first := end - int64(len(samples))
	before := s.Before * length
	low := float64(first) + max(before, 0)
	high := float64(end-1) - max(length-before, sincSide)
	found, at := false, 0.0
	if s.OnEvents {
		found, at = s.event(events, low, high)
	} else {
		found, at = crossing(s, samples, first, low, high)
	}
	switch {
	case found:
		s.shown = at - before + length
		return Shot{Fired, View{at - before - float64(first), length}, at}
	case s.Mode != Auto || s.ever && float64(end)-s.shown < s.patience(length) && s.shown <= float64(end):
		return Shot{State: Standing, At: s.fired}
	}
	return Shot{Free, View{max(0, float64(len(samples)-1)-length), length}, s.fired}
}

func (s *Sweep) patience(length float64) float64 {
	if s.Patience > 0 {
		return s.Patience
	}
	return max(2*length, 4800)
}

// fire takes note of a trigger at a clock; it is not taken during the hold-off.
func (s *Sweep) fire(at float64) bool {
	if s.ever && at >= s.fired && at < s.fired+s.HoldOff {
		return false
	}
	s.fired, s.ever = at, true
	return true
}

// event returns the last event, Single the first, at which a picture can be
// taken.
func (s *Sweep) event(events []int64, low, high float64) (found bool, at float64) {
	for _, e := range events {
		if v := float64(e); v < low || v > high || s.ever && v <= s.fired {
			continue
		}
		if s.fire(float64(e)) {
			found, at = true, float64(e)
			if s.Mode == Single {
				break
			}
		}
	}
	return found, at
}

// crossing returns the last crossing, for Single the first, at which a picture
// can be taken. It goes on where it stopped the time before.
func crossing[S Sample](s *Sweep, samples []S, first int64, low, high float64) (found bool, at float64) {
	f := finder[S]{trigger: s.Trigger, samples: samples}
	if s.looking && s.looked > first && s.looked <= first+int64(len(samples)) {
		f.i, f.armed, f.node = int(s.looked-first), s.armed, node{s.node.at - float64(first), s.node.past}
	} else {
		f.begin(0)
	}
	last := int(math.Floor(high - float64(first)))
	lazy := s.HoldOff == 0 && s.Mode != Single // only the last has to be placed
	var newest stretch
	for f.next(last) {
		if f.found.to+float64(first) < low {
			continue
		}
		if lazy {
			newest, found = f.found, true
			continue
		}
		if now := f.place(f.found) + float64(first); now >= low && s.fire(now) {
			found, at = true, now
			if s.Mode == Single {
				break
			}
		}
	}
	if lazy && found {
		at = f.place(newest) + float64(first)
		found = at >= low && s.fire(at)
	}
	s.looking, s.looked, s.armed = true, first+int64(f.i), f.armed
	s.node = node{f.node.at + float64(first), f.node.past}
	return found, at
}
