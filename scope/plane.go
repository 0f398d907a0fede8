package scope

// Point is a place in an X-Y picture.
type Point struct{ X, Y float64 }

// Plane fills dst with the way that two signals draw against each other (a
// Lissajous figure) over a view, and returns dst. The points are evenly apart in
// time, the first at the left edge of the view and the last at its right, each
// interpolated as At does: where the points lie far apart the way is fast, so a
// point or a stroke of the same ink each makes a brightness of 1/speed.
func Plane[S Sample](dst []Point, x, y []S, v View) []Point {
	step := 0.0
	if len(dst) > 1 {
		step = v.Length / float64(len(dst)-1)
	}
	for i := range dst {
		place := v.First + float64(i)*step
		dst[i] = Point{At(x, place), At(y, place)}
	}
	return dst
}
