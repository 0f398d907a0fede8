// Package module is the contract between the engine and the sound of a module.
//
//	engine -> Block (inputs, controls, notes) -> Sound -> Block (outputs)
//
// A Sound computes sample by sample, so that its bits do not depend on how long
// the blocks are. It knows no other module, no screen and no sound device.
package module

import "lampblack/patch"

// Sound is the running part of one module. It is used by one goroutine.
// Block must not allocate, lock, wait or read a clock.
type Sound interface {
	Block(b *Block)
}

// Resumer is a Sound that can go on where another of its kind stands. The
// engine asks for it when the structure of a patch changes, so that a module
// which is still there does not start again.
type Resumer interface {
	// Resume copies the state of from, which was made from an equal Setup (its
	// Rows may differ) and sounds on for a while: nothing that changes may be
	// shared. It runs on the sound thread and must not allocate; a from of
	// another type is ignored.
	Resume(from Sound)
}

// Block is what a Sound gets and fills for N samples, 1 to MaxBlock.
type Block struct {
	N        int
	In       [][]float64 // one per Kind.Inputs, N long: the sum of its cords, or what Input.Open says
	Joined   []bool      // one per Kind.Inputs: whether a cord ends there
	Out      [][]float64 // one per Kind.Outputs, N long; to be overwritten
	Controls []Control   // one per Kind.Controls
	Played   *Played
	Clamped  bool // a Sound sets it when it had to limit or reset itself
}

// MaxBlock is the largest number of samples in one Block.
const MaxBlock = 64

// Control is the moved, smoothed and clamped value of a control.
type Control struct {
	V      []float64 // N values in the scale's unit; a scale in dB arrives as a factor (10^(dB/20)), one in % as 0..1
	Steady bool      // all N values are equal (V[0] may be used for the whole block); always so on a stepped scale
	Scale  int       // the number of the scale in which the setting was written
}

// Played is the note being played, sample by sample (N long).
type Played struct {
	Pitch    []float64 // octaves, 0 = A4 = 440 Hz
	Gate     []float64 // 0 or 1
	Trigger  []float64 // 1 at the sample on which a note starts, else 0
	Velocity []float64 // 0 to 1
	Eased    []float64 // Velocity, but gone to within 2 ms by a voice that had another note before, which may ring on: a step would click
	Before   []float64 // pitch of the note that was started before this one, whichever voice has it; read it where Trigger is 1
}

// Setup is what a Sound is made from.
type Setup struct {
	Rate float64 // samples a second, 8,000 to 384,000
	Seed uint64  // differs for every module of a patch, and for every voice of it; the same in every run
	Side float64 // -1 to +1: where this voice stands among the voices of one note; 0 if it is the only one
	Clip *Clip   // the decoded recording of a module that plays one, at Rate, or nil

	// Rows are those of the kind's patch.Table, valid, in its columns' units as
	// written (dB as dB, % as %). They are never written to.
	Rows [][]float64
}

// Clip is a decoded recording at the engine's rate. It is never written to
// once made and may be shared.
type Clip struct {
	Channels [][]float64 // 1 or 2, of equal length, +-1 is full scale
}

// Kind joins the words of a kind to its sound.
type Kind struct {
	patch.Kind
	New func(Setup) Sound

	// Bounded says that the outputs are finite and within +-1000 whatever comes
	// in, so that the engine need not look at every sample of them.
	Bounded bool

	// Heeds reports whether the note reaches the sound, at these settings, through
	// the inputs that hear it while no cord ends there; nil: it does. Stands tells a
	// control's setting, and whether a cord moves it; of an input, whether a cord
	// ends there. What heeds no note need not be there once for every voice.
	Heeds func(stands func(name string) (s patch.Setting, joined bool)) bool

	// Seeded says that the sound is drawn from Setup.Seed: another seed gives
	// another sound. In a patch of several voices each voice draws its own.
	Seeded bool
}
