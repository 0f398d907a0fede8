// Package keys says what every key of the computer keyboard does.
//
//	key pressed -> Place (row, column) -> pitch -> the session plays
//
// The four rows of ten keys are four strings tuned in fourths, as on a double
// bass: E, A, D and G from the lowest row up. Each key to the right is one
// semitone higher, and the key at A sounds A. It knows no sound; a Player does
// the playing. Held by tests: the strings stand a fourth apart, a held key
// sounds once, and nothing is left sounding when the keyboard goes away.
package keys

import "math"

// Place is where a key stands: row 0 is the lowest row of letters, row 3 the
// row of figures; column 0 is the leftmost key that plays, column 9 the last.
type Place struct{ Row, Column int }

// Rows and Columns count the keys that play.
const (
	Rows    = 4
	Columns = 10
)

// LowestOctave and HighestOctave bound how far the strings can be moved; the
// notes then lie between 41 Hz (E1, the lowest string of a double bass) and
// 10.5 kHz.
const (
	LowestOctave  = -3
	HighestOctave = 3
)

// rows are the keys by their names on a US keyboard, from the lowest row up.
// A British keyboard has the same forty keys in the same places.
var rows = [Rows]string{"ZXCVBNM,./", "ASDFGHJKL;", "QWERTYUIOP", "1234567890"}

// firstKey holds the evdev code of the leftmost key of each row (KEY_Z, KEY_A,
// KEY_Q, KEY_1). The codes of a row follow each other.
//
// Source: Linux kernel, include/uapi/linux/input-event-codes.h.
var firstKey = [Rows]int{44, 30, 16, 2}

// macKeys are the virtual key codes of an Apple keyboard in the places of rows.
//
// Source: HIToolbox Events.h, kVK_ANSI_* (from memory).
var macKeys = [Rows][Columns]int{
	{6, 7, 8, 9, 11, 45, 46, 43, 47, 44},
	{0, 1, 2, 3, 5, 4, 38, 40, 37, 41},
	{12, 13, 14, 15, 17, 16, 32, 34, 31, 35},
	{18, 19, 20, 21, 23, 22, 26, 28, 25, 29},
}

// Find returns the place of a key. The scan code decides where it can, so that
// the strings lie under the fingers on every national keyboard; a scan code of
// 0, or a system whose codes are not known, leaves it to the key's name.
func Find(system, name string, scan int) (Place, bool) {
	switch {
	case scan == 0 && system != "darwin":
	case system == "linux" || system == "freebsd" || system == "openbsd" || system == "netbsd":
		return findCode(scan - 8) // an X11 key code is the evdev code plus 8
	case system == "windows":
		return findCode(scan) // set 1 scan codes, from which evdev took its numbers
	case system == "darwin" && name != "":
		return findMac(scan)
	}
	return findName(name)
}

func findCode(code int) (Place, bool) {
	for row, first := range firstKey {
		if code >= first && code < first+Columns {
			return Place{row, code - first}, true
		}
	}
	return Place{}, false
}

func findMac(code int) (Place, bool) {
	for row, codes := range macKeys {
		for column, c := range codes {
			if c == code {
				return Place{row, column}, true
			}
		}
	}
	return Place{}, false
}

func findName(name string) (Place, bool) {
	if len(name) != 1 {
		return Place{}, false
	}
	for row, names := range rows {
		for column := range names {
			if names[column] == name[0] {
				return Place{row, column}, true
			}
		}
	}
	return Place{}, false
}

// Pitch returns the pitch of a key in octaves (0 = A4 = 440 Hz, the key at A),
// with the strings moved by a number of octaves. It is a whole number of
// semitones, as a quotient that every part of the program computes alike.
func Pitch(at Place, octave int) float64 {
	semitones := 5*(at.Row-1) + at.Column + 12*octave
	return float64(semitones) / 12
}

// Semitone returns the pitch in octaves of the semitone nearest to p.
func Semitone(p float64) float64 { return math.Round(p*12) / 12 }
