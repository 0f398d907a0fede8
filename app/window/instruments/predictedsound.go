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
	samples  []float32
	levels   []float32    // of an envelope
	window   []float64    // by which its mean is weighed, see envelope
	kind     scope.Window // of it
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
// apart are told apart, as soon as a change lies settling behind; five times a
// second.
const (
	leastHeard = 4096
	mostHeard  = engine.TapSamples / 2
	settling   = 0.1 // seconds: settings are smoothed in 16 time constants of 5 ms
	measuredIn = 0.2
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
	if now != e.answered || now.levels != "" || s.busy || len(e.rows) == 0 || end-s.last < int64(measuredIn*m.rate) {
		return
	}
	heard := min(end-s.since-int64(settling*m.rate), mostHeard)
	if heard < leastHeard {
		return
	}
	n := 1 << (bits.Len64(uint64(heard)) - 1)
	if cap(s.samples) < n {
		s.samples = make([]float32, mostHeard)
	}
	s.samples = s.samples[:n]
	if tap.ReadAt(end, s.samples) {
		s.last = end
		e.measure(n)
	}
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
	rows := append([]expect.Row(nil), e.rows...)
	taken, _ := m.spectra[e.of()].Taken()
	expect.ReadBands(rows, m.spectra[e.of()], m.rate, m.spectrumTime(taken))
	s.busy = true
	e.t.session.Elsewhere(func() func() {
		rest := meter.Read(rows, samples)
		return func() {
			s.busy = false
			if number != e.number {
				return
			}
			e.rows, s.rest, s.seconds, s.moving = rows, &rest, float64(n)/m.rate, false
			e.changed()
		}
	})
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
