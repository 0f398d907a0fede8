package step

// add adds a row of the table that lies late*rows places on, between two rows
// where it must.
func add(dst *[Points]float64, table *[rows + 1]row, late, scale float64) {
	at := float64(late * rows)
	j := min(max(int(at), 0), rows-1)
	b := float64(scale * (at - float64(j)))
	a := scale - b
	addRows(dst, (*[Points]float64)(&table[j]), (*[Points]float64)(&table[j+1]), a, b)
}

// addOnes adds a*r0 + b*r1 to dst.
func addOnes(dst, r0, r1 *[Points]float64, a, b float64) {
	for k := 0; k < Points; k += 4 { // four at a time: a seventh less time
		dst[k] += float64(a*r0[k]) + float64(b*r1[k])
		dst[k+1] += float64(a*r0[k+1]) + float64(b*r1[k+1])
		dst[k+2] += float64(a*r0[k+2]) + float64(b*r1[k+2])
		dst[k+3] += float64(a*r0[k+3]) + float64(b*r1[k+3])
	}
}
