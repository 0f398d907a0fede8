package meter

import "math"

// Quiet is the level below which a signal counts as silence at its start and end,
// in dBFS. It is our own choice.
const Quiet = -60.0

// fullStep is the highest positive sample of a 16-bit file.
const fullStep = 32767. / 32768

// Channel reads the levels of one channel. Make it with NewChannel.
type Channel struct {
	clean   cleaner
	fine    fine
	ppm     ppm
	vu      vu
	rate    float64
	frames  int64
	peak    float64
	true    float64
	recent  float64 // the same since Recent was asked
	square  float64
	sum     float64
	full    int64
	first   int64 // sample that is louder than Quiet, -1 if none
	last    int64
	bent    []float64 // rectified samples at several times the rate
	means   []float64 // of those, one for each sample
	tops    []float64 // the largest of those
	feeding func([][]float64)
}

// ChannelReading is what a Channel shows. Levels are in dBFS, -Inf for silence.
type ChannelReading struct {
	Peak     float64 // largest sample
	TruePeak float64 // largest value between samples too, dBTP (ITU-R BS.1770, annex 2)
	RMS      float64 // -3.01 for a full-scale sine
	Crest    float64 // Peak - RMS, dB: 3.01 for a sine; 0 for silence
	Offset   float64 // mean, re full scale: the part at 0 Hz
	PPM      float64 // peak programme meter, now
	PPMMax   float64 // and at its highest
	VU       float64 // VU needle, now: 0 for a full-scale sine; see function VU
	VUMax    float64 // and at its highest
	Full     int64   // samples at full scale or beyond, counted from 32767/32768 on
	Frames   int64   // samples so far
	Broken   int64   // of them no sound: set to 0
	First    int64   // the first sample above Quiet; Frames if there is none
	After    int64   // the sample after the last one above Quiet; 0 if there is none
}

// NewChannel returns the meters of a channel at a rate of 8,000 to 384,000 Hz.
func NewChannel(rate float64) *Channel {
	mustRate(rate)
	c := &Channel{clean: newCleaner(1), fine: newFine(rate), rate: rate, first: -1}
	c.ppm, c.vu = newPPM(rate, c.steps()), newVU(rate)
	c.bent, c.means, c.tops = make([]float64, block*c.steps()), make([]float64, block), make([]float64, block)
	c.feeding = func(b [][]float64) { c.take(b[0]) }
	return c
}

func mustRate(rate float64) {
	if !(rate >= 8000 && rate <= 384000) {
		panic("meter: the rate must be 8,000 to 384,000 Hz")
	}
}

// steps is how many rectified values PPM and VU get for each sample: half of what
// there is, enough for 0.3 dB at a third of 48 kHz.
func (c *Channel) steps() int { return c.fine.times / 2 }

// Write feeds the next samples.
func (c *Channel) Write(samples []float64) { feed(&c.clean, [][]float64{samples}, c.feeding) }

// Write32 is Write for the samples of a tap.
func (c *Channel) Write32(samples []float32) { feed(&c.clean, [][]float32{samples}, c.feeding) }

// Recent returns the largest value between samples, in dBTP, that came since it was
// asked last: what a needle of true peak follows. Of the last 16 samples only the
// next call knows.
func (c *Channel) Recent() float64 {
	recent := c.recent
	c.recent = 0
	return db(recent)
}

// take reads at most a block of sound.
func (c *Channel) take(samples []float64) {
	c.levels(samples)
	c.recent = c.fine.take(samples, c.recent)
	c.true = max(c.true, c.recent)
	c.bend(len(samples))
	c.fine.next(len(samples))
	c.ppm.take(c.bent, c.tops[:len(samples)])
	c.vu.take(c.means[:len(samples)])
}

func (c *Channel) levels(samples []float64) {
	const quiet = 0.001 // Quiet as a factor
	peak, square, sum := c.peak, c.square, c.sum
	for i, x := range samples {
		m := math.Abs(x)
		sum += x
		square += float64(x * x)
		if m > quiet {
			c.last = c.frames + int64(i)
			if c.first < 0 {
				c.first = c.last
			}
			if m >= fullStep {
				c.full++
			}
		}
		if m > peak {
			peak = m
		}
	}
	c.peak, c.square, c.sum = peak, square, sum
	c.frames += int64(len(samples))
}

// bend rectifies every second phase.
func (c *Channel) bend(n int) {
	p, means, tops := c.fine.phases, c.means[:n], c.tops[:n]
	switch c.steps() {
	case 4:
		p0, p2, p4, p6 := p[0][:n], p[2][:n], p[4][:n], p[6][:n]
		bent := c.bent[:4*n]
		for i := range p0 {
			x0, x1, x2, x3 := abs32(p0[i]), abs32(p2[i]), abs32(p4[i]), abs32(p6[i])
			to := bent[4*i : 4*i+4]
			to[0], to[1], to[2], to[3] = float64(x0), float64(x1), float64(x2), float64(x3)
			means[i] = (float64(x0+x1) + float64(x2+x3)) / 4
			tops[i] = float64(higher(higher(x0, x1), higher(x2, x3)))
		}
	case 2:
		for i := range n {
			x0, x1 := abs32(p[0][i]), abs32(p[2][i])
			c.bent[2*i], c.bent[2*i+1] = float64(x0), float64(x1)
			means[i] = float64(x0+x1) / 2
			tops[i] = float64(higher(x0, x1))
		}
	default:
		for i, x := range p[0] {
			c.bent[i] = float64(abs32(x))
			means[i], tops[i] = c.bent[i], c.bent[i]
		}
	}
}

// higher returns the larger of two magnitudes. Their bits are in the same order as
// they are, and whole numbers are compared without a jump.
func higher(a, b float32) float32 {
	return math.Float32frombits(max(math.Float32bits(a), math.Float32bits(b)))
}

// Reading returns what the meters show. PPM and VU are late by 16 samples.
func (c *Channel) Reading() ChannelReading {
	r := ChannelReading{
		Peak: db(c.peak), TruePeak: db(max(c.peak, c.true, c.fine.rest())),
		PPM: db(c.ppm.now()), PPMMax: db(c.ppm.most()), VU: db(c.vu.now()), VUMax: db(c.vu.most()),
		RMS: math.Inf(-1), Full: c.full, Frames: c.frames, Broken: c.clean.broken, First: c.frames,
	}
	if c.first >= 0 {
		r.First, r.After = c.first, c.last+1
	}
	if c.frames > 0 {
		r.Offset = c.sum / float64(c.frames)
		r.RMS = powerDB(c.square / float64(c.frames))
	}
	if c.square > 0 {
		r.Crest = r.Peak - r.RMS
	}
	return r
}
