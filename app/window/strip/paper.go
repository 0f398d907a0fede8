package strip

import (
	"math"

	"lampblack/patch/memory"
)

// paper is where the strip's time and pitch lie on the screen: it maps seconds
// to x and octaves to y, and finds the note under a point. All lengths are in
// the toolkit's units.
type paper struct {
	left, top     float64 // upper left corner of the ruled part
	width, height float64
	seconds       float64 // one pass, left to right
	low, high     float64 // octaves at the bottom and the top row
	row           float64 // height of one semitone
}

// leastRows is how many semitones a strip shows at least, so that two notes do
// not fill the whole height.
const leastRows = 14

// lay returns the paper for a memory within a ruled area. The pass fills the
// width; the pitches used lie in the middle, with a whole tone to spare.
func lay(m memory.Memory, left, top, width, height float64) paper {
	p := paper{left: left, top: top, width: max(width, 1), height: max(height, 1), seconds: Pass(m)}
	low, high := span(m)
	rows := max(math.Round((high-low)*12)+5, leastRows)
	p.row = p.height / rows
	middle := math.Round((low + high) * 6) // in semitones
	p.low = (middle - math.Floor((rows-1)/2)) / 12
	p.high = p.low + (rows-1)/12
	return p
}

// Pass returns the length of a pass in seconds at speed 1, at least one second.
func Pass(m memory.Memory) float64 {
	length := m.Length
	for _, n := range m.Notes {
		length = max(length, n.At+n.For)
	}
	return max(length, 1)
}

// span returns the lowest and highest pitch of a memory, rests included.
func span(m memory.Memory) (low, high float64) {
	for i, n := range m.Notes {
		if i == 0 {
			low, high = n.Pitch, n.Pitch
		}
		low, high = min(low, n.Pitch), max(high, n.Pitch)
	}
	return low, high
}

// x returns where a time lies, and time undoes it.
func (p paper) x(seconds float64) float64 { return p.left + seconds/p.seconds*p.width }
func (p paper) time(x float64) float64    { return (x - p.left) / p.width * p.seconds }

// y returns the middle of a pitch's row, and pitch undoes it to the semitone.
func (p paper) y(octaves float64) float64 {
	return p.top + p.height - p.row/2 - (octaves-p.low)*12*p.row
}

func (p paper) pitch(y float64) float64 {
	rows := math.Round((p.top + p.height - p.row/2 - y) / p.row)
	return math.Round(p.low*12+rows) / 12
}

// bar returns the box of a note: its middle row, 40 to 80 % of a row high.
func (p paper) bar(n memory.Note) (x, y, width, height float64) {
	height = min(max(p.row*0.6, 4), 9)
	x = p.x(n.At)
	return x, p.y(n.Pitch) - height/2, max(p.x(n.At+n.For)-x, 2), height
}

// Part says which part of a note lies under a point.
type Part int

const (
	Nothing Part = iota
	Body
	End // the right edge, which lengthens
)

// edge is how near the right edge a point must be to take hold of it.
const edge = 5

// find returns the note under a point. Of notes that lie on each other the one
// drawn last is found. A point half a row off still counts: bars are thin.
func (p paper) find(m memory.Memory, x, y float64) (int, Part) {
	for i := len(m.Notes) - 1; i >= 0; i-- {
		bx, by, bw, bh := p.bar(m.Notes[i])
		slack := max(3, p.row/2-bh/2)
		if y < by-slack || y > by+bh+slack || x < bx-1 || x > bx+bw+edge {
			continue
		}
		if x > bx+bw-edge && bw > 3*edge || x > bx+bw {
			return i, End
		}
		return i, Body
	}
	return -1, Nothing
}

// grid returns the step between ruled lines in seconds, a 1, 2 or 5 of its
// decade, so that lines are at least apart units from each other.
func (p paper) grid(apart float64) float64 {
	least := apart / p.width * p.seconds
	step := math.Pow(10, math.Floor(math.Log10(least)))
	for _, times := range []float64{1, 2, 5, 10} {
		if step*times >= least*(1-1e-9) {
			return step * times
		}
	}
	return step * 10
}
