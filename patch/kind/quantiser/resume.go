package quantiser

import "lampblack/patch/module"

// Resume goes on where from stands, on this one's own scale.
func (s *sound) Resume(from module.Sound) {
	f, ok := from.(*sound)
	if !ok {
		return
	}
	s.begun, s.degree = f.begun, f.degree
	if *f.scale != *s.scale {
		s.degree = s.scale.nearest(f.scale.pitch(f.degree))
	}
}
