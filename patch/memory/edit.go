package memory

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// The functions below return a changed copy and leave m alone. i is the number
// of a note, from 0; they panic if there is no such note. What they are given is
// not bounded by them: Validate tells.

func (m Memory) need(i int) {
	if i < 0 || i >= len(m.Notes) {
		panic(fmt.Sprintf("memory: there is no note %d of %d", i, len(m.Notes)))
	}
}

// Add puts in a note, behind those that start at the same time, and returns its
// number.
func (m Memory) Add(n Note) (Memory, int) {
	i, _ := slices.BinarySearchFunc(m.Notes, n.At, func(a Note, at float64) int {
		if a.At <= at {
			return -1
		}
		return 1
	})
	m.Notes = slices.Insert(slices.Clone(m.Notes), i, n)
	return m, i
}

// Erase turns note i into a rest: its place stays.
func (m Memory) Erase(i int) Memory { return m.change(i, func(n *Note) { n.Rest = true }) }

// Fill turns rest i into a note of that pitch (octaves from A4) and velocity (0
// to 1), in the rest's place. A note is replaced.
func (m Memory) Fill(i int, pitch, velocity float64) Memory {
	return m.change(i, func(n *Note) { n.Pitch, n.Velocity, n.Rest = pitch, velocity, false })
}

// Remove takes note or rest i out, with its place.
func (m Memory) Remove(i int) Memory {
	m.need(i)
	m.Notes = slices.Delete(slices.Clone(m.Notes), i, i+1)
	return m
}

// Move lets note i start at another time, in seconds, and returns its new
// number.
func (m Memory) Move(i int, at float64) (Memory, int) {
	m.need(i)
	n := m.Notes[i]
	n.At = at
	return m.Remove(i).Add(n)
}

// Stretch holds note i for another time, in seconds.
func (m Memory) Stretch(i int, seconds float64) Memory {
	return m.change(i, func(n *Note) { n.For = seconds })
}

// Transpose moves notes by octaves: those numbered, or all if none is. Rests
// move too, so that a rest stays on its line.
func (m Memory) Transpose(octaves float64, only ...int) Memory {
	m.Notes = slices.Clone(m.Notes)
	for _, i := range only {
		m.need(i)
	}
	for i := range m.Notes {
		if len(only) == 0 || slices.Contains(only, i) {
			m.Notes[i].Pitch = transposed(m.Notes[i].Pitch, octaves)
		}
	}
	return m
}

// transposed adds octaves to a pitch. A note of equal temperament stays one to
// the last bit: -7/12 + 1/12 would miss D sharp.
func transposed(pitch, by float64) float64 {
	sum := pitch + by
	if note := math.Round(float64(sum * 12)); math.Abs(float64(sum*12)-note) < 1e-9 {
		return note / 12
	}
	return sum
}

// SetLength makes a pass last that many seconds. Notes that start after its end
// are taken out, and the memory before is not changed, so that an undo has them.
func (m Memory) SetLength(seconds float64) Memory {
	m.Length = seconds
	m.Notes = slices.DeleteFunc(slices.Clone(m.Notes), func(n Note) bool { return n.At >= seconds })
	return m
}

func (m Memory) change(i int, f func(*Note)) Memory {
	m.need(i)
	m.Notes = slices.Clone(m.Notes)
	f(&m.Notes[i])
	return m
}

// inOrder puts notes in the order of their starts.
func inOrder(notes []Note) {
	slices.SortStableFunc(notes, func(a, b Note) int { return cmp.Compare(a.At, b.At) })
}
