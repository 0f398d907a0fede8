package memory_test

import (
	"cmp"
	"slices"

	"lampblack/patch/memory"
	"pgregory.net/rapid"
)

// anyMemory draws a valid memory: notes anywhere, overlapping, touching, rests.
func anyMemory(t *rapid.T) memory.Memory {
	m := memory.Memory{
		Length: rapid.Float64Range(0.001, 20).Draw(t, "length"),
		Speed:  rapid.SampledFrom([]float64{0, 0.05, 0.5, 0.72, 1, 1.5, 20}).Draw(t, "speed"),
		Repeat: rapid.Bool().Draw(t, "repeat"),
	}
	for range rapid.IntRange(0, 12).Draw(t, "notes") {
		m.Notes = append(m.Notes, memory.Note{
			At:       rapid.Float64Range(0, 0.999).Draw(t, "at") * m.Length,
			For:      rapid.Float64Range(1e-6, 2).Draw(t, "for"),
			Pitch:    rapid.OneOf(rapid.Float64Range(-5, 5), rapid.Map(rapid.IntRange(0, 127), func(n int) float64 { return float64(n-69) / 12 })).Draw(t, "pitch"),
			Velocity: rapid.Float64Range(0, 1).Draw(t, "velocity"),
			Rest:     rapid.IntRange(0, 4).Draw(t, "rest") == 0,
		})
	}
	slices.SortStableFunc(m.Notes, func(a, b memory.Note) int { return cmp.Compare(a.At, b.At) })
	return m
}

// trimmed returns the notes of m that start before its end.
func trimmed(m memory.Memory) []memory.Note {
	return slices.DeleteFunc(m.Notes, func(n memory.Note) bool { return n.At >= m.Length })
}
