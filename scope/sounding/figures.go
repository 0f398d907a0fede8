package sounding

import (
	"cmp"
	"math"
	"slices"
)

// Point is a point of a curve: X in Hz, s or full scale, as the curve says.
type Point struct{ X, Y float64 }

// How finely Trace looks.
const (
	traceStart  = 241  // points in equal ratios, before it looks more closely
	tracePasses = 14   // how often
	traceMost   = 3000 // points in all
	traceBend   = 0.05 // dB by which a line between two points may miss the curve
)

// Trace follows a level in dB over frequency, from low to high Hz: closer where
// it bends, so that a narrow peak keeps its height. at gives the levels of many
// frequencies at once. Near are frequencies where something narrow is expected.
func Trace(low, high float64, near []float64, at func(hz []float64) []float64) []Point {
	hz := Steps(low, high, traceStart)
	for _, f := range near {
		if f > low && f < high {
			hz = append(hz, f*(1-1e-4), f, f*(1+1e-4))
		}
	}
	slices.Sort(hz)
	hz = slices.Compact(hz)
	points := joined(hz, at(hz))
	fresh := make([]bool, len(points)) // gaps on whose right the curve is straight
	for range tracePasses {
		var more []float64
		var gaps []int
		for i := 1; i < len(points); i++ {
			if !fresh[i] && len(points)+len(more) < traceMost {
				more, gaps = append(more, math.Sqrt(points[i-1].X*points[i].X)), append(gaps, i)
			}
		}
		if len(more) == 0 {
			break
		}
		points, fresh = between(points, fresh, gaps, joined(more, at(more)))
	}
	return points
}

func joined(hz, db []float64) []Point {
	points := make([]Point, len(hz))
	for i := range hz {
		points[i] = Point{hz[i], db[i]}
	}
	return points
}

// between puts new points into gaps; a gap is done with where the new point lay
// on the line.
func between(points []Point, done []bool, gaps []int, more []Point) ([]Point, []bool) {
	out, settled := points[:1:1], done[:1:1]
	k := 0
	for i := 1; i < len(points); i++ {
		if k < len(gaps) && gaps[k] == i {
			m := more[k]
			miss := math.Abs(m.Y - (points[i-1].Y+points[i].Y)/2)
			ok := miss < traceBend || m.Y < -200 || points[i].X/points[i-1].X < 1+1e-6
			out, settled = append(out, m), append(settled, ok)
			done[i] = ok
			k++
		}
		out, settled = append(out, points[i]), append(settled, done[i])
	}
	return out, settled
}

// Figures are what is read in a response, in Hz and dB.
type Figures struct {
	Highest, Lowest Point

	// Band is whether the response stands 3.01 dB or more over both its ends; then
	// Low and High are where it has fallen by 3.01 dB from the highest point (NaN
	// if it has not on that side), Width is their difference, and Q is the root of
	// their product over Width.
	Band             bool
	Low, High, Width float64
	Q                float64

	// Edges are where it has moved by 3.01 dB from its flat ends: Edges[0] from
	// the low end, Edges[1] from the high end; NaN where the end is not flat, or
	// nothing changes that much.
	Edges [2]float64

	// Slope is the rise in dB an octave from SlopeFrom to SlopeTo: over the octave
	// that begins an octave beyond the outer edge; NaN if there is none.
	Slope, SlopeFrom, SlopeTo float64
}

// half is half the power, in dB.
var half = 10 * math.Log10(2)

// flat is by how many dB an end may rise or fall in its last half octave to
// count as flat.
const flat = 0.3

// Read reads the figures of a curve of levels, X rising in Hz.
func Read(curve []Point) Figures {
	nan := math.NaN()
	f := Figures{Low: nan, High: nan, Width: nan, Q: nan, Edges: [2]float64{nan, nan}, Slope: nan}
	if len(curve) < 3 {
		return f
	}
	first, last := curve[0], curve[len(curve)-1]
	top := 0
	f.Lowest = first
	for i, p := range curve {
		if p.Y > curve[top].Y {
			top = i
		}
		if p.Y < f.Lowest.Y {
			f.Lowest = p
		}
	}
	f.Highest = curve[top]
	if f.Band = f.Highest.Y >= math.Max(first.Y, last.Y)+half; f.Band {
		f.Low, f.High = crossing(curve, top, -1, f.Highest.Y-half), crossing(curve, top, 1, f.Highest.Y-half)
		f.Width = f.High - f.Low
		f.Q = math.Sqrt(f.Low*f.High) / f.Width
	}
	f.Edges[0], f.Edges[1] = edge(curve, 0, 1), edge(curve, len(curve)-1, -1)
	f.slope(curve)
	return f
}

// edge returns where the curve leaves its flat end by half the power, going in
// steps of dir.
func edge(curve []Point, from, dir int) float64 {
	end := curve[from]
	near := math.Pow(2, 0.5*float64(dir))
	if math.Abs(level(curve, end.X*near)-end.Y) > flat {
		return math.NaN()
	}
	down := crossing(curve, from, dir, end.Y-half)
	up := crossing(curve, from, dir, end.Y+half)
	switch {
	case math.IsNaN(up):
		return down
	case math.IsNaN(down):
		return up
	}
	// A resonance stands before the fall: the edge is where it has fallen.
	return down
}

// slope reads the rise beyond the outer edge, on the side that falls further.
func (f *Figures) slope(curve []Point) {
	first, last := curve[0], curve[len(curve)-1]
	up, down := f.Edges[0], f.Edges[1]
	if f.Band {
		if math.IsNaN(up) {
			up = f.High
		}
		if math.IsNaN(down) {
			down = f.Low
		}
	}
	from, to := up*2, up*4
	if first.Y < last.Y || math.IsNaN(up) || to > last.X {
		from, to = down/4, down/2
	}
	if !(from >= first.X && to <= last.X) {
		return
	}
	f.SlopeFrom, f.SlopeTo = from, to
	f.Slope = level(curve, to) - level(curve, from)
}

// crossing returns where the curve comes to a level first, going from a place in
// steps of dir; NaN if it does not.
func crossing(curve []Point, from, dir int, to float64) float64 {
	for i := from; i+dir >= 0 && i+dir < len(curve); i += dir {
		a, b := curve[i], curve[i+dir]
		if (a.Y-to)*(b.Y-to) <= 0 && a.Y != b.Y {
			return a.X * math.Pow(b.X/a.X, (to-a.Y)/(b.Y-a.Y))
		}
	}
	return math.NaN()
}

// level returns the level at a frequency, on the line between two points.
func level(curve []Point, hz float64) float64 {
	i, _ := slices.BinarySearchFunc(curve, hz, func(p Point, hz float64) int { return cmp.Compare(p.X, hz) })
	i = min(max(i, 1), len(curve)-1)
	a, b := curve[i-1], curve[i]
	return a.Y + (b.Y-a.Y)*math.Log(hz/a.X)/math.Log(b.X/a.X)
}
