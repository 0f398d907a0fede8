package plucked

import "lampblack/patch/module"

// Resume goes on where from stands.
func (s *sound) Resume(from module.Sound) {
	if f, ok := from.(*sound); ok {
		loop, line := s.loop, s.place.line
		*s = *f
		s.loop, s.place.line = loop, line
		loop.Resume(f.loop)
		copy(line, f.place.line)
	}
}
