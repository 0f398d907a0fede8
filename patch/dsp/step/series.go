package step

// Break adds to dst, a Window, what a band-limited break of a smooth curve differs
// from a sharp one: derivatives[k] is by how much the k-th derivative changes, per
// sample to the k (k = 0: the value). It takes up to Orders of them. The
// higher ones converge slowly for a sine; see Sines for that.
func (t *Table) Break(dst []float64, late float64, derivatives []float64) {
	for k, d := range derivatives {
		if d != 0 {
			t.add(dst, Corner{Order: k, Late: late, Height: d})
		}
	}
}
