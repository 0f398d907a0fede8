// Package notebook keeps jobs, cues and takes in one SQLite file.
//
//	Open -> AddJob, AddCue -> Keep -> Take, Audition, Search -> Prove
//
// A take is immutable: its patch, memory, note, tags and audition are written
// in one transaction and the file itself refuses any later change. Only the
// star lives beside it. What is being worked on and not yet kept is the draft,
// one row that is stored as it changes and survives a crash.
//
// The file is a standard SQLite database (write-ahead log, full sync); it can
// be read with any SQLite tool, and a take can be exported as a zip of open
// formats. While it is open, SQLite's -wal and -shm stand beside it: a copy made
// by hand needs them too, unless every program has closed it. The small file
// with the ending -draft is the lock of the work in progress and can always be
// left behind. The package knows no screen and no sound device.
//
// Held by tests: what is kept comes back byte by byte, a take reported as kept
// is there after a kill at any moment, no SQL statement changes a take, and a
// take that renders to other samples is never called identical.
package notebook

import (
	"time"

	"lampblack/patch"
	"lampblack/patch/memory"
	"lampblack/patch/recording"
)

// JobID, CueID and TakeID number the rows of a notebook; 0 is none. They hold
// within one file only.
type (
	JobID  int64
	CueID  int64
	TakeID int64
)

// Job is a commission: the picture, exhibit or broadcast that wants sounds.
type Job struct {
	ID   JobID
	Name string // unique in the notebook, not empty
	Note string
	Made time.Time // UTC, set by AddJob
}

// Cue is one place in a job's picture that wants sound.
type Cue struct {
	ID       CueID
	Job      JobID
	Number   string // as the cue sheet writes it ("1M4"): unique in the job, not empty
	Name     string // "Moths at the lamp"
	Timecode string // of the picture, as written ("10:02:14:05"); may be empty
	Note     string
	Made     time.Time // UTC, set by AddCue
}

// Heading is what a contents page tells of a take: all but the patch and the
// memory.
type Heading struct {
	ID     TakeID
	Cue    CueID
	Number int       // 1, 2, 3 ... in its cue
	Kept   time.Time // UTC, whole milliseconds
	From   TakeID    // the take that it came from, or 0
	Origin string    // where an imported take was kept first; empty for others
	Note   string
	Tags   []string // in the order in which they were written
	Star   bool     // the one thing that can change; see Book.Star

	Asked    float64 // the length that was asked for, in seconds; 0: one pass of the memory and its tail
	Seconds  float64 // length of the audition
	Rate     int     // samples a second of the audition and its render
	Channels int     // of the audition, 1 or 2
	Peak     float64 // largest magnitude of the render; over 1 the audition is clipped, the hash is not
	SHA256   string  // of the render's float samples (see engine.Rendered), lower-case hexadecimal

	Kinds   map[string]int // the version of every module kind in the patch when it was kept
	Program string         // the version of the program that kept it
}

// Take is an immutable page of the notebook.
type Take struct {
	Heading
	Patch      patch.Patch
	Memory     memory.Memory
	PatchJSON  []byte          // the patch as it was written, byte by byte
	MemoryJSON []byte          // the memory as it was written, byte by byte
	Recordings []RecordingLine // the files that its modules play
}

// RecordingLine names an audio file that is kept in the notebook.
type RecordingLine struct {
	SHA256 string // of the file's bytes, lower-case hexadecimal
	Name   string // as it came in
	Bytes  int64
}

// NewTake is what Keep makes a take of.
type NewTake struct {
	Cue    CueID
	From   TakeID // 0: from nothing
	Patch  patch.Patch
	Memory memory.Memory
	Note   string
	Tags   []string // empty ones and repetitions are left out

	Seconds float64 // how long to render, up to MaxSeconds; 0: see engine.RenderOptions.Seconds
	Rate    int     // samples a second, 8,000 to 384,000; 0 means 48,000

	// Recordings holds files by their SHA-256 (lower-case hexadecimal). Those
	// that the notebook has already, by AddRecording or an earlier take, can
	// be left out.
	Recordings map[string][]byte
}

// MaxSeconds is the longest audition, that of the longest recording: a take can
// become the source of another.
const MaxSeconds = recording.MaxSeconds

// Draft is the work in progress: what is on the bench and not yet kept.
type Draft struct {
	Cue    CueID  // the cue it is meant for, or 0
	From   TakeID // the take it came from, or 0
	Patch  patch.Patch
	Memory memory.Memory
	Note   string
	Tags   []string
	Saved  time.Time // UTC, set by SaveDraft
}
