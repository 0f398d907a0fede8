// Package loop is a delay line that feeds itself and rings in tune.
//
//	in -> + -> out
//	      ^     |
//	      +- losses <- all-pass <- line
//
// The time of one round is that of the line (whole samples), of an all-pass
// (what is left of a sample) and of the losses. The all-pass is set so that the
// phase of a whole round is right at the fundamental, whatever the losses are:
// the closed form of Jaffe and Smith, Extensions of the Karplus-Strong
// plucked-string algorithm, Computer Music Journal 7(2), 1983.
//
// It knows no module and no control. Held by tests: pitch within 0.01 cent,
// decay within 0.1 %, no growth whatever moves, the same bits at any block
// length.
package loop

import (
	"math"

	"lampblack/patch/dsp/bound"
)

// Segment is how many samples lie between two tunings. A new tuning is faded to
// within one segment.
const Segment = 16

// Shortest is the least number of samples in a round; Highest the highest
// frequency that follows from it, as a part of the sample rate.
const (
	Shortest = 3.0
	Highest  = 1 / Shortest
)

// most is the largest sample that the line holds: 54 dB over full scale. Only a
// tone that hits a resonance of a very long decay gets there.
const most = 500

// Loop is a running loop; make it with New. It is used by one goroutine.
type Loop struct {
	inverse float64 // 1 / sample rate
	line    []float64
	mask    int
	at      int // where the next sample goes in line

	begun  bool
	left   int // samples until the next tuning
	tuned  Tuning
	before reader // what is faded from
	now    reader
	fading bool

	low                float64 // state of the low-pass in the losses
	loss, target, step losses
}

// New makes a silent loop whose lowest frequency is lowest Hz.
func New(rate, lowest float64) *Loop {
	size := 64
	for float64(size) < rate/lowest+4*Segment {
		size *= 2
	}
	return &Loop{inverse: 1 / rate, line: make([]float64, size), mask: size - 1}
}

// Resume copies the state of from, which was made for the same rate and lowest
// frequency. It does not allocate.
func (l *Loop) Resume(from *Loop) {
	line := l.line
	*l = *from
	l.line = line
	copy(line, from.line)
}

// Left returns how many samples may run before Tune must be called; 0 at the
// start, at most Segment.
func (l *Loop) Left() int { return l.left }

// Run adds what comes round to every sample of in, at most Left of them. Touch,
// if not nil, is multiplied with what comes round. dst may be in. It sets
// clamped when the line overflows: it holds +-500.
func (l *Loop) Run(dst, in, touch []float64, clamped *bool) {
	line, mask, at := l.line, l.mask, l.at
	dst = dst[:len(in)]
	now, loss, low := l.now, l.loss, l.low // in registers: the loop waits for them
	for i, x := range in {
		y := now.read(line, at, mask)
		if l.fading {
			old := l.before.read(line, at, mask)
			y = old + float64(float64(float64(Segment-l.left+i)*(1.0/Segment))*(y-old))
		}
		v := float64((y - low) * loss.corner)
		y = float64(loss.high*y) + float64((loss.zero-loss.high)*(low+v))
		low = bound.Flush(low + v + v)
		loss.zero += l.step.zero
		loss.high += l.step.high
		loss.corner += l.step.corner
		if touch != nil {
			y = float64(y * touch[i])
		}
		y = bound.Flush(x + y)
		if !(y >= -most && y <= most) {
			y, *clamped = within(y), true
		}
		line[at&mask] = y
		at++
		dst[i] = y
	}
	l.at = at & mask
	l.now, l.loss, l.low = now, loss, low
	l.left -= len(in)
}

func within(y float64) float64 {
	switch {
	case y > most:
		return most
	case y < -most:
		return -most
	}
	return 0 // not a number
}

// losses are a shelf: the gain of one round is zero at 0 Hz and falls to high.
// Both are negative if the loop turns the sign. In between lies a trapezoidal
// low-pass (Simper, 2013) whose state stays sensible when its corner moves.
type losses struct {
	zero, high float64
	corner     float64 // g/(1 + g) with g = tan(pi corner/rate)
}

// reader reads the line at a whole number of samples, through an all-pass that
// adds half a sample to one and a half. Its settings stay as long as it lives.
type reader struct {
	delay int
	k     float64 // of (k + 1/z)/(1 + k/z)
	state float64
}

func (r *reader) read(line []float64, at, mask int) float64 {
	x := line[(at-r.delay)&mask]
	y := float64(r.k*x) + r.state
	r.state = bound.Flush(x - float64(r.k*y))
	return y
}

// warm gives the all-pass the state that it would have, had it always read
// here: what it forgets in one segment is below -100 dB.
func (r *reader) warm(line []float64, at, mask int) {
	r.state = float64(line[(at-Segment-1-r.delay)&mask] * (1 - r.k))
	for i := at - Segment; i < at; i++ {
		r.read(line, i, mask)
	}
}

// aim makes a reader whose phase at turn cycles a sample is that of a delay of
// so many samples, at least 1.5.
func aim(delay, turn float64) reader {
	whole := math.Floor(delay - 0.5)
	part := delay - whole // 0.5 to 1.5
	return reader{delay: int(whole), k: sine(float64(turn*(1-part))/2) / sine(float64(turn*(1+part))/2)}
}
