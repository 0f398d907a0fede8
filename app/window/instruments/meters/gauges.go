package meters

import (
	"math"

	"lampblack/scope/meter"
)

// chunk is how finely the needles follow the signal: 100 times a second.
const chunk = 100

// entriesEachSecond is how often the loudness is written down: Tech 3341 asks for 10
// readings a second at least.
const entriesEachSecond = 10

// entriesKept is how many are remembered: an hour.
const entriesKept = 3600 * entriesEachSecond

// refresh is for how long, in s, an envelope gathers before the other takes over;
// the one that is read has gathered for that long to twice as long.
const refresh = 3.4

// peakFall is how fast the needle of true peak falls, in dB/s: 20 dB in 1.7 s.
// Source: IEC 60268-18:1995 (from memory).
const peakFall = 20 / 1.7

// entry is the loudness at a moment, in LUFS.
type entry struct{ momentary, short, integrated float32 }

// side is what is read of one channel. Levels are in dBFS, true peaks in dBTP.
type side struct {
	ppm, ppmMost float64
	vu, vuMost   float64
	peak         float64 // true peak: where the needle is
	held         float64 // the highest for the time of the hold
	heldAt       int64
	peakMost     float64 // since the meters were begun anew
}

// reading is what all meters show. It is a value: what is frozen is a copy.
type reading struct {
	channels    int
	sides       [2]side
	loud        meter.LoudnessReading
	correlation float64
	lowest      float64 // correlation
	related     bool    // both channels are there: the correlation means something
	tone        meter.ToneReading
	envelope    meter.EnvelopeReading
	entries     int64 // of the loudness, all that were ever written down
	frames      int64 // that the needles have read
	measured    int64 // that the loudness has read
	lost        int64 // that nobody could read in time
}

// gauges are the meters on one signal. They know no screen. What is not seen is not
// measured, but for the loudness.
type gauges struct {
	rate        float64
	hold        float64 // s, may be infinite
	paused      bool    // the loudness
	now         reading
	each        []*meter.Channel
	loudness    *meter.Loudness
	correlation *meter.Correlation
	tone        *meter.Tone
	envelopes   [2]*meter.Envelope
	taken       int64 // frames since the envelopes took over
	older       int   // of them, the one that is read
	settling    int   // chunks until true peaks count: a signal that sets in within a filter overshoots
	entries     []entry
}

// newGauges returns gauges that show silence. Before they are fed, tune and begin
// make the meters: whoever never looks at them has none.
func newGauges(rate float64, channels int) *gauges {
	none := math.Inf(-1)
	return &gauges{rate: rate, hold: 3, now: reading{
		channels: channels, sides: [2]side{silent(), silent()}, lowest: 1,
		loud: meter.LoudnessReading{Momentary: none, ShortTerm: none, Integrated: none, MaxMomentary: none, MaxShortTerm: none},
	}}
}

// tune makes the meters that move anew.
func (g *gauges) tune() {
	n := g.now.channels
	g.each = g.each[:0]
	for range n {
		g.each = append(g.each, meter.NewChannel(g.rate))
	}
	g.correlation = nil
	if n == 2 {
		g.correlation = meter.NewCorrelation(g.rate)
	}
	g.tone = meter.NewTone(g.rate, n)
	for i := range g.envelopes {
		g.envelopes[i] = meter.NewEnvelope(g.rate, n)
	}
	g.taken, g.older, g.settling = 0, 0, 1
	g.now.tone, g.now.envelope = meter.ToneReading{}, meter.EnvelopeReading{}
	g.now.related, g.now.correlation, g.now.lowest = false, 0, 1
	for i := range g.now.sides {
		g.now.sides[i] = silent()
	}
}

// silent is a side of which nothing was heard.
func silent() side {
	none := math.Inf(-1)
	return side{ppm: none, ppmMost: none, vu: none, vuMost: none, peak: none, held: none, peakMost: none}
}

