package scope

import "math"

// TimeBases returns the times a division of a scope can stand for, in seconds:
// 1, 2 and 5 of each decade from 10 us to 10 s. A picture has ten divisions.
func TimeBases() []float64 {
	return []float64{
		10e-6, 20e-6, 50e-6, 100e-6, 200e-6, 500e-6, 1e-3, 2e-3, 5e-3, 10e-3,
		20e-3, 50e-3, 100e-3, 200e-3, 500e-3, 1, 2, 5, 10,
	}
}

// Strip is a picture of what has been written to it so far, as on a strip chart:
// for time bases so long that the samples themselves are no longer at hand. It
// gathers each column's lowest and highest value, peaks between the samples
// included, and its RMS. How long the blocks are makes no difference. One
// goroutine uses it; only New allocates.
type Strip struct {
	step    float64 // samples a column
	columns []Column
	squares []float64 // sum in each column
	counts  []float64 // samples in each column
	now     int64     // number of the column that is being filled
	taken   int64     // samples that are in columns
	queue   []float64 // samples that wait for their neighbours
	held    int
}

// stripQueue is how many samples wait: 20 to either side are needed, and the rest
// is so that they are seldom moved.
const stripQueue = 1024

// NewStrip returns an empty strip of so many columns, of so many samples (1 or
// more, not necessarily whole) each.
func NewStrip(columns int, samples float64) *Strip {
	if columns < 1 || !(samples >= 1) {
		panic("scope: a strip needs columns of one sample or more")
	}
	s := &Strip{step: samples, columns: make([]Column, columns), squares: make([]float64, columns), counts: make([]float64, columns), queue: make([]float64, stripQueue)}
	s.Reset()
	return s
}

// Reset empties the strip.
func (s *Strip) Reset() {
	for i := range s.columns {
		s.columns[i], s.squares[i], s.counts[i] = nothing, 0, 0
	}
	s.now, s.taken, s.held = 0, 0, 0
}

// Write feeds the next samples of the signal.
func (s *Strip) Write(samples []float64) { write(s, samples) }

// Write32 is Write for the samples of a tap.
func (s *Strip) Write32(samples []float32) { write(s, samples) }

func write[S Sample](s *Strip, samples []S) {
	for _, v := range samples {
		if s.held == 0 { // before its start the signal is taken to stay as it begins
			for s.held < sincSide {
				s.queue[s.held] = float64(v)
				s.held++
			}
		}
		if s.held == len(s.queue) {
			s.drain()
		}
		s.queue[s.held] = float64(v)
		s.held++
	}
	s.drain()
}

// drain puts into columns what has its neighbours, and keeps what others need.
func (s *Strip) drain() {
	last := s.held - sincSide
	if last <= sincSide {
		return
	}
	for i := sincSide; i < last; i++ {
		s.take(i)
	}
	s.held = copy(s.queue, s.queue[last-sincSide:s.held])
}

// take puts sample i of the queue, and a peak beside it, into its column.
func (s *Strip) take(i int) {
	queue := s.queue[:s.held]
	c := s.column(s.taken)
	v := queue[i]
	s.columns[c].reach(v)
	if !math.IsNaN(v) {
		s.squares[c] += float64(v * v)
		s.counts[c]++
	}
	s.taken++
	if _, value, ok := bump(queue, i); ok {
		s.columns[c].reach(value)
	}
	sign := 0.0
	switch {
	case v >= queue[i-1] && v >= queue[i+1]:
		sign = 1
	case v <= queue[i-1] && v <= queue[i+1]:
		sign = -1
	default:
		return
	}
	bound := sign*v + rise(sign*queue[i-1], sign*v, sign*queue[i+1])
	if sign > 0 && bound > s.columns[c].Max || sign < 0 && -bound < s.columns[c].Min {
		_, value := gentle(queue, i, sign)
		s.columns[c].reach(value)
	}
}

// column returns the place of the column of a sample, made empty if it is new.
func (s *Strip) column(sample int64) int {
	n := int64(float64(sample) / s.step)
	c := int(n % int64(len(s.columns)))
	if n != s.now {
		s.now = n
		s.columns[c], s.squares[c], s.counts[c] = nothing, 0, 0
	}
	return c
}

// Columns fills dst with the newest columns, the one that is being filled at the
// right, and returns dst. Where nothing has been written yet, columns are empty.
func (s *Strip) Columns(dst []Column) []Column {
	for i := range dst {
		dst[i] = nothing
		if n := s.now - int64(len(dst)-1-i); n >= 0 && s.now-n < int64(len(s.columns)) {
			dst[i] = s.columns[n%int64(len(s.columns))]
		}
	}
	return dst
}

// RMS fills dst with the RMS of the newest columns, as factors of full scale, and
// returns dst; of empty columns it is 0.
func (s *Strip) RMS(dst []float64) []float64 {
	for i := range dst {
		dst[i] = 0
		if n := s.now - int64(len(dst)-1-i); n >= 0 && s.now-n < int64(len(s.columns)) {
			if c := n % int64(len(s.columns)); s.counts[c] > 0 {
				dst[i] = math.Sqrt(s.squares[c] / s.counts[c])
			}
		}
	}
	return dst
}

// Taken returns how many samples the columns hold, since the start: the newest 20
// that were written still wait for their neighbours.
func (s *Strip) Taken() int64 { return s.taken }

// Strength fills dst with the level of the samples of a view, taken in one stretch
// of time after the other, and returns dst: the outline of a long signal. Each
// stretch is window samples long around the middle of its column, or as long as
// the column if that is more; beyond the ends there is nothing, a level of 0.
func Strength[S Sample](dst []Level, samples []S, v View, window float64) []Level {
	step := v.Length / float64(len(dst))
	half := max(step, window) / 2
	for c := range dst {
		middle := v.First + (float64(c)+0.5)*step
		from := max(int(math.Ceil(middle-half)), 0)
		to := min(int(math.Ceil(middle+half)), len(samples))
		dst[c] = Level{}
		if from < to {
			dst[c] = Measure(samples[from:to])
		}
	}
	return dst
}
