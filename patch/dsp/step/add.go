package step

// Mend adds what band-limited corners differ from sharp ones.
func (l *Line) Mend(t *Table, corners []Corner) {
	if len(corners) == 0 {
		return
	}
	if fours {
		half := t.kernel.length / 2
		addFours(&l.mends[0], &t.cells[nothing], &corners[0], len(corners), t.stride, t.order, l.head+Delay-half)
		return
	}
	for _, c := range corners {
		t.add(l.Window(t, c.At), c)
	}
}

// add adds the row of the table that belongs to a corner, between two rows where
// it must.
func (t *Table) add(dst []float64, c Corner) {
	at := float64(c.Late * rows)
	j := min(max(int(at), 0), rows-1)
	b := float64(c.Height * (at - float64(j)))
	a := c.Height - b
	r0, r1 := t.row(c.Order, j), t.row(c.Order, j+1)
	r0, r1 = r0[:len(dst)], r1[:len(dst)]
	for k := range dst {
		dst[k] += float64(a*r0[k]) + float64(b*r1[k])
	}
}

// addTwo adds a*r0 + b*r1 to dst, whose length is a multiple of four.
func addTwo(dst, r0, r1 []float64, a, b float64) {
	r0, r1 = r0[:len(dst)], r1[:len(dst)]
	if fours {
		addTwo4(&dst[0], &r0[0], &r1[0], len(dst), a, b)
		return
	}
	for k := range dst {
		dst[k] += float64(a*r0[k]) + float64(b*r1[k])
	}
}
