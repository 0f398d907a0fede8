package strip

import (
	"slices"

	"lampblack/patch/memory"
)

// shortest is how short a drag can make a note, in seconds: below this a gate
// is a click.
const shortest = 0.01

// moved returns m with note i as it was in before, moved by seconds and to a
// pitch. A note stays within the pass. It returns the note's new number, since
// notes are kept in the order of their starts.
func moved(before memory.Memory, i int, by, pitch float64) (memory.Memory, int) {
	m := before.Clone()
	n := &m.Notes[i]
	n.At = min(max(n.At+by, 0), max(Pass(before)-n.For, 0))
	n.Pitch = pitch
	return sorted(m, i)
}

// lengthened returns m with note i as it was in before, its end moved by
// seconds. It ends within the pass.
func lengthened(before memory.Memory, i int, by float64) memory.Memory {
	m := before.Clone()
	n := &m.Notes[i]
	n.For = min(max(n.For+by, shortest), Pass(before)-n.At)
	return m
}

// sorted puts notes in the order of their starts; note i keeps its place among
// notes of the same start. It returns i's new number.
func sorted(m memory.Memory, i int) (memory.Memory, int) {
	n := m.Notes[i]
	rest := slices.Delete(slices.Clone(m.Notes), i, i+1)
	at := 0
	for at < len(rest) && (rest[at].At < n.At || rest[at].At == n.At && at < i) {
		at++
	}
	m.Notes = slices.Insert(rest, at, n)
	return m, at
}
