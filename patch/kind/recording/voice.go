package recording

import (
	"math"

	"lampblack/patch/dsp/approx"
	"lampblack/patch/dsp/resample"
)

// voice is one passage through the recording. The way in which it began it
// keeps: another direction is another voice, to which it gives way.
type voice struct {
	playing         bool
	backward, grain bool
	freed           bool    // the gate has let go: it loops no more
	falls           bool    // it fades out
	place           float64 // samples from the beginning, in its direction
	risen, fallen   float64 // how far it has faded in and out, 0 to 1
	seam            seam
	grains          grains
}

// seam is the cross-fade from the end of a loop to its start.
type seam struct {
	on               bool
	from, to, length float64 // places
	jump             float64 // samples back, where the fade leads
	like             float64 // how much the two sides are alike, 0 to 1
}

// stop makes the voice fade out.
func (v *voice) stop(w *where) {
	if w.edge >= 1 {
		v.playing = false
	}
	v.falls = true
}

// next gives the voice's sample, and moves on.
func (v *voice) next(s *sound) (left, right float64) {
	if !v.playing {
		return 0, 0
	}
	w := &s.where
	if v.backward != w.backward {
		turned := *w
		turned.turn(s.n)
		w = &turned
	}
	if v.grain {
		left, right = v.stretch(s, w)
	} else {
		left, right = v.tape(s, w)
	}
	if !v.playing {
		return 0, 0
	}
	g := 1.0
	if v.risen < 1 {
		g = rise(v.risen)
		v.risen += w.edge
	}
	if v.falls {
		g = float64(g * (1 - rise(v.fallen)))
		v.fallen += w.edge
		v.playing = v.fallen < 1
	}
	return float64(left * g), float64(right * g)
}

// rise goes from 0 at p = 0 to 1 at p = 1 as a raised cosine.
func rise(p float64) float64 {
	h := approx.Sine(float64(min(p, 1) / 4))
	return float64(h * h)
}

// tape plays with pitch and speed as one.
func (v *voice) tape(s *sound, w *where) (left, right float64) {
	step := min(float64(w.speed*w.ratio), fastest)
	if v.seam.on && v.place >= v.seam.to {
		v.place -= v.seam.jump
		v.seam.on = false
	}
	switch {
	case v.seam.on:
	case w.repeat && !v.freed && w.loopLo < w.loopHi:
		v.around(s, w, step)
	default:
		if v.end(w, step, s.n); !v.playing {
			return 0, 0
		}
	}
	left, right = s.read(v.place, step, v.backward)
	if v.seam.on {
		l, r := s.read(v.place-v.seam.jump, step, v.backward)
		a, b := balance(float64((v.place-v.seam.from)/v.seam.length), v.seam.like)
		left = float64(a*left) + float64(b*l)
		right = float64(a*right) + float64(b*r)
	}
	v.place += step
	return left, right
}

// around goes back from the end of the loop, at once or by a cross-fade.
func (v *voice) around(s *sound, w *where, step float64) {
	lo, hi := w.loopLo, w.loopHi
	if length := min(w.fade, (hi-lo)/2); length >= 1 {
		lo = max(lo, length) // what is faded in lies before
		if v.place < hi-length {
			return
		}
		from := hi - length
		if v.place-from >= step {
			from = v.place // the loop's end has come from behind
		}
		v.seam = seam{on: true, from: from, to: from + length, length: length, jump: from + length - lo}
		v.seam.like = s.alike(from, from-v.seam.jump, length, v.backward)
		return
	}
	if v.place >= hi {
		// The overshoot is kept, so the period is exact at any speed.
		v.place -= float64((hi - lo) * math.Floor((v.place-lo)/(hi-lo)))
	}
}

// end stops the voice at the end of what is played; at that of the file when the
// interpolation has left the last sample behind.
func (v *voice) end(w *where, step, n float64) {
	switch {
	case w.hi >= n:
		v.playing = v.place < n+float64(resample.Half*max(step, 1))
	case w.edge >= 1:
		v.playing = v.place < w.hi
	case !v.falls && float64((w.hi-v.place)*w.edge) <= step:
		v.stop(w)
	}
}

// balance gives the gains of the old and the new side of a cross-fade at t, 0 to
// 1, whose sum has an even power if the two sides are alike by so much: 1 (the
// same) or 0 (nothing in common).
func balance(t, like float64) (old, new float64) {
	new = rise(t)
	old = 1 - new
	power := float64(old*old) + float64(new*new) + float64(2*like*float64(old*new))
	g := 1 / math.Sqrt(power)
	return float64(old * g), float64(new * g)
}
