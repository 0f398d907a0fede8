package desk

import "slices"

// Place is the part of the page in which a notice is told.
type Place int

const (
	AtSheet Place = iota
	AtContents
	AtMemory
	AtNote
	AtSound
	AtInstruments
)

// Notice is something that the person should know, told where it belongs.
type Notice struct {
	Place Place
	Text  string // a sentence: what, where, what is allowed, what happens now
	Fault bool   // something could not be done
}

// maxNotices is how many a place shows; older ones give way.
const maxNotices = 3

// Notify tells n. The same text is not told twice.
func (s *Session) Notify(n Notice) {
	s.notices = slices.DeleteFunc(s.notices, func(o Notice) bool { return o == n })
	s.notices = append(s.notices, n)
	if here := s.Notices(n.Place); len(here) > maxNotices {
		oldest := here[0]
		s.notices = slices.DeleteFunc(s.notices, func(o Notice) bool { return o == oldest })
	}
	s.tell(Notices)
}

// Notices returns what is told at a place, the oldest first.
func (s *Session) Notices(p Place) []Notice {
	var here []Notice
	for _, n := range s.notices {
		if n.Place == p {
			here = append(here, n)
		}
	}
	return here
}

// Dismiss takes back what is told at a place.
func (s *Session) Dismiss(p Place) {
	before := len(s.notices)
	s.notices = slices.DeleteFunc(s.notices, func(n Notice) bool { return n.Place == p })
	if len(s.notices) != before {
		s.tell(Notices)
	}
}

// Withdraw takes back one notice, if it is still told.
func (s *Session) Withdraw(n Notice) {
	before := len(s.notices)
	s.notices = slices.DeleteFunc(s.notices, func(o Notice) bool { return o == n })
	if len(s.notices) != before {
		s.tell(Notices)
	}
}

// dismissFaults takes back what could not be done at a place, once something
// there could.
func (s *Session) dismissFaults(p Place) {
	before := len(s.notices)
	s.notices = slices.DeleteFunc(s.notices, func(n Notice) bool { return n.Place == p && n.Fault })
	if len(s.notices) != before {
		s.tell(Notices)
	}
}

func (s *Session) fault(p Place, err error) {
	s.Notify(Notice{Place: p, Text: err.Error(), Fault: true})
}
