package notebook

import (
	"cmp"
	"slices"
	"strings"
)

// sortCues puts cues in the order of a cue sheet: digits count as numbers.
func sortCues(cues []Cue) {
	slices.SortStableFunc(cues, func(a, b Cue) int { return compareNumbers(a.Number, b.Number) })
}

// compareNumbers compares two cue numbers piece by piece, runs of digits by
// their value and the rest letter by letter: 1M2 < 1M10 < 2M1.
func compareNumbers(a, b string) int {
	whole := strings.Compare(a, b)
	for a != "" && b != "" {
		x, y := piece(a), piece(b)
		a, b = a[len(x):], b[len(y):]
		if isDigit(x[0]) && isDigit(y[0]) {
			x, y = strings.TrimLeft(x, "0"), strings.TrimLeft(y, "0")
			if c := cmp.Compare(len(x), len(y)); c != 0 { // of any length: no number type to overflow
				return c
			}
		}
		if c := strings.Compare(x, y); c != 0 {
			return c
		}
	}
	if c := cmp.Compare(len(a), len(b)); c != 0 {
		return c
	}
	return whole // 1M04 and 1M4
}

// piece returns the run of digits or of other bytes that s begins with.
func piece(s string) string {
	for i := 1; i < len(s); i++ {
		if isDigit(s[i]) != isDigit(s[0]) {
			return s[:i]
		}
	}
	return s
}

func isDigit(c byte) bool { return '0' <= c && c <= '9' }
