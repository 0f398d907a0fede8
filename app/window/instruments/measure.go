package instruments

import (
	"math"
	"slices"

	"lampblack/app/desk"
	"lampblack/patch"
	"lampblack/patch/engine"
	"lampblack/scope"
)

// The two channels, in the order of desk.ProbeID.
const channels = 2

// inputs are the channels, and the starts of notes.
const inputs = channels + 1

// peaksRead is how many lines of each spectrum are read.
const peaksRead = 4

// measure reads the probes and holds what the pictures are drawn from. It
// knows no toolkit. One goroutine uses it.
type measure struct {
	rate      float64
	switches  switches
	samples   [inputs][]float32      // that the scope shows, over the same time
	fresh     [inputs][]float32      // the newest
	at        [channels]patch.Socket // where the probes are
	connected [inputs]bool
	passes    []int64      // the clock at which the newest pass of the memory began, if there is one
	still     [inputs]bool // nothing but one value, for two readings
	sweep     scope.Sweep
	view      scope.View
	zero      float64 // where the trigger stands, in samples
	triggered bool
	waiting   bool  // the picture that stands is not the newest signal
	shot      int64 // counts pictures
	strips    [channels]*scope.Strip
	spectra   [channels]*scope.Spectrum
	peaks     [channels][]scope.Peak
	meters    [channels]*scope.Meter
	kept      [channels]scope.Kept
	hasKept   [channels]bool
	cursors   [2]float64      // fractions of the picture's width
	end       [channels]int64 // clock up to which the meter has read
	shownEnd  int64
	news      []float32
	gram      *spectrogram
	holdFrom  int64   // counts how often the held levels were begun anew
	stripStep float64 // samples a column
	stripNow  []scope.Column
}

func newMeasure(rate int) *measure {
	m := &measure{rate: float64(rate), news: make([]float32, engine.TapSamples/2), switches: usual(), cursors: [2]float64{0.25, 0.75}, passes: make([]int64, 0, 1)}
	for i := range m.meters {
		m.meters[i] = scope.NewMeter(float64(rate))
		m.peaks[i] = make([]scope.Peak, 0, peaksRead)
	}
	for i := range m.samples {
		m.samples[i] = make([]float32, 0, engine.TapSamples/2)
		m.fresh[i] = make([]float32, 0, engine.TapSamples/2)
	}
	m.gram = newSpectrogram(m)
	m.settle()
	return m
}

// settle makes the workspaces that the switches ask for.
func (m *measure) settle() {
	w := &m.switches
	for i := range m.spectra {
		if s := m.spectra[i]; s == nil || s.Len() != w.samples || s.Window() != w.window {
			m.spectra[i] = scope.NewSpectrum(w.samples, w.window)
			m.spectra[i].Average(w.average)
		}
		if _, of := m.spectra[i].Taken(); of != w.average {
			m.spectra[i].Average(w.average)
		}
	}
	m.settleStrips()
	m.sweep.SweepSettings = scope.SweepSettings{
		Trigger: w.trigger(), Source: w.source, Mode: w.mode, OnEvents: w.source == onPasses, HoldOff: w.holdOff * m.rate, Before: w.before,
	}
}

// length is how many samples a picture of the scope shows.
func (m *measure) length() float64 { return min(m.switches.time, longestShot) * 10 * m.rate }

// window returns how many samples are read: ten divisions, and as many again to
// find the crossing in.
func (m *measure) window() int {
	n := int(math.Ceil(m.length()))*2 + 64
	return min(max(n, m.switches.samples), engine.TapSamples/2)
}

// read takes the newest signal at both probes and reports whether there is
// anything new to draw.
func (m *measure) read(s *desk.Session) bool {
	taps := [inputs]*engine.Tap{}
	changed := false
	for i := range channels {
		at := s.Probe(desk.ProbeID(i))
		taps[i] = s.Tap(at)
		if (taps[i] != nil) != m.connected[i] || at != m.at[i] {
			m.connected[i], m.at[i] = taps[i] != nil, at
			m.restart(i)
			changed = true
		}
		if taps[i] != nil {
			m.meter(i, taps[i])
		}
	}
	if m.switches.source == onNotes {
		taps[onNotes] = s.Tap(noteStarts(s.Patch()))
	}
	m.connected[onNotes] = taps[onNotes] != nil
	m.passes = m.passes[:0]
	if clock, ok := s.PassBegan(); ok {
		m.passes = append(m.passes, clock)
	}
	if m.switches.frozen {
		return changed
	}
	end := newest(taps)
	if end == m.shownEnd && !changed {
		return false
	}
	m.shownEnd = end
	return m.take(taps, end) || changed
}

// restart forgets what was measured of a channel whose probe was moved.
func (m *measure) restart(i int) {
	m.meters[i].Reset()
	m.end[i] = -1
	m.spectra[i].Reset()
	m.holdFrom++
	if i == m.switches.gramOf {
		m.gram.next = -1
	}
	if m.strips[i] != nil {
		m.strips[i].Reset()
	}
}

// noteStarts returns the output of the first memory module that tells where
// notes start, the zero Socket if there is none.
func noteStarts(p *patch.Patch) patch.Socket {
	for i := range p.Modules {
		if p.Modules[i].Kind == "memory" {
			return patch.Socket{Module: p.Modules[i].Name, Name: "trigger"}
		}
	}
	return patch.Socket{}
}

