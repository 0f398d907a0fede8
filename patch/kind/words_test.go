package kind_test

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"lampblack/patch"
	"lampblack/patch/kind"
)

// The first sentence stands alone in lists; lines are read 80 columns wide.
func TestHelpIsBuiltAlike(t *testing.T) {
	for _, k := range kind.All() {
		first := firstSentence(k.Help)
		if n := len([]rune(first)); n > 110 {
			t.Errorf("%s: the first sentence has %d letters: %s", k.Name, n, first)
		}
		if !regexp.MustCompile(`(?m)^Sources?: |^Source: | Sources?: `).MatchString(k.Help) {
			t.Errorf("%s: the help names no source", k.Name)
		}
		for _, line := range strings.Split(k.Help, "\n") {
			if len([]rune(line)) > 80 || line != "" && line[0] != ' ' && len([]rune(line)) > 78 {
				t.Errorf("%s: a line of the help runs past its column: %s", k.Name, line)
			}
		}
	}
}

func firstSentence(help string) string {
	first, _, _ := strings.Cut(strings.Join(strings.Fields(help), " "), ". ")
	return first
}

// What a control's help says is what its scales say: both ends, and how a cord
// moves it.
func TestHelpOfControlsAgreesWithTheirScales(t *testing.T) {
	for _, k := range kind.All() {
		for _, c := range k.Controls {
			where := k.Name + " / " + c.Name
			if !c.Fixed && !strings.Contains(c.Help, "A cord ") {
				t.Errorf("%s: the help does not say what a cord does", where)
			}
			if c.Fixed != strings.Contains(c.Help, "No cord moves it.") {
				t.Errorf("%s: the help and Fixed disagree", where)
			}
			if !strings.HasSuffix(strings.TrimRight(c.Help, ")"), ".") {
				t.Errorf("%s: the help does not end in a full stop", where)
			}
			for _, s := range c.Scales {
				checkRange(t, where, c.Help, &s)
			}
		}
		if k.Table == nil {
			continue
		}
		for _, c := range k.Table.Columns {
			checkRange(t, k.Name+" / rows / "+c.Name, c.Help, &c.Scale)
		}
	}
}

func checkRange(t *testing.T, where, help string, s *patch.Scale) {
	for _, word := range s.Choices {
		if !strings.Contains(strings.ToLower(help), word) {
			t.Errorf("%s: the help does not explain %q", where, word)
		}
	}
	if s.Choices != nil {
		return
	}
	for _, end := range []float64{s.Min, s.Max} {
		if !tells(help, end, s.Unit) {
			t.Errorf("%s: the help does not say %s: %s", where, patch.FormatValue(end, s.Unit), help)
		}
	}
	// Level's first move is a factor, a gain's dB: the help names the usual one first.
	factor, dB := strings.Index(help, "factor"), strings.LastIndex(help, "in dB")
	if slices.Contains(s.Moves, patch.Factor) && (factor < 0 || dB < 0 || (s.Moves[0].Unit == "x") != (factor < dB)) {
		t.Errorf("%s: a cord moves it by %v, the help says otherwise: %s", where, s.Moves, help)
	}
}

var numbers = regexp.MustCompile(`([+-]?[0-9][0-9,.]*[0-9]|[0-9])( (?:kHz|ms|us|cents?|semitones))?`)

// tells reports whether a text says a value, in its unit or a part of it.
func tells(help string, v float64, unit string) bool {
	factor := map[string]float64{" kHz": 1000, " ms": 0.001, " us": 1e-6, " cents": 1.0 / 1200, " cent": 1.0 / 1200}
	unitAfter := map[string]string{"Hz": " kHz", "s": " ms", "oct": " cents"}[unit]
	for _, m := range numbers.FindAllStringSubmatch(help, -1) {
		n, err := strconv.ParseFloat(strings.ReplaceAll(m[1], ",", ""), 64)
		if err != nil {
			continue
		}
		scales := []float64{1}
		if f, ok := factor[m[2]]; ok {
			scales = []float64{f}
		}
		if unitAfter != "" && strings.Contains(help, unitAfter) { // "0.1 to 40 ms"
			scales = append(scales, factor[unitAfter])
		}
		for _, f := range scales {
			if math.Abs(math.Abs(n)*f-math.Abs(v)) < 1e-9+1e-9*math.Abs(v) {
				return true
			}
		}
	}
	return false
}
