package plate

import "testing"

func TestWordsGoRoundAndFiguresEnd(t *testing.T) {
	for _, c := range [][3]int{{0, 1, 1}, {2, 1, 0}, {0, -1, 2}, {1, -5, 2}, {1, 7, 2}} {
		if got := Turn(c[0], c[1], 3); got != c[2] {
			t.Errorf("%d after %d among 3 is %d, want %d", c[1], c[0], got, c[2])
		}
	}
	list := []float64{1, 2, 5}
	for _, c := range []struct {
		v    float64
		n    int
		want float64
	}{{1, 1, 2}, {5, 1, 5}, {1, -1, 1}, {3, 1, 5}, {3, -1, 1}} { // 3 counts as the 2 below it
		if got := Along(list, c.v, c.n); got != c.want {
			t.Errorf("%d after %g is %g, want %g", c.n, c.v, got, c.want)
		}
	}
}
