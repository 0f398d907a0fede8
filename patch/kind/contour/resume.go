package contour

import "lampblack/patch/module"

// Resume goes on where from stands. On another table it goes on within the row of
// the same number, from the level that has been reached; if there is none, it is over.
func (s *sound) Resume(from module.Sound) {
	f, ok := from.(*sound)
	if !ok {
		return
	}
	own := s.table
	*s = *f
	if *own == *f.table {
		return
	}
	s.y = s.now()
	s.table = own
	switch {
	case s.doing == resting:
	case s.way.row >= own.n:
		s.doing = resting
	default:
		s.way.move(own, s.y)
	}
}

// move goes on in the same row of another table, from a level.
func (w *way) move(t *table, from float64) {
	begin, end := t.ends[w.row], t.ends[w.row+1]
	w.place, w.steps = begin+float64(w.over()*(end-begin)), 0
	w.from, w.part = from, 0
	w.count(t)
}
