package desk

import (
	"slices"

	"lampblack/notebook"
	"lampblack/patch"
	"lampblack/patch/memory"
)

// Bench is the work in progress: all that a draft stores and a take freezes.
// It is a plain value.
type Bench struct {
	Patch  patch.Patch
	Memory memory.Memory
	Note   string
	Tags   []string
	Cue    notebook.CueID  // where 'keep' files it
	From   notebook.TakeID // the take that it came from, 0 if none

	lesson *taught // the lesson that it came from, nil if none; no take or draft holds it
}

// Clone returns a copy that shares nothing with b.
func (b Bench) Clone() Bench {
	b.Patch = b.Patch.Clone()
	b.Memory = b.Memory.Clone()
	b.Tags = slices.Clone(b.Tags)
	return b
}

// Equal tells whether a take made of b and one made of c would be alike.
func (b Bench) Equal(c Bench) bool {
	return b.Cue == c.Cue && b.From == c.From && b.Note == c.Note && slices.Equal(b.Tags, c.Tags) &&
		b.Patch.Equal(c.Patch) && sameMemory(b.Memory, c.Memory)
}

func sameMemory(a, b memory.Memory) bool {
	return a.Length == b.Length && a.Speed == b.Speed && a.Repeat == b.Repeat && slices.Equal(a.Notes, b.Notes)
}

// Bench returns the work in progress, to be read only.
func (s *Session) Bench() *Bench { return &s.bench }

// Patch returns the patch on the bench, to be read only.
func (s *Session) Patch() *patch.Patch { return &s.bench.Patch }
