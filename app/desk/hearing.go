package desk

import (
	"math"
	"time"

	"lampblack/app/sound"
)

// SoundState is what there is to show of the loudspeaker.
type SoundState struct {
	sound.State
	HeldPeakDB float64 // the highest peak of the last two seconds, dBFS
	Muted      bool
}

// heldPeakFor is how long a peak stays to be read.
const heldPeakFor = 2 * time.Second

// Sound reads the loudspeaker's meters. One view should call it, about 20
// times a second.
func (s *Session) Sound() SoundState {
	if s.speaker == nil {
		return SoundState{
			State:      sound.State{Silent: true, Reason: "the sound device is being opened", LevelDB: sound.SafeStart, PeakDB: math.Inf(-1), RMSDB: math.Inf(-1)},
			HeldPeakDB: math.Inf(-1),
		}
	}
	st := s.speaker.State()
	now := s.now()
	if st.PeakDB >= s.heldPeak || now.Sub(s.heldSince) > heldPeakFor {
		s.heldPeak, s.heldSince = st.PeakDB, now
	}
	return SoundState{State: st, HeldPeakDB: s.heldPeak, Muted: s.muted}
}

// SetListening sets the listening level in dB, sound.MinLevel to
// sound.MaxLevel. It is not part of a take.
func (s *Session) SetListening(db float64) {
	if s.speaker != nil {
		s.speaker.SetLevel(db)
		s.tell(Sound)
	}
}

// MuteOutput fades everything out, or in again.
func (s *Session) MuteOutput(on bool) {
	s.muted = on
	if s.speaker != nil {
		s.speaker.Mute(on)
	}
	s.tell(Sound)
}

// unmute lets be heard again what a stop has faded out.
func (s *Session) unmute() {
	if s.muted {
		s.MuteOutput(false)
	}
}
