package desk

// Reload reads the contents of the notebook anew: somebody else has written
// into it (the demo job is made beside the session).
func (s *Session) Reload() { s.readContents() }
