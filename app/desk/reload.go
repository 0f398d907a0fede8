package desk

// Reload reads the contents of the notebook anew: somebody else has written
// into it (the demo job is made beside the session).
func (s *Session) Reload() { s.readContents() }

// LookElsewhere reads the contents anew if another window or a command has
// changed the notebook since. It is called now and then, and asks outside: the
// notebook may be busy.
func (s *Session) LookElsewhere() {
	if s.book == nil || s.looking {
		return
	}
	s.looking = true
	s.background(func() (func(), error) {
		version, err := s.book.ChangedElsewhere()
		return func() {
			s.looking = false
			if err == nil && version != s.version { // a fault is told to whoever reads next
				s.version = version
				s.readContents()
			}
		}, nil
	}, AtContents)
}
