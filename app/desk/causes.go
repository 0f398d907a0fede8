package desk

import (
	"math"

	"lampblack/patch"
	"lampblack/scope/predict"
)

// Cause is what one cord does to a control. All values are on the control's
// scale, in the unit in which it is written.
type Cause struct {
	Cord patch.Cord

	Least, Most float64 // how far it alone moves the control at the full swing of its signal
	Known       bool    // the full swing follows from the patch; otherwise it is what such an output is meant for
	Worked      bool    // Least and Most have been worked out

	DidLeast, DidMost float64 // how far it alone did move the control
	Low, High         float64 // the signal's lowest and highest value meanwhile
	Did               bool    // something has been measured
	Share             float64 // of the movement, 0 to 1; NaN while nothing moves
}

// Causes follows which cords move a control: what each of them does at full
// swing, as the patch tells, and what it did in fact, measured at its source
// since Causes was made or the swept ranges were begun again. Of a source that is
// there once for every voice the one counts that was started last. Call Read at
// the screen's speed while it is seen, and let it go when it is not: it holds
// nothing that has to be closed.
type Causes struct {
	session *Session
	at      patch.Socket
	cords   []patch.Cord
	scale   patch.Scale
	setting float64
	list    []Cause
	reach   map[patch.Socket]*reach
	sweeps  int
	asked   int // number of the last question for full swings
	buffer  []float32
}

// reach is how far a signal has gone.
type reach struct {
	next      int64 // the engine's clock up to which it has been looked at, -1 before
	low, high float64
}

// longestLook is how many samples a reading looks at, at most.
const longestLook = 16384

// NewCauses begins to follow a control.
func (s *Session) NewCauses(at patch.Socket) *Causes {
	return &Causes{session: s, at: at, sweeps: s.sweeps, reach: map[patch.Socket]*reach{}, buffer: make([]float32, longestLook)}
}

// At returns the control that is followed.
func (c *Causes) At() patch.Socket { return c.at }

// List returns the cords into the control, in the order in which they were
// joined. It is to be read only, and holds until the next Read.
func (c *Causes) List() []Cause { return c.list }

// Read takes what has come since the last reading; it reports whether the list
// has changed.
func (c *Causes) Read() (changed bool) {
	changed = c.follow()
	if c.sweeps != c.session.sweeps {
		c.sweeps = c.session.sweeps
		clear(c.reach)
		changed = true
	}
	for i := range c.list {
		if c.listen(c.list[i].Cord.From) {
			changed = true
		}
	}
	if changed {
		c.measure()
	}
	return changed
}

// follow takes up what has changed in the patch.
func (c *Causes) follow() bool {
	k := c.session.Kind(c.at.Module)
	if k == nil || k.Control(c.at.Name) == nil {
		was := len(c.list)
		c.list, c.cords = nil, nil
		return was > 0
	}
	set, _ := c.session.Setting(c.at.Module, c.at.Name)
	spec := k.Control(c.at.Name)
	scale := spec.Scales[max(spec.Scale(set.Unit), 0)]
	cords := c.session.cordsInto(c.at)
	if set.Value == c.setting && scale.Unit == c.scale.Unit && sameCords(cords, c.cords) {
		return false
	}
	c.setting, c.scale, c.cords = set.Value, scale, cords
	c.list = make([]Cause, len(cords))
	for i := range cords {
		c.list[i] = Cause{Cord: cords[i], Share: math.NaN()}
	}
	c.work()
	return true
}

func sameCords(a, b []patch.Cord) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i].From != b[i].From || a[i].Depth.Value != b[i].Depth.Value || a[i].Depth.Unit != b[i].Depth.Unit {
			return false
		}
	}
	return true
}

// work has the full swings worked out, outside: of a patch of many sources it
// takes long.
func (c *Causes) work() {
	c.asked++
	asked, p := c.asked, c.session.Patch().Clone()
	rate := float64(c.session.rate)
	low, high, tuned := c.session.pitches()
	c.session.background(func() (func(), error) {
		moves, err := predict.MovesOf(p, c.at, predict.Conditions{Rate: rate, Velocity: 0.8, Held: true, AnyPhase: true})
		if err == nil && tuned {
			played(&moves, p, c.at, low, high)
		}
		return func() {
			if err != nil || asked != c.asked || len(moves.Cords) != len(c.list) {
				return // another question has been asked meanwhile
			}
			for i, m := range moves.Cords {
				l := &c.list[i]
				l.Least, l.Most, l.Known, l.Worked = m.Least, m.Most, m.Known, true
			}
		}, nil
	}, AtSheet)
}

// pitches returns the lowest and the highest pitch in the memory; false if it has
// no notes.
func (s *Session) pitches() (low, high float64, ok bool) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, n := range s.bench.Memory.Notes {
		if !n.Rest {
			low, high = min(low, n.Pitch), max(high, n.Pitch)
		}
	}
	return low, high, low <= high
}

// played takes the notes of the memory for how far its pitch swings.
func played(moves *predict.Moves, p patch.Patch, at patch.Socket, low, high float64) {
	tune, err := predict.MovesIn(p, at, func(patch.Socket) (float64, float64, bool) { return low, high, true })
	if err != nil || len(tune.Cords) != len(moves.Cords) {
		return
	}
	for i, c := range moves.Cords {
		if m := p.Module(c.Cord.From.Module); m != nil && m.Kind == "memory" && c.Cord.From.Name == "pitch" {
			moves.Cords[i] = tune.Cords[i]
		}
	}
}

// listen reads the tap of an output; it reports whether its reach has grown.
func (c *Causes) listen(from patch.Socket) (grown bool) {
	t := c.session.Tap(from)
	if t == nil {
		return false
	}
	r := c.reach[from]
	if r == nil {
		r = &reach{next: -1, low: math.Inf(1), high: math.Inf(-1)}
		c.reach[from] = r
	}
	end := t.End()
	if end == 0 {
		return false // the tap has heard nothing yet
	}
	if r.next < 0 {
		r.next = end - 1 // what stands there now is the first thing that is known of it
	}
	n := min(end-r.next, longestLook)
	if n <= 0 || !t.ReadAt(end, c.buffer[:n]) {
		return false
	}
	r.next = end
	for _, v := range c.buffer[:n] {
		if x := float64(v); x < r.low || x > r.high {
			r.low, r.high, grown = min(r.low, x), max(r.high, x), true
		}
	}
	return grown
}

// measure works out what every cord did, and its share.
func (c *Causes) measure() {
	moves, err := predict.MovesIn(*c.session.Patch(), c.at, func(from patch.Socket) (low, high float64, known bool) {
		if r := c.reach[from]; r != nil && r.high >= r.low {
			return r.low, r.high, true
		}
		return 0, 0, false
	})
	if err != nil || len(moves.Cords) != len(c.list) {
		return
	}
	sum := 0.0
	for _, m := range moves.Cords {
		if m.Known {
			sum += m.Part
		}
	}
	for i, m := range moves.Cords {
		l := &c.list[i]
		l.DidLeast, l.DidMost, l.Low, l.High, l.Did = m.Least, m.Most, m.From, m.To, m.Known
		l.Share = math.NaN()
		if m.Known && sum > 0 {
			l.Share = m.Part / sum
		}
	}
}
