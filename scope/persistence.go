package scope

import "math"

// Persistence gathers many traces in one picture: for each cell of (time, level)
// it counts how much of the time the signal was there. All traces and all
// columns count the same: one hit a column and trace. The counts decay in
// proportion to themselves, so that their statistics stay those of the signal.
//
// It knows no colour: Intensities hands out what is to be drawn. One goroutine
// uses it; only New allocates.
type Persistence struct {
	width, height int
	low, high     float64
	cells         []float64 // column by column, from low up; times unit
	beside        float64   // hits below low or above high; times unit
	unit          float64   // what one hit adds now: old hits decay by new ones growing
}

// NewPersistence returns an empty picture of width columns and height cells each,
// for levels from low to high.
func NewPersistence(width, height int, low, high float64) *Persistence {
	if width < 1 || height < 1 || !(low < high) {
		panic("scope: a persistence needs cells, and a low level below its high one")
	}
	return &Persistence{width: width, height: height, low: low, high: high, cells: make([]float64, width*height), unit: 1}
}

// Add counts a trace: the samples of a view, spread over the width. Within a
// column the signal is followed in strokes, each of which shares its time evenly
// among the cells that it passes: where a column holds up to eight samples, two to
// four strokes a sample along the band-limited signal, where it holds more, from
// sample to sample. Columns beyond the ends count nothing.
func (p *Persistence) Add(samples []float64, v View) { add(p, samples, v) }

// Add32 is Add for the samples of a tap.
func (p *Persistence) Add32(samples []float32, v View) { add(p, samples, v) }

func add[S Sample](p *Persistence, samples []S, v View) {
	step := v.Length / float64(p.width)
	for c := range p.width {
		from := v.First + float64(c)*step
		to := v.First + float64(c+1)*step
		if !(from >= 0 && to <= float64(len(samples)-1)) {
			continue
		}
		if cells := p.cells[c*p.height : (c+1)*p.height]; step > 8 {
			addSamples(p, cells, samples, from, to)
		} else {
			addCurve(p, cells, samples, from, to)
		}
	}
}

func addCurve[S Sample](p *Persistence, cells []float64, samples []S, from, to float64) {
	strokes := max(2, min(int(4*(to-from))+1, 8), int(2*(to-from)))
	share := p.unit / float64(strokes)
	before := p.row(At(samples, from))
	for k := 1; k <= strokes; k++ {
		now := p.row(At(samples, from+(to-from)*float64(k)/float64(strokes)))
		p.stroke(cells, min(before, now), max(before, now), share)
		before = now
	}
}

func addSamples[S Sample](p *Persistence, cells []float64, samples []S, from, to float64) {
	share := p.unit / (to - from)
	before, at := p.row(At(samples, from)), from
	for i := int(from) + 1; float64(i) < to; i++ {
		now := p.row(float64(samples[i]))
		p.stroke(cells, min(before, now), max(before, now), share*(float64(i)-at))
		before, at = now, float64(i)
	}
	now := p.row(At(samples, to))
	p.stroke(cells, min(before, now), max(before, now), share*(to-at))
}

// row returns where a level stands, in cells from low.
func (p *Persistence) row(level float64) float64 {
	row := (level - p.low) / (p.high - p.low) * float64(p.height)
	if math.IsNaN(row) {
		row = -1
	}
	return min(max(row, -1e6), 1e6)
}

// stroke shares a hit among the cells from row low to row high.
func (p *Persistence) stroke(cells []float64, low, high, share float64) {
	first, last := int(math.Floor(low)), int(math.Floor(high))
	if first == last {
		p.hit(cells, first, share)
		return
	}
	each := share / (high - low)
	inside := max(first, -1)
	if under := -low; under > 0 { // all that is below, at once
		under = min(under, high-low)
		p.beside += under * each
		inside = 0
	}
	for i := max(inside, first); i <= min(last, p.height-1); i++ {
		if part := min(high, float64(i+1)) - max(low, float64(i)); part > 0 && i >= 0 {
			cells[i] += part * each
		}
	}
	if over := high - float64(p.height); over > 0 {
		p.beside += min(over, high-low) * each
	}
}

func (p *Persistence) hit(cells []float64, i int, share float64) {
	if i < 0 || i >= len(cells) {
		p.beside += share
		return
	}
	cells[i] += share
}

// Decay lets all counts fall to keep of what they are, 0 to 1: exp(-t/T) after t
// seconds for a time constant of T.
func (p *Persistence) Decay(keep float64) {
	if !(keep > 0) {
		p.Clear()
		return
	}
	p.unit /= min(keep, 1)
	if p.unit > 1e9 { // brought back before the old ones lose their digits
		for i := range p.cells {
			p.cells[i] /= p.unit
		}
		p.beside /= p.unit
		p.unit = 1
	}
}

// Clear forgets everything.
func (p *Persistence) Clear() {
	clear(p.cells)
	p.beside, p.unit = 0, 1
}

// Count returns the hits in a cell: column from the left, row from the bottom.
func (p *Persistence) Count(column, row int) float64 { return p.cells[column*p.height+row] / p.unit }

// Total returns all hits: those in cells, and those beside, below low and above
// high. Both together are the number of columns of all traces, as decayed.
func (p *Persistence) Total() (cells, beside float64) {
	for _, n := range p.cells {
		cells += n
	}
	return cells / p.unit, p.beside / p.unit
}

// Intensities fills dst, row by row from the top and in each from the left, with
// 0 (never there) to 1 (there for so many hits as full, or more).
func (p *Persistence) Intensities(dst []float32, full float64) []float32 {
	scale := 1 / (p.unit * full)
	const strip = 16 // columns at a time: what is read lies side by side, and so does what is written
	for first := 0; first < p.width; first += strip {
		last := min(first+strip, p.width)
		for row := range p.height {
			line := dst[row*p.width+first : row*p.width+last]
			for c := range line {
				line[c] = float32(min(p.cells[(first+c)*p.height+p.height-1-row]*scale, 1))
			}
		}
	}
	return dst
}