// skip tells that frames were lost. What overshoots at the seam does not count.
func (g *gauges) skip(frames int64) {
	g.now.lost += frames
	g.settling = 1
}

// begin begins the loudness anew.
func (g *gauges) begin() {
	g.loudness = meter.NewLoudness(g.rate, meter.Weights(g.now.channels))
	g.entries, g.now.entries = g.entries[:0], 0
	g.now.loud, g.now.measured, g.now.lost = g.loudness.Reading(), 0, 0
}

// feed gives the meters the next frames: at most a chunk, which ends where the
// loudness is written down. Only the loudness follows what is not seen.
func (g *gauges) feed(channels [][]float32, seen bool) {
	if !g.paused {
		g.loudness.Write32(channels)
		g.now.measured += int64(len(channels[0]))
		if g.now.measured%int64(g.rate/entriesEachSecond) == 0 {
			g.writeDown()
		}
	}
	if seen {
		g.follow(channels)
	}
}

// next returns how many of n frames make the next chunk.
func (g *gauges) next(n int64) int {
	period := int64(g.rate / entriesEachSecond)
	return int(min(n, int64(g.rate/chunk), period-g.now.measured%period))
}

func (g *gauges) writeDown() {
	g.now.loud = g.loudness.Reading()
	if len(g.entries) == entriesKept {
		g.entries = g.entries[:copy(g.entries, g.entries[entriesKept/10:])]
	}
	g.entries = append(g.entries, entry{
		float32(g.now.loud.Momentary), float32(g.now.loud.ShortTerm), float32(g.now.loud.Integrated),
	})
	g.now.entries++
}

// follow moves what moves with the signal.
func (g *gauges) follow(channels [][]float32) {
	n := int64(len(channels[0]))
	g.now.frames += n
	for i, c := range g.each {
		c.Write32(channels[i])
		g.move(&g.now.sides[i], c, float64(n)/g.rate)
	}
	if g.settling > 0 {
		g.settling--
	}
	if g.correlation != nil {
		g.correlation.Write32(channels)
		r := g.correlation.Reading()
		g.now.correlation = r.Now
		g.now.related = r.Now != 0 && min(g.now.sides[0].ppm, g.now.sides[1].ppm) > meter.Quiet
		if g.now.related && g.now.frames > int64(g.rate/2) {
			g.now.lowest = min(g.now.lowest, r.Now)
		}
	}
	g.tone.Write32(channels)
	g.now.tone = g.tone.Now()
	for _, e := range g.envelopes {
		e.Write32(channels)
	}
	g.turn(n)
}

// turn lets the envelopes take turns, and reads the older one now and then.
func (g *gauges) turn(n int64) {
	before := g.taken
	g.taken += n
	if each := int64(0.4 * g.rate); before/each != g.taken/each {
		g.now.envelope = g.envelopes[g.older].Reading()
	}
	if float64(g.taken) >= refresh*g.rate {
		g.envelopes[g.older].Forget()
		g.older, g.taken = 1-g.older, 0
	}
}

// move reads the needles of one channel, seconds after the last time.
func (g *gauges) move(s *side, c *meter.Channel, seconds float64) {
	r, recent := c.Reading(), c.Recent()
	s.ppm, s.vu = r.PPM, r.VU
	s.ppmMost, s.vuMost = r.PPMMax, r.VUMax
	if g.settling > 0 {
		return
	}
	s.peak = max(s.peak-float64(peakFall*seconds), recent)
	s.peakMost = max(s.peakMost, recent)
	if recent >= s.held || float64(g.now.frames-s.heldAt) > g.hold*g.rate {
		s.held, s.heldAt = max(recent, s.peak), g.now.frames
	}
}

// newest returns the entries up to one of that number, at most n of them.
func (g *gauges) newest(upTo int64, n int) []entry {
	end := max(len(g.entries)-int(g.now.entries-upTo), 0)
	return g.entries[max(end-n, 0):end]
}
