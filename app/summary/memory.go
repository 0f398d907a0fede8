package summary

import (
	"fmt"
	"math"

	"lampblack/patch"
	"lampblack/patch/memory"
	"lampblack/scope/picture"
)

// MemoryWords tells what a memory holds: "11 notes, 1 rest, 8.2 s a pass, repeated".
func MemoryWords(m memory.Memory) string {
	if len(m.Notes) == 0 {
		return "empty"
	}
	rests := 0
	for _, n := range m.Notes {
		if n.Rest {
			rests++
		}
	}
	words := counted(len(m.Notes)-rests, "note")
	if rests > 0 {
		words += ", " + counted(rests, "rest")
	}
	words += ", " + patch.FormatValue(m.Length, "s") + " a pass"
	if tempo := m.Tempo(); tempo != 1 {
		words += fmt.Sprintf(" at speed %g", tempo)
	}
	if m.Repeat {
		words += ", repeated"
	}
	return words
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// mostNotes bounds what is drawn over a spectrogram: more could not be told apart.
const mostNotes = 5000

// Pitches returns the pitches of the memory's notes over time, as the frequency
// that they stand for.
func Pitches(m memory.Memory, seconds float64) []picture.Move {
	var points []picture.Point
	for pass := 0.0; pass < seconds && m.Length > 0; pass += m.Length / m.Tempo() {
		for _, n := range m.Notes {
			at := pass + n.At/m.Tempo()
			if n.Rest || at >= seconds {
				continue
			}
			hz := 440 * math.Exp2(n.Pitch)
			points = append(points, picture.Point{Second: at, Value: hz},
				picture.Point{Second: min(seconds, at+n.For/m.Tempo()), Value: hz}, picture.Point{Second: at, Value: math.NaN()})
		}
		if !m.Repeat || len(points) > 3*mostNotes {
			break
		}
	}
	if points == nil {
		return nil
	}
	return []picture.Move{{Name: "memory, pitch", Unit: "Hz", Points: points}}
}
