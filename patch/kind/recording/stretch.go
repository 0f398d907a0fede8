package recording

import "math"

// grains are the two that sound while a stretched voice plays: the older fades
// out while the newer fades in.
type grains struct {
	on         bool
	old, new   float64 // their places
	left, step float64 // samples to the next one; 1/hop
	like       float64
}

// stretch plays with the place moving at speed and the sound at its own pitch.
func (v *voice) stretch(s *sound, w *where) (left, right float64) {
	loops := w.repeat && !v.freed && w.loopLo < w.loopHi
	switch {
	case loops:
		if length := w.loopHi - w.loopLo; v.place >= w.loopHi {
			v.place -= float64(length * math.Floor((v.place-w.loopLo)/length))
		}
	case v.place >= w.hi:
		v.playing = false
		return 0, 0
	case w.edge < 1 && !v.falls && float64((w.hi-v.place)*w.edge) <= w.speed:
		v.stop(w)
	}
	g := &v.grains
	if g.left <= 0 {
		v.splice(s, w, loops)
	}
	left, right = s.read(g.old, w.ratio, v.backward)
	if g.new != g.old {
		l, r := s.read(g.new, w.ratio, v.backward)
		a, b := balance(1-float64(g.left*g.step), g.like)
		left = float64(a*left) + float64(b*l)
		right = float64(a*right) + float64(b*r)
	}
	g.left--
	g.old += w.ratio
	g.new += w.ratio
	v.place += w.speed
	return left, right
}

// splice begins a new grain. If the newer one is still near the place that is
// due, it simply goes on.
func (v *voice) splice(s *sound, w *where, loops bool) {
	g := &v.grains
	hop := math.Floor(max(w.hop, 32))
	g.left, g.step = hop, 1/hop
	if !g.on {
		g.on, g.old, g.new, g.like = true, v.place, v.place, 1
		return
	}
	g.old = g.new
	// A grain must not run past the end, but the last one shall just reach it.
	rest := 2 * hop
	if !loops {
		rest = min(rest, (w.hi-v.place)/w.speed)
	}
	last := max(w.hi-float64(w.ratio*rest), w.lo)
	if reach := float64(hop / 2); math.Abs(g.old-v.place) <= reach && g.old <= last+0.5 {
		g.like = 1
	} else {
		to := min(v.place+reach, last)
		from := max(min(v.place-reach, to-reach), w.lo)
		g.new, g.like = s.match(g.old, from, max(to, from), hop, v.backward)
	}
}
