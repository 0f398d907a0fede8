package resonator

import "lampblack/patch/module"

// Resume goes on where from stands.
func (s *sound) Resume(from module.Sound) {
	if f, ok := from.(*sound); ok {
		own := s.loop
		*s = *f
		s.loop = own
		own.Resume(f.loop)
	}
}
