package instruments

import (
	"math/bits"

	"lampblack/app/window/instruments/expect"
	"lampblack/patch"
	"lampblack/patch/engine"
	"lampblack/scope"
)

// hearing is what was measured beside a prediction.
type hearing struct {
	meters   map[int]*expect.Meter // by length
	samples  []float32             // that are being measured
	past     []float32             // the newest, up to gathered
	gathered int64                 // a clock
	want     int                   // so many samples would tell all rows apart
	levels   []float32             // of an envelope
	window   []float64             // by which its mean is weighed, see envelope
	kind     scope.Window          // of it
	snap     snapshot
	busy     bool         // it is being measured
	rest     *expect.Rest // what is left beside the rows; nil: not measured yet
	seconds  float64      // over which the rows were measured
	moving   bool         // an envelope was on its way
	since    int64        // the clock from which on the sound is what was asked for
	last     int64        // the clock at the end of what was measured
	sounding moment       // the moment that began at since
}

// The sound is measured over a power of two of samples, so many that lines 3 Hz
// apart are told apart, or where there are nearer ones and the sound stands still
// for so long, 0.3 Hz.
const (
	leastHeard   = 4096
	usuallyHeard = 32768
	mostHeard    = 262144
	settling     = 0.1 // seconds: settings are smoothed in 16 time constants of 5 ms
	measuredIn   = 0.2
)

// listen measures the rows if the sound is what they are for.
func (e *expected) listen(tap *engine.Tap, now moment) {
	m, s := e.t.measure, &e.sound
	end := tap.End()
	if now != s.sounding {
		before := s.sounding
		s.sounding = now
		before.levels = now.levels
		if before != now { // an envelope on its way makes no other sound
			s.since = end
		}
	}
	s.gather(tap, end)
	if now != e.answered || now.levels != "" || s.busy || len(e.rows) == 0 {
		return
	}
	heard := min(end-s.since-int64(settling*m.rate), int64(len(s.past)), int64(max(s.want, usuallyHeard)))
	if heard < leastHeard {
		return
	}
	n := 1 << (bits.Len64(uint64(heard)) - 1)
	// Five times a second; of a long stretch an eighth is new.
	if end-s.last < max(int64(measuredIn*m.rate), int64(n/8)) {
		return
	}
	s.samples = append(s.samples[:0], s.past[len(s.past)-n:]...)
	s.last = end
	e.measure(n)
}

// gather keeps the newest sound: a tap remembers but a second of it.
func (s *hearing) gather(tap *engine.Tap, end int64) {
	news := end - s.gathered
	if s.gathered == 0 || news < 0 || news > engine.TapSamples/2 || s.since > s.gathered {
		s.past, news = s.past[:0], min(end, leastHeard)
	}
	if room := mostHeard - len(s.past); room < int(news) {
		s.past = append(s.past[:0], s.past[int(news)-room:]...)
	}
	from := len(s.past)
	s.past = append(s.past, make([]float32, news)...)
	if !tap.ReadAt(end, s.past[from:]) {
		s.past = s.past[:0]
	}
	s.gathered = end
}

// wants tells how many samples would part the rows that are too near to each other,
// at most as many as are kept.
func wants(rows []expect.Row, rate float64) int {
	needs := 0.0
	for i := range rows {
		if rows[i].Told == expect.TooNear && rows[i].Needs*rate <= mostHeard {
			needs = max(needs, rows[i].Needs)
		}
	}
	return 1 << bits.Len64(uint64(needs*rate))
}

