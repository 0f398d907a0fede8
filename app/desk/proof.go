package desk

import (
	"fmt"

	"lampblack/notebook"
)

// ProofState is how far the proof of a take has come.
type ProofState int

const (
	ProofNone ProofState = iota
	ProofRunning
	ProofDone
	ProofFailed // it could not be made: the text says why
)

type proofEntry struct {
	state ProofState
	proof notebook.Proof
	text  string
}

// Prove renders a take again, outside, and compares. ProofOf has the result.
func (s *Session) Prove(id notebook.TakeID) {
	if s.book == nil || s.proofs[id].state == ProofRunning {
		return
	}
	s.proofs[id] = proofEntry{state: ProofRunning}
	s.tell(Proofs)
	s.background(func() (func(), error) {
		proof, err := s.book.Prove(s.context, id, nil)
		return func() {
			entry := proofEntry{state: ProofDone, proof: proof, text: proof.Verdict()}
			if err != nil {
				entry = proofEntry{state: ProofFailed, text: fmt.Sprintf("the proof could not be made: %v", err)}
			}
			s.proofs[id] = entry
			s.tell(Proofs)
		}, nil
	}, AtContents)
}

// ProofOf returns the result of the last proof of a take in this session.
func (s *Session) ProofOf(id notebook.TakeID) (notebook.Proof, ProofState, string) {
	e := s.proofs[id]
	return e.proof, e.state, e.text
}

// PlayAudition plays the audition of a take beside the bench.
func (s *Session) PlayAudition(id notebook.TakeID) {
	if s.book == nil || s.speaker == nil {
		return
	}
	s.asked++
	asked := s.asked
	s.background(func() (func(), error) {
		channels, rate, err := s.book.Audition(id)
		if err != nil {
			return nil, fmt.Errorf("the audition can't be played: %w", err)
		}
		if rate != s.rate {
			return nil, fmt.Errorf("the audition has %d samples a second and the loudspeaker %d: it can't be played; set the loudspeaker to the take's rate", rate, s.rate)
		}
		return func() {
			if asked != s.asked {
				return // another one was asked for meanwhile
			}
			right := channels[0]
			if len(channels) > 1 {
				right = channels[1]
			}
			s.unmute()
			s.speaker.Play(channels[0], right)
			s.audition = id
			s.tell(Proofs)
		}, nil
	}, AtContents)
}

// StopAudition fades the playing audition out.
func (s *Session) StopAudition() {
	s.asked++
	if s.speaker != nil && s.audition != 0 {
		s.speaker.StopAudition()
	}
	if s.audition != 0 {
		s.audition = 0
		s.tell(Proofs)
	}
}

// AuditionPlaying returns the take whose audition sounds, 0 if none.
func (s *Session) AuditionPlaying() notebook.TakeID {
	if s.audition != 0 && (s.speaker == nil || !s.speaker.Auditioning()) {
		s.audition = 0
	}
	return s.audition
}
