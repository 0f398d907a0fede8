package desk

// Topic is a part of the session that a view can watch.
type Topic int

const (
	Patch     Topic = iota // modules, settings, cords, positions
	Memory                 // notes, length, speed, repeat
	Select                 // what is chosen
	Probes                 // where A and B are
	Transport              // playing, recording, armed rest
	Note                   // note and tags
	Contents               // jobs, cues, takes, keeping
	Notices                // what is told to the person
	Sound                  // device, listening level
	Proofs                 // results of proofs and the playing audition
)

// Watch calls fn after every change of the topic, on the session's goroutine,
// until stop is called.
func (s *Session) Watch(t Topic, fn func()) (stop func()) {
	if s.watchers[t] == nil {
		s.watchers[t] = map[int]func(){}
	}
	s.nextWatch++
	key := s.nextWatch
	s.watchers[t][key] = fn
	return func() { delete(s.watchers[t], key) }
}

func (s *Session) tell(topics ...Topic) {
	for _, t := range topics {
		for _, fn := range s.watchers[t] {
			fn()
		}
	}
}
