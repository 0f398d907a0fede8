package instruments

import (
	"math"
	"slices"

	"lampblack/app/desk"
	"lampblack/patch/engine"
	"lampblack/scope"
)

// The two channels, in the order of desk.ProbeID.
const channels = 2

// spectrumSamples is how many samples a spectrum takes: at 48 kHz its bins are
// 5.9 Hz apart, and a Blackman-Harris line is 47 Hz wide at its foot.
const spectrumSamples = 8192

// lobe is how many bins a line's foot reaches to either side: one that is nearer
// to 0 Hz runs into its own mirror image, and can't be read.
//
// Source: F. J. Harris, Proc. IEEE 66(1), 1978: a sum of four cosine terms has its
// first zeros four bins from the middle.
const lobe = 4

// measure reads the probes and holds what the pictures are drawn from. It
// knows no toolkit. One goroutine uses it.
type measure struct {
	rate      float64
	switches  switches
	samples   [channels][]float32 // over the same time
	connected [channels]bool
	view      scope.View
	triggered bool
	spectra   [channels]*scope.Spectrum
	peaks     [channels][]scope.Peak
	meters    [channels]*scope.Meter
	end       [channels]int64 // clock up to which the meter has read
	shownEnd  int64
	news      []float32
	columns   []float64
}

// switches are the settings of the instruments.
type switches struct {
	time    float64           // seconds a division, 10 divisions
	value   [channels]float64 // units a division, 8 divisions
	source  int               // the channel that triggers
	level   float64
	falling bool
	frozen  bool
	span    float64 // of the spectrum, dB down from full scale
	linear  bool    // frequency axis
}

func newMeasure(rate int) *measure {
	m := &measure{rate: float64(rate), news: make([]float32, engine.TapSamples/2)}
	m.switches = switches{time: 5e-3, value: [channels]float64{0.25, 0.25}, span: 120}
	for i := range m.spectra {
		m.spectra[i] = scope.NewSpectrum(spectrumSamples, scope.BlackmanHarris)
		m.meters[i] = scope.NewMeter(float64(rate))
		m.peaks[i] = make([]scope.Peak, 0, 1)
	}
	return m
}

// window returns how many samples a picture needs: its ten divisions, and as
// many again to find the crossing in.
func (m *measure) window() int {
	n := int(math.Ceil(m.switches.time*10*m.rate))*2 + 64
	return min(max(n, spectrumSamples), engine.TapSamples/2)
}

// read takes the newest signal at both probes and reports whether there is
// anything new to draw.
func (m *measure) read(s *desk.Session) bool {
	taps := [channels]*engine.Tap{}
	changed := false
	for i := range taps {
		taps[i] = s.Tap(s.Probe(desk.ProbeID(i)))
		if (taps[i] != nil) != m.connected[i] {
			m.connected[i] = taps[i] != nil
			m.meters[i].Reset()
			m.end[i] = -1
			changed = true
		}
		if taps[i] != nil {
			m.meter(i, taps[i])
		}
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

// newest returns the clock up to which every connected probe can be read.
func newest(taps [channels]*engine.Tap) int64 {
	end := int64(-1)
	for _, t := range taps {
		if t != nil && (end < 0 || t.End() < end) {
			end = t.End()
		}
	}
	return end
}

// take reads both probes up to end, and reports whether the signals differ
// from those that are shown.
func (m *measure) take(taps [channels]*engine.Tap, end int64) bool {
	n, differs := m.window(), false
	for i, t := range taps {
		now := m.news[:n]
		if t == nil || !t.ReadAt(end, now) {
			clear(now)
		}
		if slices.Equal(now, m.samples[i]) {
			continue
		}
		differs = true
		m.samples[i] = append(m.samples[i][:0], now...)
		m.spectra[i].Transform32(now[n-spectrumSamples:])
		m.peaks[i] = m.spectra[i].Peaks(m.peaks[i][:1], m.rate, -m.switches.span)
	}
	m.align()
	return differs
}

// align finds the crossing at which the picture begins.
func (m *measure) align() {
	source := m.samples[m.switches.source]
	t := scope.Trigger{Level: m.switches.level, Falling: m.switches.falling, Hysteresis: m.switches.value[m.switches.source] / 10}
	length := m.switches.time * 10 * m.rate
	m.view, m.triggered = scope.Align(t, source, length, 0)
}

// meter feeds what has come since the last reading.
func (m *measure) meter(i int, t *engine.Tap) {
	end := t.End()
	n := min(end-m.end[i], int64(len(m.news)))
	if m.end[i] >= 0 && n > 0 && t.ReadAt(end, m.news[:n]) {
		m.meters[i].Write32(m.news[:n])
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
