package quantiser

import "lampblack/patch/module"

// Resume goes on where from stands, on this one's own scale.
func (s *sound) Resume(from module.Sound) {
	f, ok := from.(*sound)
	if !ok {
		return
	}
	if !f.begun {
		return
	}
	if *f.scale == *s.scale {
		s.take(f.degree)
	} else {
		s.take(s.scale.nearest(f.pitch))
	}
}
