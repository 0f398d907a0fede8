package contour

import "math"

// way is how far along the table the contour is. Places are in samples as drawn,
// counted from the last change of speed, so that nothing adds up to a drift.
type way struct {
	row   int     // that is being gone through, from 0 on
	from  float64 // the level where it began
	place float64 // where the count of steps began
	steps float64 // samples since then
	speed float64 // samples as drawn, in one sample; 0: not known yet
	part  float64 // of the row's time, 0 to 1, that was over when done began to count
	done  int     // samples since then
	all   int     // samples that the rest of the row takes
	share float64 // of the row's time in one of them
	bend  bend
}

// begin starts a row out of turn: what came before counts no more.
func (w *way) begin(t *table, row int, from float64) {
	w.place, w.steps = t.ends[min(row, t.n)], 0
	w.enter(t, row, from)
}

// enter starts the row that comes next. Its end is the sample nearest to where
// the table has it, whatever the rounding of the ends before.
func (w *way) enter(t *table, row int, from float64) {
	w.row, w.from = row, from
	w.part = 0
	w.count(t)
}

// back starts an earlier row again.
func (w *way) back(t *table, row int, from float64) {
	w.place -= t.ends[w.row+1] - t.ends[row]
	w.enter(t, row, from)
}

// stop stays at the end of the row for as long as it takes to go on.
func (w *way) stop(t *table) { w.place, w.steps = t.ends[w.row+1], 0 }

// pace sets the speed. A new one holds from this sample on.
func (w *way) pace(t *table, speed float64) {
	if speed == w.speed {
		return
	}
	w.place, w.steps = w.at(), 0
	w.part = w.over()
	w.speed = speed
	w.count(t)
}

// at is where the contour is, in samples as drawn.
func (w *way) at() float64 { return w.place + float64(w.steps*w.speed) }

// over is the part of the row's time that is over.
func (w *way) over() float64 { return w.part + float64(float64(w.done)*w.share) }

// count finds how many samples the rest of the row takes.
func (w *way) count(t *table) {
	w.done, w.all, w.share = 0, 0, 0
	w.bend.known = false
	if w.row >= t.n || w.speed == 0 {
		return
	}
	w.all = int(max(math.Floor((t.ends[w.row+1]-w.at())/w.speed+0.5), 0))
	if w.all > 0 {
		w.share = (1 - w.part) / float64(w.all)
	}
}

// arrived reports whether the end of the row is reached.
func (w *way) arrived() bool { return w.done >= w.all }

// level is what the contour stands at on this sample.
func (w *way) level(t *table) float64 {
	to := t.level[w.row]
	if w.arrived() {
		return to
	}
	return w.from + float64((to-w.from)*w.gone(t))
}

// gone is how much of the way from one level to the next is done, 0 to 1.
func (w *way) gone(t *table) float64 {
	switch c := t.curve[w.row]; {
	case c > 0:
		return w.bend.charge(c, w.over(), w.share, w.done) / t.whole[w.row]
	case c < 0: // the mirror image: backwards, from the end
		return 1 - w.bend.charge(-c, 1-w.over(), -w.share, w.done)/t.whole[w.row]
	}
	return w.over()
}

// step goes on to the next sample.
func (w *way) step() {
	w.done++
	w.steps++
}