// newest returns the clock up to which every connected probe can be read.
func newest(taps [inputs]*engine.Tap) int64 {
	end := int64(-1)
	for _, t := range taps {
		if t != nil && (end < 0 || t.End() < end) {
			end = t.End()
		}
	}
	return end
}

// take reads both probes up to end, and reports whether there is anything to be
// drawn anew.
func (m *measure) take(taps [inputs]*engine.Tap, end int64) bool {
	n, moves := m.window(), false
	for i, t := range taps {
		now := m.fresh[i][:n]
		m.fresh[i] = now
		if t == nil || !t.ReadAt(end, now) {
			clear(now)
		}
		still := len(m.samples[i]) == n && isStill(now) && m.samples[i][0] == now[0]
		if still && m.still[i] && m.switches.average == 1 {
			continue
		}
		m.still[i] = still
		moves = true
		if i < channels {
			m.spectra[i].Transform32(now[n-m.switches.samples:])
			m.peaks[i] = m.spectra[i].Peaks(m.peaks[i][:peaksRead], m.rate, -m.switches.span)
		}
	}
	if moves || m.sweep.Mode != scope.Auto {
		m.shoot(end)
	}
	return moves || m.switches.rolls()
}

// isStill tells whether all samples are the same.
func isStill(samples []float32) bool {
	for _, v := range samples {
		if v != samples[0] {
			return false
		}
	}
	return true
}

// shoot looks for a picture in what was read, and keeps the one that is shown
// where there is no new one.
func (m *measure) shoot(end int64) {
	shot := m.sweep.Next32(m.fresh[min(m.switches.source, onNotes)], end, m.length(), m.passes)
	m.triggered = shot.State != scope.Free
	m.waiting = shot.State == scope.Standing && m.switches.mode == scope.Normal
	if shot.State == scope.Standing {
		m.reframe()
		return
	}
	m.samples, m.fresh = m.fresh, m.samples
	m.view, m.shot = shot.View, m.shot+1
	m.zero = m.view.First + m.switches.before*m.view.Length
}

// reframe lays the picture round the trigger that is shown, as wide as it now
// is.
func (m *measure) reframe() {
	length := m.length()
	m.view = scope.View{First: m.zero - m.switches.before*length, Length: length}
}

// align finds the crossing at which the picture begins in the samples that are
// shown.
func (m *measure) align() {
	if m.switches.mode != scope.Auto || m.switches.source == onPasses { // which one fired is not known any more
		m.reframe()
		return
	}
	m.view, m.triggered = scope.Align(m.switches.trigger(), m.samples[m.switches.source], m.length(), m.switches.before)
	m.zero = m.view.First + m.switches.before*m.view.Length
}

// meter feeds what has come since the last reading.
func (m *measure) meter(i int, t *engine.Tap) {
	end := t.End()
	n := min(end-m.end[i], int64(len(m.news)))
	if m.end[i] >= 0 && n > 0 && t.ReadAt(end, m.news[:n]) {
		m.meters[i].Write32(m.news[:n])
		if m.strips[i] != nil && !m.switches.frozen {
			m.strips[i].Write32(m.news[:n])
		}
	}
	if !m.switches.frozen && i == m.switches.gramOf {
		m.gram.feed(t, end)
	}
	m.end[i] = end
}

// axis returns the frequency axis of the spectrum.
func (m *measure) axis() scope.Axis {
	if m.switches.linear {
		return scope.Axis{Low: 0, High: min(20000, m.rate/2)}
	}
	return scope.Axis{Low: 20, High: min(20000, m.rate/2), Logarithmic: true}
}

// keep lays the present picture under later ones; drop takes it away.
func (m *measure) keep() {
	for i, name := range []string{"A", "B"} {
		m.hasKept[i] = m.connected[i] && len(m.samples[i]) > 0
		if m.hasKept[i] {
			m.kept[i] = scope.Keep(name, "", m.samples[i], m.rate, m.view, m.zero)
		}
	}
}

func (m *measure) drop() { m.hasKept = [channels]bool{} }

// holds tells whether there is a kept trace.
func (m *measure) holds() bool { return slices.Contains(m.hasKept[:], true) }

// readCursors returns what the cursors read of the channel that they are on.
func (m *measure) readCursors() (r scope.CursorReading, ok bool) {
	i := m.switches.cursors - 1
	if i < 0 || !m.connected[i] || len(m.samples[i]) == 0 {
		return r, false
	}
	if m.switches.rolls() {
		r.Seconds = (m.cursors[1] - m.cursors[0]) * m.switches.time * 10
		r.Hz = math.Abs(1 / r.Seconds)
		return r, true
	}
	at := func(k int) float64 { return m.view.First + m.cursors[k]*m.view.Length }
	return scope.ReadCursors(scope.Cursors{A: at(0), B: at(1)}, m.samples[i], m.rate), true
}

// lowest is the lowest frequency, in Hz, that can be read in a spectrum: the foot
// of a line that is nearer to 0 Hz runs into its own mirror image.
//
// Source: F. J. Harris, Proc. IEEE 66(1), 1978: a sum of four cosine terms has its
// first zeros four bins from the middle.
func (m *measure) lowest(i int) float64 {
	return m.spectra[i].Hz(float64(m.switches.window.Lobe()), m.rate)
}
