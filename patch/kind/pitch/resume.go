package pitch

import "lampblack/patch/module"

// Resume goes on where from stands. The finder's memory is copied, not shared.
func (s *sound) Resume(from module.Sound) {
	f, ok := from.(*sound)
	if !ok {
		return
	}
	finder := s.finder
	*s = *f
	s.finder = finder
	finder.Resume(f.finder)
}
