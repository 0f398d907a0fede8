package notebook

import "math"

// null is what is left of a render when an audition is taken away.
type null struct {
	first             int     // the first sample that differs, -1 if none does
	residue, audition float64 // sums of squares
}

// subtract compares a render, rounded to 24 bits, with an audition. Samples
// that only one of the two has count in full.
func subtract(sound, audition [][]float64) null {
	n := null{first: -1}
	for c := range max(len(sound), len(audition)) {
		a, b := channel(sound, c), channel(audition, c)
		for i := range max(len(a), len(b)) {
			x, y := round24(sample(a, i)), sample(b, i)
			n.audition += float64(y * y)
			if d := x - y; d != 0 {
				n.residue += float64(d * d)
				if n.first < 0 || i < n.first {
					n.first = i
				}
			}
		}
	}
	return n
}

// db returns the depth of the null: 10 lg of the ratio of the mean squares.
func (n null) db() float64 {
	switch {
	case n.residue == 0:
		return math.Inf(-1)
	case n.audition == 0:
		return math.Inf(1)
	}
	return 10 * math.Log10(n.residue/n.audition)
}

// round24 rounds as recording.EncodeFLAC does: to steps of 2^-23, halves to
// even, limited to what 24 bits hold.
func round24(x float64) float64 {
	return min(max(math.RoundToEven(x*(1<<23)), -1<<23), 1<<23-1) / (1 << 23)
}

func channel(all [][]float64, c int) []float64 {
	if c < len(all) {
		return all[c]
	}
	return nil
}

func sample(all []float64, i int) float64 {
	if i < len(all) {
		return all[i]
	}
	return 0
}
