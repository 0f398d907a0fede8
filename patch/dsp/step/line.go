package step

import "lampblack/patch/dsp/lanes"

// Line delays a shape by Delay samples, so that corners can be mended before
// they are heard. The zero value is silent.
//
//	shape := line.Shape(n)           // 1 to 64: for the plain shape of n samples
//	line.Mend(table, corners)        // the corners since, in the order of time
//	line.Take(out[:n])               // the mended shape Delay samples ago
//
// What mends is summed up by itself, in the order of the corners, and added to the
// shape when that is taken: so the bits do not depend on how many samples are put
// at once.
type Line struct {
	mends [room]float64
	shape [room]float64
	head  int // of what is taken next
}

const (
	most = 64          // samples put at once
	kept = Points + 16 // samples ahead of the last one taken that may have been mended, and more
	room = kept + 9*most
)

// Late is the largest number of samples by which a corner can be mended late.
const Late = 4

// Corner is a break of a curve.
type Corner struct {
	At     int     // the sample behind it: 0 is the first of Shape, -Late the earliest
	Order  int     // the derivative that changes: 0 is the value, Orders-1 the most
	Late   float64 // how far before that sample it lies, 0 to 1
	Height float64 // by how much the derivative changes, per sample to the Order
}

// Shape makes room for n samples and returns it.
func (l *Line) Shape(n int) []float64 {
	if l.head+n+kept > room {
		copy(l.mends[:kept], l.mends[l.head:])
		clear(l.mends[kept:])
		copy(l.shape[:Delay], l.shape[l.head:])
		l.head = 0
	}
	return l.shape[l.head+Delay:][:n]
}

// Window returns what the low-pass of the table reaches around the corner before
// sample at of Shape: its middle is that sample.
func (l *Line) Window(t *Table, at int) []float64 {
	from := l.head + Delay + at - t.kernel.length/2
	return l.mends[from : from+t.kernel.length]
}

// Take gives the next samples of the mended shape.
func (l *Line) Take(out []float64) {
	lanes.Add(out, l.shape[l.head:][:len(out)], l.mends[l.head:][:len(out)])
	l.head += len(out)
}
