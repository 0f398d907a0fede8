package sound

import (
	"time"

	"lampblack/app/timing"
)

// stream is the chain as a beep.Streamer: it never ends, and ends in 16-bit
// words with dither, because that is what the speaker plays.
type stream struct {
	chain       *chain
	timings     *timing.Counts // nil unless somebody measures
	begin       func()         // called once, from the sound thread; may be nil
	dither      dither
	left, right [maxChainBlock]float64
}

// Stream fills samples. It is called from the sound thread.
func (s *stream) Stream(samples [][2]float64) (int, bool) {
	if s.begin != nil {
		s.begin()
		s.begin = nil
	}
	if s.timings != nil {
		began := time.Now()
		defer func() {
			took := time.Since(began)
			s.timings.Block(len(samples), int(s.chain.rate), took, took, true)
		}()
	}
	for done := 0; done < len(samples); {
		n := min(len(samples)-done, maxChainBlock)
		s.chain.Process(s.left[:n], s.right[:n])
		for i := range n {
			samples[done+i] = [2]float64{s.dither.forSpeaker(s.left[i]), s.dither.forSpeaker(s.right[i])}
		}
		done += n
	}
	return len(samples), true
}

// Err returns nil: a chain has no way to fail.
func (s *stream) Err() error { return nil }
