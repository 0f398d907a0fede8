package vocoder

import (
	"lampblack/patch/dsp/approx"
	"lampblack/patch/dsp/bound"
	"lampblack/patch/dsp/hiss"
)

const (
	treble = 4000  // Hz: where the voice's treble begins
	turns  = 0.005 // time constant in seconds with which it opens and shuts
)

// consonants lets the voice's treble through while the voice hisses.
type consonants struct {
	detector hiss.Detector
	treble   hiss.Split
	turn     float64
	open     float64 // 0 to 1
}

func newConsonants(rate float64) consonants {
	return consonants{
		detector: hiss.New(rate), treble: hiss.NewSplit(treble, rate),
		turn: approx.Charge(1 / float64(turns*rate)),
	}
}

// run fills out with the treble that passes, and open with how far it is open.
func (c *consonants) run(x, out, open []float64) {
	for i, v := range x {
		_, top := c.treble.Next(v)
		aim := 0.0
		if c.detector.Next(v) {
			aim = 1
		}
		c.open += float64(c.turn * (aim - c.open))
		out[i], open[i] = float64(top*c.open), c.open
	}
}

// flush forgets what has vanished.
func (c *consonants) flush() {
	c.detector.Flush()
	c.treble.Flush()
	c.open = bound.Flush(c.open)
}
