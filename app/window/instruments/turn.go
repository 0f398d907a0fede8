package instruments

import "math"

func (t *Panel) stepTime(n int) {
	t.set(func(w *switches) { w.time = step(w.time, n, leastTime, mostTime) })
}

func (t *Panel) stepValue(i, n int) {
	t.set(func(w *switches) { w.value[i] = step(w.value[i], n, leastValue, mostValue) })
}

func (t *Panel) stepLevel(n int) {
	t.set(func(w *switches) {
		unit := w.value[w.channel()] / 10
		w.level = roundTo(w.level+float64(n)*unit, unit)
		w.level = min(max(w.level, -4*w.value[w.channel()]), 4*w.value[w.channel()])
	})
}

func (t *Panel) stepSpan(n int) {
	t.set(func(w *switches) { w.span = min(max(w.span+20*float64(n), 40), 180) })
}

// roundTo returns the multiple of unit that is nearest to v.
func roundTo(v, unit float64) float64 { return math.Round(v/unit) * unit }
