package command

import "strings"

// wrap breaks a text into lines of at most width letters, each after indent.
// Paragraphs and lines that begin with a space or a tab stay as they are.
func wrap(text string, width int, indent string) string {
	var lines []string
	for _, par := range strings.Split(strings.TrimSpace(text), "\n") {
		if par == "" || par[0] == ' ' || par[0] == '\t' {
			lines = append(lines, strings.TrimRight(indent+par, " "))
			continue
		}
		line := indent
		for _, word := range strings.Fields(par) {
			if len([]rune(line))+1+len([]rune(word)) > width && line != indent {
				lines = append(lines, line)
				line = indent
			}
			if line != indent {
				line += " "
			}
			line += word
		}
		lines = append(lines, line)
	}
	return strings.Join(lines, "\n")
}

// firstSentence returns the first sentence of a text without its full stop.
func firstSentence(text string) string {
	text = strings.Join(strings.Fields(text), " ")
	for i := 0; i+1 < len(text); i++ {
		if text[i] == '.' && text[i+1] == ' ' {
			return text[:i]
		}
	}
	return strings.TrimSuffix(text, ".")
}

// firstLine returns the first line of a note, cut to n letters.
func firstLine(text string, n int) string {
	line, _, _ := strings.Cut(strings.TrimSpace(text), "\n")
	if r := []rune(line); len(r) > n {
		return strings.TrimRight(string(r[:n-1]), " ,;:") + "…"
	}
	return line
}
