package movement

import (
	"math"

	"lampblack/patch/engine"
)

// Measures of what is remembered of a movement.
const (
	columnSamples = 64    // samples a column
	columnsKept   = 32768 // 43 s at 48 kHz
	seriesKept    = 4096  // means in which a period is looked for
	slowColumns   = 16    // columns a mean of the slow series
	newest        = 4096  // samples in which a period is looked for
	longest       = engine.TapSamples / 2
	remembered    = engine.TapSamples * 15 / 16 // the tap is being written to
)

// column is the lowest and the highest of columnSamples values.
type column struct{ least, most float32 }

// series is a ring of means.
type series struct {
	mean, square [seriesKept]float32
	count        int
}

func (s *series) add(mean, square float64) {
	at := s.count % seriesKept
	s.mean[at], s.square[at] = float32(mean), float32(square)
	s.count++
}

// newest fills dst with the newest means, oldest first, and returns them.
func (s *series) newest(dst []float64) []float64 {
	n := min(s.count, seriesKept)
	for i := range n {
		dst[i] = float64(s.mean[(s.count-n+i)%seriesKept])
	}
	return dst[:n]
}

// power returns the mean square of all values about their mean, of those samples
// too that the means stand for.
func (s *series) power() float64 {
	n := min(s.count, seriesKept)
	if n == 0 {
		return 0
	}
	mean, square := 0.0, 0.0
	for i := range n {
		mean += float64(s.mean[i])
		square += float64(s.square[i])
	}
	mean, square = mean/float64(n), square/float64(n)
	return math.Max(square-mean*mean, 0)
}

// history is what is remembered of one signal: of a control, in the engine's
// unit, or of an output.
type history struct {
	next    int64 // the engine's clock up to which it has been read, -1 before
	columns [columnsKept]column
	count   int // columns that are whole
	filling column
	filled  int // samples in it
	sum     float64
	squares float64
	mid     series // of every column
	slow    series // of slowColumns
	slowSum [2]float64
	slowN   int
	jumps   jumps
}

func newHistory() *history { return &history{next: -1} }

// read takes what a tap has heard since the last reading; buffer has longest
// places. It reports whether there was anything.
func (h *history) read(t *engine.Tap, buffer []float32) bool {
	end := t.End()
	if end == 0 {
		return false // it has heard nothing yet
	}
	if h.next < 0 {
		h.next = end - 1
	}
	if end <= h.next {
		return false
	}
	if end-h.next > remembered { // the screen stood still
		h.miss(int(end-h.next) - longest)
		h.next = end - longest
	}
	for h.next < end { // a tap gives out half of what it remembers at a time
		n := min(end-h.next, longest)
		if !t.ReadAt(h.next+n, buffer[:n]) {
			h.miss(int(n))
		} else {
			h.write(buffer[:n])
		}
		h.next += n
	}
	return true
}

// miss goes on after samples that are not known: what is drawn has a gap, and
// rates are measured from here on.
func (h *history) miss(samples int) {
	for range min(samples/columnSamples, columnsKept) {
		h.columns[h.count%columnsKept] = column{nan, nan}
		h.count++
	}
	h.filled, h.sum, h.squares = 0, 0, 0
	h.mid, h.slow, h.jumps = series{}, series{}, jumps{}
	h.slowN, h.slowSum = 0, [2]float64{}
}

// write takes values.
func (h *history) write(values []float32) {
	for _, v := range values {
		h.jumps.take(v)
		if h.filled == 0 {
			h.filling = column{v, v}
		}
		h.filling.least, h.filling.most = min(h.filling.least, v), max(h.filling.most, v)
		h.sum += float64(v)
		h.squares += float64(v) * float64(v)
		if h.filled++; h.filled == columnSamples {
			h.close()
		}
	}
}