// measure measures the rows in the background.
func (e *expected) measure(n int) {
	m, s := e.t.measure, &e.sound
	if s.meters == nil {
		s.meters = map[int]*expect.Meter{}
	}
	if s.meters[n] == nil {
		s.meters[n] = expect.NewMeter(n, m.rate)
	}
	meter, samples, number := s.meters[n], s.samples, e.number
	free, tied := e.free.copied(), answer{}
	taken, _ := m.spectra[e.of()].Taken()
	expect.ReadBands(free.rows, m.spectra[e.of()], m.rate, m.spectrumTime(taken))
	if e.tied != nil {
		tied = e.tied.copied()
		expect.ReadBands(tied.rows, m.spectra[e.of()], m.rate, m.spectrumTime(taken))
	}
	s.busy = true
	e.t.session.Elsewhere(func() func() {
		rest := meter.Read(free.rows, samples)
		shown, together := free, false
		if len(tied.rows) > 0 {
			if left := meter.Read(tied.rows, samples); tied.agrees() {
				shown, together, rest = tied, true, left
			}
		}
		return func() {
			s.busy = false
			if number != e.number {
				return
			}
			if together != e.together {
				e.together = together
				e.show(shown)
			}
			e.answer = shown
			s.rest, s.seconds, s.moving = &rest, float64(n)/m.rate, false
			s.want = max(s.want, wants(shown.rows, m.rate))
			e.changed()
		}
	})
}

// copied is an answer that can be measured while the other is shown.
func (a *answer) copied() answer {
	return answer{a.is, append([]expect.Row(nil), a.rows...)}
}

// agrees tells whether the sound is as exactly what is claimed as is claimed: only
// then the oscillators can stand as they were taken to stand.
func (a *answer) agrees() bool {
	db, _, lines := expect.Worst(a.rows, a.rows[0].Level-a.is.Down)
	return lines > 0 && db <= a.is.Within
}

// snapshot is the sound over which an envelope that is on its way was averaged: it
// is measured together with the prediction for it.
type snapshot struct {
	meter   *expect.Meter
	samples []float32
}

// snapshot takes the newest spectrum's samples if an envelope is on its way; nil
// if not, or if a note began or ended within them.
func (e *expected) snapshot(tap *engine.Tap, now moment) *snapshot {
	m, s := e.t.measure, &e.sound
	n := m.switches.samples
	before := s.sounding
	before.levels = now.levels
	if now.levels == "" || before != now || tap.End()-s.since < int64(n) {
		return nil
	}
	if s.snap.meter == nil || s.snap.meter.Len() != n {
		s.snap = snapshot{expect.NewMeter(n, m.rate), make([]float32, n)}
	}
	if !tap.ReadAt(tap.End(), s.snap.samples) {
		return nil
	}
	return &s.snap
}

// read measures the rows, if there is what to measure them in.
func (s *snapshot) read(rows []expect.Row) *expect.Rest {
	if s == nil {
		return nil
	}
	rest := s.meter.Read(rows, s.samples)
	return &rest
}

// spectrumTime is over how many seconds so many spectra were taken, at the pace of
// the screen.
func (m *measure) spectrumTime(spectra int) float64 {
	return float64(m.switches.samples)/m.rate + float64(spectra-1)/30
}

// envelope returns where an envelope stands: its mean over the newest spectrum, by
// the weight that the spectrum gives to its samples. moved tells whether it went
// on meanwhile.
func (e *expected) envelope(of patch.Socket, end int64) (mean float64, moved, ok bool) {
	m, s := e.t.measure, &e.sound
	tap := e.t.session.Tap(of)
	if tap == nil {
		return 0, false, false
	}
	n := m.switches.samples
	if len(s.window) != n || s.kind != m.switches.window {
		s.window, s.levels, s.kind = make([]float64, n), make([]float32, n), m.switches.window
		s.kind.Fill(s.window)
	}
	if !tap.ReadAt(min(end, tap.End()), s.levels) {
		return 0, false, false
	}
	weight, low, high := 0.0, s.levels[0], s.levels[0]
	for i, v := range s.levels {
		mean += float64(v) * s.window[i]
		weight += s.window[i]
		low, high = min(low, v), max(high, v)
	}
	return mean / weight, high-low > 1e-4, true
}
