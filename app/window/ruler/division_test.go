package ruler

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"lampblack/patch"
)

// seven pixels a character is near enough to a font for the arithmetic.
func plain(width float64) print {
	return print{width: width, gap: 8, measure: func(s string) float64 { return 7 * float64(len([]rune(s))) }}
}

func labels(marks []Division) string {
	var all []string
	for _, m := range marks {
		if m.Label != "" {
			all = append(all, m.Label)
		}
	}
	return strings.Join(all, " ")
}

func TestPrintedScales(t *testing.T) {
	cutoff := patch.Scale{Unit: "Hz", Min: 20, Max: 20000, Taper: patch.Logarithmic}
	level := patch.Scale{Unit: "dB", Min: -24, Max: 24}
	time := patch.Scale{Unit: "s", Min: 0.0001, Max: 60, Taper: patch.Logarithmic}
	share := patch.Scale{Unit: "%", Min: 1, Max: 99}
	shape := patch.Scale{Max: 3, Taper: patch.Stepped, Choices: []string{"sine", "triangle", "saw", "pulse"}}
	seed := patch.Scale{Max: 9999, Taper: patch.Stepped}
	for _, c := range []struct {
		name   string
		scale  patch.Scale
		width  float64
		want   string
		reason string
	}{
		{"a wide logarithmic scale", cutoff, 520, "20 50 100 200 500 1k 2k 5k 10k 20k", "1-2-5 is how slide rules are divided"},
		{"a narrow one", cutoff, 150, "20 100 1k 20k", "decades, less the one that would touch an end"},
		{"a narrower one", cutoff, 60, "20 1k 20k", "every third decade"},
		{"a very narrow one", cutoff, 45, "20 20k", "the ends"},
		{"almost no room", cutoff, 20, "20", "one number is better than two in each other"},
		{"a level", level, 520, "−24 −18 −12 −6 0 6 12 18 24", "parts of 12 dB"},
		{"a narrow level", level, 200, "−24 −12 0 12 24", "coarser parts of 12 dB"},
		{"a time", time, 520, "0.1 ms 1 ms 10 ms 100 ms 1 s 10 s 60 s", "times bear their unit"},
		{"odd ends", share, 300, "1 20 40 60 80 99", "ends are printed whatever they are"},
		{"choices", shape, 300, "sine triangle saw pulse", "every stop has its name"},
		{"narrow choices", shape, 150, "sine triangle saw pulse", "every other name stands below"},
		{"narrower choices", shape, 75, "sine pulse", "the stops between lose theirs"},
		{"whole numbers", seed, 300, "0 2000 4000 6000 8000 9999", "not 2k: these are names, not sizes"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := labels(divide(&c.scale, plain(c.width))); got != c.want {
				t.Errorf("printed %q, want %q: %s", got, c.want, c.reason)
			}
		})
	}
}

func TestLabelsNeverTouchAndMarksStandWhereTheirValueIs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		least := rapid.Float64Range(0.001, 1000).Draw(t, "least")
		s := patch.Scale{
			Min: least, Max: least * rapid.Float64Range(1.5, 1e6).Draw(t, "ratio"),
			Unit:  rapid.SampledFrom([]string{"Hz", "s", "dB", "%", ""}).Draw(t, "unit"),
			Taper: rapid.SampledFrom([]patch.Taper{patch.Linear, patch.Logarithmic}).Draw(t, "taper"),
		}
		p := plain(rapid.Float64Range(1, 3000).Draw(t, "width"))
		marks := divide(&s, p)
		if len(marks) == 0 || len(marks) > 1000 {
			t.Fatalf("%d marks", len(marks))
		}
		last := -1
		for i, m := range marks {
			if math.Abs(s.Fraction(m.Value)-m.At) > 1e-9 {
				t.Fatalf("the mark of %g stands at %g, not %g", m.Value, m.At, s.Fraction(m.Value))
			}
			if m.Label == "" {
				continue
			}
			if last >= 0 && (m.At-marks[last].At)*p.width < (p.measure(m.Label)+p.measure(marks[last].Label))/2 {
				t.Fatalf("%q and %q overlap at a width of %g", marks[last].Label, m.Label, p.width)
			}
			last = i
		}
	})
}

func TestPrintedNumbersAreThoseOfTheirMarks(t *testing.T) {
	s := patch.Scale{Unit: "Hz", Min: 20, Max: 20000, Taper: patch.Logarithmic}
	for _, m := range divide(&s, plain(900)) {
		if m.Label == "" {
			continue
		}
		var v float64
		if n, _ := fmt.Sscanf(m.Label, "%g", &v); n != 1 {
			t.Fatalf("label %q", m.Label)
		}
		if strings.HasSuffix(m.Label, "k") {
			v *= 1000
		}
		if v != m.Value {
			t.Errorf("%q is printed over %g", m.Label, m.Value)
		}
	}
}

func TestTwelveWordsHaveRoomOnAPanelOfTheSmallestWindow(t *testing.T) {
	words := strings.Fields("opened closed halves rising falls turned holds muted drummed reeds horns windy")
	s := patch.Scale{Max: 11, Taper: patch.Stepped, Choices: words}
	const scale = 430 // pixels on a window of 1280 by 800
	marks := divide(&s, plain(scale))
	if got := labelled(marks); got != 12 || !twoRows(marks) {
		t.Errorf("%d of 12 words are printed, in two rows: %v", got, twoRows(marks))
	}
}
