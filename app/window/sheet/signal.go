package sheet

import (
	"iter"
	"math"
	"slices"

	"lampblack/app/window/look"
	"lampblack/patch"
)

// source is a live signal; *engine.Tap is one.
type source interface {
	End() int64
	Read(dst []float32) (end int64, ok bool)
	ReadAt(end int64, dst []float32) bool
}

// Measures of a live trace.
const (
	searched   = 16384 // samples in which a period is looked for
	leastShown = 64    // samples of a trace
	mostShown  = 8192
	periods    = 4     // that a trace shows at least, of a signal that has any
	columns    = 58    // of a trace that rolls
	perColumn  = 3200  // samples of such a column: 58 are 3.9 s at 48 kHz
	lookAgain  = 24000 // samples after which the period is looked for again
	fall       = 38400 // samples for which a signal is weak before its trace grows
)

// signal is what a trace shows: some periods of a signal from where it rises
// through its middle, or the last four seconds of one too slow for that.
type signal struct {
	at   patch.Socket // whose tap from is; zero for another source
	from source

	Line  []float32 // samples to be drawn; for a rolling trace two of each column
	Range float32   // full height is ±Range, a power of 2

	end     int64
	look    int64 // when the period is looked for again
	window  int   // samples shown; 0: the trace rolls
	weak    int64 // samples
	buffer  []float32
	rolling []float32
	least   float32 // of the column that is being filled
	most    float32
	rising  bool // the least came before the most
	filled  int
}

// beat reads the signal and tells whether the trace has changed.
func (s *signal) beat() bool {
	end := s.from.End()
	if end == s.end {
		return false
	}
	if end < s.end { // out of sight its tap was let go of, and the new one has just begun
		s.end, s.look = end, end
		return false
	}
	if s.buffer == nil {
		s.buffer = make([]float32, searched)
		s.rolling = make([]float32, 2*columns)
		s.Range = 1
	}
	if end >= s.look {
		s.look = end + lookAgain
		if _, ok := s.from.Read(s.buffer); ok {
			s.window = windowFor(s.buffer)
		}
	}
	rolled, fresh := s.roll(end), end-s.end
	s.end = end
	if s.window == 0 {
		return rolled && s.put(s.rolling, fresh)
	}
	part := s.buffer[:2*s.window]
	if _, ok := s.from.Read(part); !ok {
		return false
	}
	return s.put(triggered(part, s.window), fresh)
}

// put takes the samples to be drawn, fresh samples after the last ones; false if
// they are those of before.
func (s *signal) put(line []float32, fresh int64) bool {
	grown := s.gain(line, fresh)
	if slices.Equal(line, s.Line) && !grown {
		return false
	}
	s.Line = append(s.Line[:0], line...)
	return true
}

// roll adds what has come since the last beat to the column being filled; true
// when a column is complete. Time is counted in samples: a slow screen shows the
// same trace as a quick one.
func (s *signal) roll(end int64) (moved bool) {
	fresh := s.buffer[:min(end-s.end, searched)]
	if !s.from.ReadAt(end, fresh) {
		return false
	}
	for _, v := range fresh {
		switch {
		case v-v != 0: // NaN or infinite
		case s.filled == 0:
			s.least, s.most = v, v
		case v < s.least:
			s.least, s.rising = v, false
		case v > s.most:
			s.most, s.rising = v, true
		}
		if s.filled++; s.filled == perColumn {
			s.push()
			moved = true
		}
	}
	return moved
}

// push moves the trace on by a column.
func (s *signal) push() {
	s.filled = 0
	copy(s.rolling, s.rolling[2:])
	// In the order in which they came, a slope has no teeth.
	first, second := s.most, s.least
	if s.rising {
		first, second = second, first
	}
	s.rolling[2*columns-2], s.rolling[2*columns-1] = first, second
}

// gain chooses the range: it grows at once, and shrinks when the signal has
// been weak for a while.
func (s *signal) gain(line []float32, fresh int64) bool {
	least, most, _ := look.Extent(line)
	want := rangeFor(max(-least, most))
	switch {
	case want > s.Range:
		s.weak = 0
	case want == s.Range:
		s.weak = 0
		return false
	default:
		if s.weak += min(fresh, searched); s.weak < fall {
			return false
		}
		s.weak = 0
	}
	s.Range = want
	return true
}

// rangeFor returns the power of 2 in which a peak has its place. Below 1/1024
// (-60 dB) a trace is a straight line.
func rangeFor(peak float32) float32 {
	if peak <= 1./1024 || peak != peak {
		return 1
	}
	want := float32(1. / 512)
	for want < peak*0.999 && want < 4096 {
		want *= 2
	}
	return want
}

// windowFor returns how many samples show some periods of a signal, a power of
// two; 0 for a signal that does not rise through its middle three times.
func windowFor(samples []float32) int {
	first, last, count := 0, 0, 0
	for i := range rises(samples) {
		if count == 0 {
			first = i
		}
		last = i
		count++
	}
	if count < 3 {
		return 0
	}
	period := float64(last-first) / float64(count-1)
	window := math.Exp2(math.Ceil(math.Log2(periods * period)))
	return int(min(max(window, leastShown), mostShown))
}

// rises yields where the samples rise through their middle, after having been a
// twentieth of their extent below it.
func rises(samples []float32) iter.Seq[int] {
	return func(yield func(int) bool) {
		least, most, ok := look.Extent(samples)
		if !ok || most-least < 1e-5 {
			return
		}
		middle, below := (least+most)/2, (most-least)/20
		armed := false
		for i, v := range samples {
			switch {
			case v < middle-below:
				armed = true
			case armed && v >= middle:
				if !yield(i) {
					return
				}
				armed = false
			}
		}
	}
}

// triggered returns window samples that begin at the last rise after which there
// are as many, or the newest.
func triggered(samples []float32, window int) []float32 {
	start := len(samples) - window
	rise := start
	for i := range rises(samples) {
		if i > start {
			break
		}
		rise = i
	}
	return samples[rise : rise+window]
}
