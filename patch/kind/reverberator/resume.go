package reverberator

import "lampblack/patch/module"

// Resume goes on where from stands. The lines are copied, the rest lies in the
// struct itself.
func (s *sound) Resume(from module.Sound) {
	f, ok := from.(*sound)
	if !ok {
		return
	}
	s.count, s.absorption = f.count, f.absorption
	for side := range s.before {
		s.before[side].Copy(&f.before[side])
		for k := range s.diffusers[side] {
			s.diffusers[side][k].line.Copy(&f.diffusers[side][k].line)
		}
	}
	mine := s.room.lines
	for i := range mine {
		mine[i].Copy(&f.room.lines[i])
	}
	s.room = f.room
	s.room.lines = mine
}
