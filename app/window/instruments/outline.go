package instruments

// point is a place in a picture, in pixels.
type point struct{ x, y float64 }

// outline appends to dst the line through n points whose x rise, so that it can
// be drawn in a picture that has fewer columns of pixels than the signal has
// samples: of the points that fall in one column the first, the extremes and
// the last are kept, in their order. No peak is lost and the line has at most
// four points a column.
func outline(dst []point, n int, at func(i int) (x, y float64)) []point {
	for i := 0; i < n; {
		x, y := at(i)
		column, first, last := int(x), point{x, y}, point{x, y}
		low, high, lowAt, highAt := first, first, i, i
		j := i + 1
		for ; j < n; j++ {
			x, y := at(j)
			if int(x) != column {
				break
			}
			last = point{x, y}
			if y < low.y {
				low, lowAt = last, j
			}
			if y > high.y {
				high, highAt = last, j
			}
		}
		dst = append(dst, first)
		if lowAt > highAt {
			low, high, lowAt, highAt = high, low, highAt, lowAt
		}
		if lowAt > i && lowAt < j-1 {
			dst = append(dst, low)
		}
		if highAt > i && highAt < j-1 && highAt != lowAt {
			dst = append(dst, high)
		}
		if j-1 > i {
			dst = append(dst, last)
		}
		i = j
	}
	return dst
}

// crest appends to dst the line over the tops of n points whose x rise: one
// point for each column of pixels, the smallest y in it (y runs down). A
// spectrum is drawn so: what counts in a column is its strongest line.
func crest(dst []point, n int, at func(i int) (x, y float64)) []point {
	for i := 0; i < n; {
		x, y := at(i)
		top := point{x, y}
		i++
		for ; i < n; i++ {
			nx, ny := at(i)
			if int(nx) != int(x) {
				break
			}
			if ny < top.y {
				top = point{nx, ny}
			}
		}
		dst = append(dst, top)
	}
	return dst
}
