package meter

import (
	"runtime"
	"sync"
	"sync/atomic"
)

// Meters are all meters on one signal. Make it with New.
type Meters struct {
	clean       cleaner
	each        []*Channel
	loudness    *Loudness
	correlation *Correlation // nil unless there are two channels
	tone        *Tone
	envelope    *Envelope
	parts       []func([][]float64)
	feeding     func([][]float64)
}

// Reading is what Meters show of everything so far.
type Reading struct {
	Frames      int64 // samples of one channel
	Channels    []ChannelReading
	Loudness    LoudnessReading
	Correlation *CorrelationReading // nil unless there are two channels
	Tone        ToneReading         // the strongest
	Envelope    EnvelopeReading
	First       int64 // the first sample above Quiet in any channel; Frames if there is none
	After       int64 // the sample after the last one above Quiet; 0 if there is none
}

// New returns all meters for channels that count as the weights say in the
// loudness, at 8,000 to 384,000 Hz; see Weights.
func New(rate float64, weights []float64) *Meters {
	n := len(weights)
	m := &Meters{
		clean: newCleaner(n), loudness: NewLoudness(rate, weights),
		tone: NewTone(rate, n), envelope: NewEnvelope(rate, n),
	}
	m.tone.strongest = true
	// The longest work first, so that the last to be taken is short.
	m.parts = append(m.parts, m.envelope.take, m.tone.take)
	for i := range n {
		c := NewChannel(rate)
		m.each = append(m.each, c)
		m.parts = append(m.parts, func(b [][]float64) { c.take(b[i]) })
	}
	m.parts = append(m.parts, m.loudness.take)
	if n == 2 {
		m.correlation = NewCorrelation(rate)
		m.parts = append(m.parts, m.correlation.take)
	}
	m.feeding = func(b [][]float64) {
		for _, take := range m.parts {
			take(b)
		}
	}
	return m
}

// Write feeds the next samples of all channels, equally many of each.
func (m *Meters) Write(channels [][]float64) { write(m, channels) }

// Write32 is Write for the samples of taps.
func (m *Meters) Write32(channels [][]float32) { write(m, channels) }

func write[S float32 | float64](m *Meters, channels [][]S) {
	for i, c := range m.each {
		for _, s := range channels[i] {
			if !sound(float64(s)) {
				c.clean.broken++
			}
		}
	}
	feed(&m.clean, channels, m.feeding)
}

// WriteAtOnce is Write for a long stretch: the meters run side by side on the
// processor's cores. Unlike Write it allocates. The readings are the same.
func (m *Meters) WriteAtOnce(channels [][]float64) {
	for _, ch := range channels {
		if !isClean(ch) || len(ch) != len(channels[0]) || len(channels) != len(m.each) {
			m.Write(channels) // it counts, or complains
			return
		}
	}
	var next atomic.Int64
	var all sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(m.parts)) {
		all.Go(func() {
			b := make([][]float64, len(channels))
			for i := next.Add(1) - 1; i < int64(len(m.parts)); i = next.Add(1) - 1 {
				inBlocks(b, channels, m.parts[i])
			}
		})
	}
	all.Wait()
}

// inBlocks gives channels to take, block by block.
func inBlocks(b, channels [][]float64, take func([][]float64)) {
	for at, n := 0, len(channels[0]); at < n; at += block {
		for c, ch := range channels {
			b[c] = ch[at:min(at+block, n)]
		}
		take(b)
	}
}

// Live returns the meters that move while the sound plays, one for each channel,
// and the loudness; without allocating.
func (m *Meters) Live(dst []ChannelReading) ([]ChannelReading, LoudnessReading) {
	dst = dst[:0]
	for _, c := range m.each {
		dst = append(dst, c.Reading())
	}
	return dst, m.loudness.Reading()
}

// Reading returns what all meters show.
func (m *Meters) Reading() Reading {
	r := Reading{Tone: m.tone.Strongest(), Envelope: m.envelope.Reading()}
	r.Channels, r.Loudness = m.Live(nil)
	r.Frames = r.Channels[0].Frames
	r.First = r.Frames
	for _, c := range r.Channels {
		r.First, r.After = min(r.First, c.First), max(r.After, c.After)
	}
	if m.correlation != nil {
		c := m.correlation.Reading()
		r.Correlation = &c
	}
	return r
}
