package delay

import "lampblack/patch/dsp/line"

// heads plays a tape by one head, and while it cross-fades by two.
type heads struct {
	now, next line.Head
	fade      float64 // how far the cross-fade has come, 0 to 1; 0: there is none
	step      float64 // of fade, in a sample
	patience  int     // samples
	gain      float64 // of a head's step, in a sample
	waited    int     // samples since now stands beside where it should
	last      float64 // the place that was asked for last
	started   bool
}

// follow aims at a place, by moving the head or by fading to another.
func (h *heads) follow(place float64, fades bool) {
	switch {
	case !h.started:
		h.started = true
		h.now.Jump(place)
	case h.fade > 0:
		if h.fade += h.step; h.fade >= 1 {
			h.now, h.fade = h.next, 0
		}
	case !fades:
		h.waited = 0
		h.now.Toward(place, h.gain)
	case place != h.now.Place():
		h.waited++
		if place == h.last || h.waited > h.patience {
			h.next = line.Head{}
			h.next.Jump(place)
			h.fade, h.waited = h.step, 0
		}
	default:
		h.waited = 0
		h.now.Toward(place, h.gain) // where it stands: it may have been moving
	}
	h.last = place
}

// read returns what the heads play.
func (h *heads) read(l *line.Line) float64 {
	y := h.now.Read(l)
	if h.fade > 0 {
		w := float64(float64(h.fade*h.fade) * (3 - float64(2*h.fade)))
		y += float64(w * (h.next.Read(l) - y))
	}
	return y
}
