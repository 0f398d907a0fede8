package notebook

import (
	"context"
	"errors"
	"io"
)

var errPending = errors.New("notebook: being written")

// Keep renders the patch, and stores patch, memory, note, tags, audition,
// hash and recordings in one transaction. The take is numbered after the last
// one of its cue. When Keep returns without an error, the take has reached the
// disk; otherwise nothing of it is in the file. progress, which may be nil, is
// called with 0 to 1 while rendering, from the goroutine that called Keep.
func (b *Book) Keep(ctx context.Context, n NewTake, progress func(done float64)) (Take, error) {
	return Take{}, errPending
}

// Takes returns the headings of a cue's takes by their number.
func (b *Book) Takes(cue CueID) ([]Heading, error) { return nil, errPending }

// Take returns a take as it was kept.
func (b *Book) Take(id TakeID) (Take, error) { return Take{}, errPending }

// Audition returns the samples of a take's audition, 1 or 2 channels of equal
// length at rate samples a second, +-1.0 full scale, rounded to 24 bits.
func (b *Book) Audition(id TakeID) (channels [][]float64, rate int, err error) {
	return nil, 0, errPending
}

// AuditionFLAC returns the audition as the FLAC file that is kept.
func (b *Book) AuditionFLAC(id TakeID) ([]byte, error) { return nil, errPending }

// Star sets or takes away the mark of a take that is meant to be used.
func (b *Book) Star(id TakeID, on bool) error { return errPending }

// AddRecording stores an audio file for use in patches and returns the SHA-256
// that a module names it by. A file that is there already is not stored twice.
func (b *Book) AddRecording(name string, file []byte) (sha256 string, err error) {
	return "", errPending
}

// Recording returns the bytes of an audio file.
func (b *Book) Recording(sha256 string) ([]byte, error) { return nil, errPending }

// SaveDraft stores the work in progress, in place of what was stored before.
func (b *Book) SaveDraft(d Draft) error { return errPending }

// Draft returns the work in progress that was stored last; ok is false if there is none.
func (b *Book) Draft() (d Draft, ok bool, err error) { return Draft{}, false, errPending }

// DropDraft forgets the work in progress.
func (b *Book) DropDraft() error { return errPending }

// LockDraft takes hold of the work in progress for this Book, or returns
// ErrOpenElsewhere. SaveDraft, Draft and DropDraft do it on their own.
func (b *Book) LockDraft() error { return errPending }

// Hit is a take that a search found.
type Hit struct {
	Take    Heading
	Cue     Cue
	Job     string   // name
	Snippet string   // a few words around the first match, on one line
	Matches [][2]int // byte ranges in Snippet
}

// Search returns the takes in which every word of the query begins a word of
// the note, the tags, the cue's number or name, the job's name or the names of
// the patch's modules; the best first. Case and accents do not count; nothing
// in the query has a special meaning. A query without a letter or digit finds
// nothing.
func (b *Book) Search(query string) ([]Hit, error) { return nil, errPending }

// Proof tells whether a take still renders to the samples it was kept with.
type Proof struct {
	Take      Heading
	Identical bool     // the float samples have the hash that was kept
	SHA256    string   // of the samples as they are rendered now
	NullDB    float64  // not Identical: RMS of render minus audition, in dB re RMS of the audition
	FirstAt   float64  // not Identical: seconds to the first sample that differs in 24 bits; NaN if none does
	Changed   []string // module kinds whose version has changed since ("filter 1 -> 2")
	Damage    string   // what is wrong with the audition that is kept, or empty
}

// OK reports whether the proof holds.
func (p Proof) OK() bool { return p.Identical && p.Damage == "" }

// Prove renders a take again and compares.
func (b *Book) Prove(ctx context.Context, id TakeID, progress func(done float64)) (Proof, error) {
	return Proof{}, errPending
}

// Export writes a take as one zip file of open formats.
func (b *Book) Export(id TakeID, w io.Writer) error { return errPending }

// Import keeps a take that Export wrote. into 0: into the job and cue of the
// same names, which are made if they are not there.
func (b *Book) Import(ctx context.Context, r io.ReaderAt, size int64, into CueID) (Take, error) {
	return Take{}, errPending
}

// Check looks for damage in the whole file.
func (b *Book) Check(ctx context.Context, progress func(done float64)) (Health, error) {
	return Health{}, errPending
}

// Health is what Check found.
type Health struct {
	Jobs, Cues, Takes, Recordings int
	Bytes                         int64    // of the file
	Faults                        []string // none: all is well
}
