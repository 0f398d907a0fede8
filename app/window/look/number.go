package look

import "strings"

// Shown returns a value as it is set on the screen: a true minus sign before a
// figure, a multiplication sign for a lone x, a sign for plus or minus ("-6.0
// dB" is "−6.0 dB", "0.72 x" is "0.72 ×", "+-1" is "±1").
func Shown(value string) string {
	if value == "x" {
		return "×"
	}
	letters := []rune(strings.ReplaceAll(value, "+-", "±"))
	for i, r := range letters {
		if r == '-' && (i == 0 || letters[i-1] == ' ' || letters[i-1] == '(') && i+1 < len(letters) && isFigure(letters[i+1]) {
			letters[i] = '−'
		}
	}
	shown := string(letters)
	if strings.HasSuffix(shown, " x") {
		shown = strings.TrimSuffix(shown, "x") + "×"
	}
	return strings.ReplaceAll(shown, " x ", " × ")
}

// Typed undoes Shown: what a person copies from the screen can be typed again.
func Typed(shown string) string {
	return strings.NewReplacer("−", "-", "±", "+-", "×", "x", "\u202f", " ", "\u2009", " ").Replace(shown)
}

func isFigure(r rune) bool { return r == '.' || r >= '0' && r <= '9' }
