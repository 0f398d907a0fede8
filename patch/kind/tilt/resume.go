package tilt

import "lampblack/patch/module"

// Resume goes on where from stands. All state lies in the struct itself.
func (s *sound) Resume(from module.Sound) {
	if f, ok := from.(*sound); ok {
		*s = *f
	}
}
