package oscillator

import "lampblack/patch/module"

// Resume goes on where from stands. All state lies in the struct itself; what it
// points to is never written to.
func (s *sound) Resume(from module.Sound) {
	if f, ok := from.(*sound); ok {
		*s = *f
	}
}
