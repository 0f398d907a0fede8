package sheet

import (
	"fmt"

	"lampblack/patch"
	"lampblack/patch/engine"
)

// A block is marked where it had to limit or reset itself, and where it is there
// once for every voice.

// voiced is how far the second outline of a block that sounds once for every
// voice lies behind it, in sheet units.
const voiced = 4.0

// kindOf returns the kind of a module as it is laid out: only as many numbered
// sockets as are in use, and at the memory how many voices there are.
func (s *Sheet) kindOf(m *patch.Module) *patch.Kind {
	k := s.session.ShownKind(m.Name)
	if k == nil || k.Name != engine.MemoryKind || s.voices.Count < 2 {
		return k
	}
	with := *k
	with.Title = fmt.Sprintf("%s, %d voices", k.Title, s.voices.Count)
	return &with
}

// once tells in words how often a module is there, "" while there is one voice.
func (s *Sheet) once(module string) string {
	switch n := s.voices.Count; {
	case n < 2:
		return ""
	case s.voices.PerVoice[module]:
		return fmt.Sprintf("It is there %d times, once for every voice: a note reaches it.", n)
	}
	return "It is there once, for all voices together."
}

// perVoice tells whether a block is drawn as there once for every voice.
func (s *Sheet) perVoice(module string) bool { return s.voices.Count > 1 && s.voices.PerVoice[module] }

// clearMarks lets go of the marks of modules that limited themselves.
func (s *Sheet) clearMarks() {
	s.session.ClearMarks()
	if s.drawn != nil {
		s.drawn.limit()
	}
	s.update()
}

// limited says what it means that a module is marked, and how the mark goes.
var limited = "limited or reset itself: turn down what comes in, or feedback. Click its mark, or " + control + "+Backspace, to clear it."

// onMark tells whether a place lies on the words that say that a block limited
// itself.
func (s *Sheet) onMark(h hit, p Point) bool {
	b := s.layout.block(h.socket.Module)
	return h.what == onBlock && b != nil && s.drawn != nil && s.drawn.limited[b.name] &&
		p.X >= b.box.X0+nameX && p.Y >= b.box.Y0+24 && p.Y < b.box.Y0+headHeight-5
}