// close begins another column.
func (h *history) close() {
	h.columns[h.count%columnsKept] = h.filling
	h.count++
	mean, square := h.sum/columnSamples, h.squares/columnSamples
	h.filled, h.sum, h.squares = 0, 0, 0
	h.mid.add(mean, square)
	h.slowSum[0] += mean
	h.slowSum[1] += square
	if h.slowN++; h.slowN == slowColumns {
		h.slow.add(h.slowSum[0]/slowColumns, h.slowSum[1]/slowColumns)
		h.slowN, h.slowSum = 0, [2]float64{}
	}
}

// extent returns the lowest and highest value of the newest columns, at most so
// many; false if there is none.
func (h *history) extent(columns int) (column, bool) {
	n := min(columns, h.count, columnsKept)
	if n < 1 {
		return column{}, false
	}
	e := column{nan, nan}
	for i := range n {
		e = e.with(h.columns[(h.count-1-i)%columnsKept])
	}
	return e, e.least == e.least
}

// with returns what reaches over both; a column of NaN is none.
func (c column) with(other column) column {
	if !(c.least <= other.least) && other.least == other.least {
		c.least = other.least
	}
	if !(c.most >= other.most) && other.most == other.most {
		c.most = other.most
	}
	return c
}

// outline fills dst with the newest columns of so many samples in all, as many
// columns of the history to one of dst as it takes; where nothing is known yet
// both ends are NaN.
func (h *history) outline(dst []column, samples float64) {
	per := samples / columnSamples / float64(len(dst))
	for i := range dst {
		from := h.count - int(math.Ceil(per*float64(len(dst)-i)))
		to := max(h.count-int(math.Ceil(per*float64(len(dst)-i-1))), from+1)
		dst[i] = column{nan, nan}
		for k := max(from, h.count-columnsKept, 0); k < min(to, h.count); k++ {
			dst[i] = dst[i].with(h.columns[k%columnsKept])
		}
	}
}

var nan = float32(math.NaN())

// Measures of what moves in steps.
const (
	jumpsKept  = 48
	standsFor  = 16   // equal values after which a change is a step
	offBeat    = 0.02 // of a beat that a step may be away from it
	fewestJump = 6
)

// jumps keeps when a signal that stands still between them went to another value.
type jumps struct {
	last    float32
	stood   int
	clock   int64
	at      [jumpsKept]int64
	changed [jumpsKept]int64 // samples that had changed by then
	count   int
	changes int64
}

func (j *jumps) take(v float32) {
	j.clock++
	if v == j.last {
		j.stood++
		return
	}
	j.last = v
	j.changes++
	if j.stood >= standsFor {
		j.at[j.count%jumpsKept], j.changed[j.count%jumpsKept] = j.clock, j.changes
		j.count++
	}
	j.stood = 0
}

// beat returns how many samples lie between two steps, 0 if they keep no time;
// stepping is false if the signal does not move in steps, or has not for a while.
func (j *jumps) beat() (samples float64, stepping bool) {
	n := min(j.count, jumpsKept)
	if n < fewestJump {
		return 0, false
	}
	first, last := (j.count-n)%jumpsKept, (j.count-1)%jumpsKept
	span := j.at[last] - j.at[first]
	// Between the steps it stands; and it has not stopped.
	if j.changed[last]-j.changed[first] > int64(n)+int64(n)/4 || j.changes-j.changed[last] > standsFor || j.clock-j.at[last] > 4*span/int64(n-1) {
		return 0, false
	}
	shortest := int64(math.MaxInt64)
	for i := 1; i < n; i++ {
		shortest = min(shortest, j.gap(i, n))
	}
	beats, guess := 0.0, float64(shortest)
	for i := 1; i < n; i++ { // a step to the value of before is not seen: two beats lie between
		whole := math.Round(float64(j.gap(i, n)) / guess)
		if math.Abs(float64(j.gap(i, n))-whole*guess) > offBeat*guess+2 {
			return 0, true
		}
		beats += whole
	}
	return float64(span) / beats, true
}

// gap returns the samples between step i-1 and i of the newest n.
func (j *jumps) gap(i, n int) int64 {
	return j.at[(j.count-n+i)%jumpsKept] - j.at[(j.count-n+i-1)%jumpsKept]
}
