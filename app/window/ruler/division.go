package ruler

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"lampblack/patch"
)

// Division is one mark of a printed scale.
type Division struct {
	At     float64 // 0 at the left end of the scale, 1 at the right
	Value  float64 // in the scale's unit
	Height Height
	Label  string // what is printed over it, "" for most
	Below  bool   // the label is printed under the base line: there are too many for one row
}

// Height is how tall a mark is.
type Height int

const (
	Low Height = iota
	Middle
	Tall
)

// leastGap is how far two marks stand apart at least, in pixels.
const leastGap = 4

// print is what a division depends on besides the scale.
type print struct {
	width   float64              // of the scale, in pixels
	gap     float64              // least room between two labels, in pixels
	signed  bool                 // numbers above 0 bear a plus sign
	hang    float64              // how far a label may hang over an end, in pixels; 0 is half of it
	measure func(string) float64 // width of a label, in pixels
}

// divide returns the marks of a scale that is printed so, by rising place.
// Labels don't touch: both ends are labelled first, then as fine a step as has
// room throughout.
func divide(s *patch.Scale, p print) []Division {
	switch {
	case s.Choices != nil:
		return p.stops(s.Choices)
	case s.Taper == patch.Logarithmic:
		return p.logarithmic(s)
	}
	return p.linear(s)
}

func (p print) stops(names []string) []Division {
	marks := make([]Division, len(names))
	for i, name := range names {
		marks[i] = Division{Value: float64(i), Height: Tall, Label: name}
		if len(names) > 1 {
			marks[i].At = float64(i) / float64(len(names)-1)
		}
	}
	if p.collide(marks) {
		for i := range marks {
			marks[i].Below = i%2 == 1
		}
	}
	if p.collide(marks) {
		for i := range marks {
			marks[i].Below = false
			if i > 0 && i < len(marks)-1 {
				marks[i].Label = ""
			}
		}
	}
	if p.collide(marks) {
		marks[len(marks)-1].Label = ""
	}
	return marks
}

// logarithmic divides each decade by 1, 2 and 5, and finer where there is room.
func (p print) logarithmic(s *patch.Scale) []Division {
	decade := p.width / math.Log10(s.Max/s.Min)
	var steps []float64
	switch {
	case decade*math.Log10(2/1.9) >= leastGap:
		for v := 10; v < 20; v++ {
			steps = append(steps, float64(v)/10)
		}
		steps = append(steps, 2, 2.5, 3, 3.5, 4, 4.5, 5, 6, 7, 8, 9)
	case decade*math.Log10(10./9) >= leastGap-1:
		steps = []float64{1, 2, 3, 4, 5, 6, 7, 8, 9}
	case decade*math.Log10(2) >= leastGap:
		steps = []float64{1, 2, 5}
	default:
		steps = []float64{1}
	}
	marks := p.ends(s)
	for exponent := math.Floor(math.Log10(s.Min)); exponent <= math.Ceil(math.Log10(s.Max)); exponent++ {
		for _, step := range steps {
			v := decimal(step, int(exponent))
			if v > s.Min*(1+1e-9) && v < s.Max*(1-1e-9) {
				marks = append(marks, Division{At: s.Fraction(v), Value: v, Height: heightOfStep(step)})
			}
		}
	}
	return p.label(s, marks, func(level int, v float64) bool {
		first := leading(v)
		exponent := int(math.Round(math.Log10(v / first)))
		switch level {
		case 0:
			return first == 1 && exponent%3 == 0
		case 1:
			return first == 1
		}
		return first == 1 || first == 2 || first == 5
	}, 3)
}

func heightOfStep(step float64) Height {
	switch step {
	case 1:
		return Tall
	case 2, 5:
		return Middle
	}
	return Low
}

// decimal is step times 10^exponent without the error of a power.
func decimal(step float64, exponent int) float64 {
	v, _ := strconv.ParseFloat(strconv.FormatFloat(step, 'f', -1, 64)+"e"+strconv.Itoa(exponent), 64)
	return v
}

// leading returns the first digits of v as a number of 1 to below 10.
func leading(v float64) float64 {
	digits, _, _ := strings.Cut(strconv.FormatFloat(v, 'e', 3, 64), "e")
	first, _ := strconv.ParseFloat(digits, 64)
	return first
}

// linear divides by a step of 1, 2 or 5 times a power of ten, a level by parts
// of 12 dB, an angle by parts of 90 degrees.
func (p print) linear(s *patch.Scale) []Division {
	steps := stepsFor(s)
	// Even steps may stand further apart: they are easier to read between.
	p.gap *= 2.5
	pixels := p.width / (s.Max - s.Min)
	fine := slices.IndexFunc(steps, func(step float64) bool { return step*pixels >= leastGap })
	if fine < 0 {
		return p.label(s, p.ends(s), func(int, float64) bool { return false }, 0)
	}
	for major := fine; major < len(steps); major++ {
		marks := p.label(s, p.ruled(s, steps, fine, major), func(_ int, v float64) bool {
			return multiple(v, steps[major])
		}, 1)
		if len(marks) > 0 && labelled(marks) > 2 || major == len(steps)-1 {
			return marks
		}
	}
	return nil
}

// ruled returns the marks of the scale: tall at each major step, low at the
// finest step that divides it.
func (p print) ruled(s *patch.Scale, steps []float64, fine, major int) []Division {
	step := steps[major]
	for i := fine; i < major; i++ {
		if multiple(steps[major], steps[i]) {
			step = steps[i]
			break
		}
	}
	marks := p.ends(s)
	for i := math.Ceil(s.Min/step - 1e-9); i*step <= s.Max*(1+1e-12); i++ {
		v := i * step
		if v-s.Min < step*1e-6 || s.Max-v < step*1e-6 {
			continue
		}
		height := Low
		if multiple(v, steps[major]) {
			height = Tall
		}
		marks = append(marks, Division{At: s.Fraction(v), Value: v, Height: height})
	}
	return marks
}

func stepsFor(s *patch.Scale) []float64 {
	switch {
	case s.Unit == "dB":
		return []float64{0.5, 1, 2, 3, 6, 12, 24, 48, 96}
	case strings.HasPrefix(s.Unit, "deg"), s.Unit == "°":
		return []float64{1, 5, 15, 30, 45, 90, 180}
	}
	var steps []float64
	top := int(math.Ceil(math.Log10(s.Max - s.Min)))
	for exponent := top - 4; exponent <= top; exponent++ {
		for _, first := range []float64{1, 2, 5} {
			step := decimal(first, exponent)
			if s.Taper != patch.Stepped || step >= 1 {
				steps = append(steps, step)
			}
		}
	}
	return steps
}

func multiple(v, of float64) bool {
	n := v / of
	return math.Abs(n-math.Round(n)) < 1e-6
}

func (p print) ends(s *patch.Scale) []Division {
	return []Division{
		{At: 0, Value: s.Min, Height: Tall, Label: p.text(s, s.Min)},
		{At: 1, Value: s.Max, Height: Tall, Label: p.text(s, s.Max)},
	}
}

// label prints numbers over the marks that wanted names for the finest of
// levels 0 to levels-1 at which they don't touch each other. A number that
// would touch an end of the scale is left out.
func (p print) label(s *patch.Scale, marks []Division, wanted func(level int, v float64) bool, levels int) []Division {
	slices.SortFunc(marks, func(a, b Division) int {
		switch {
		case a.At < b.At:
			return -1
		case a.At > b.At:
			return 1
		}
		return 0
	})
	for level := levels - 1; level >= 0; level-- {
		tried := slices.Clone(marks)
		for i := 1; i < len(tried)-1; i++ {
			if m := &tried[i]; wanted(level, m.Value) {
				m.Label = p.text(s, m.Value)
				if p.touch(tried[0], *m) || p.touch(*m, tried[len(tried)-1]) {
					m.Label = ""
				}
			}
		}
		if !p.collide(tried) {
			return tried
		}
	}
	if p.collide(marks) {
		marks[len(marks)-1].Label = ""
	}
	return marks
}

func (p print) touch(a, b Division) bool {
	return p.middle(b)-p.middle(a) < (p.measure(a.Label)+p.measure(b.Label))/2+p.gap
}

// middle returns where the middle of a label stands, in pixels from the left
// end of the scale: over its mark, or as near to it as it may hang over an end.
func (p print) middle(m Division) float64 {
	x := m.At * p.width
	if p.hang == 0 {
		return x
	}
	half := p.measure(m.Label) / 2
	return max(min(x, p.width+p.hang-half), half-p.hang)
}

// collide tells whether any two neighbouring labels of a row touch.
func (p print) collide(marks []Division) bool {
	last := [2]int{-1, -1}
	for i, m := range marks {
		if m.Label == "" {
			continue
		}
		row := 0
		if m.Below {
			row = 1
		}
		if last[row] >= 0 && p.touch(marks[last[row]], m) {
			return true
		}
		last[row] = i
	}
	return false
}

// twoRows tells whether labels are printed under the base line as well.
func twoRows(marks []Division) bool {
	return slices.ContainsFunc(marks, func(m Division) bool { return m.Below })
}

func labelled(marks []Division) (n int) {
	for _, m := range marks {
		if m.Label != "" {
			n++
		}
	}
	return n
}

// text is a number as it is printed on a scale: "20", "5k", "−6", "10 ms".
func (p print) text(s *patch.Scale, v float64) string {
	number := func(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }
	var text string
	switch size := math.Abs(v); {
	case s.Unit == "s" && size < 1 && size > 0:
		text = number(v*1000) + " ms"
	case s.Unit == "s":
		text = number(v) + " s"
	case size >= 1000 && s.Taper != patch.Stepped:
		text = number(v/1000) + "k"
	default:
		text = number(v)
	}
	if p.signed && v > 0 {
		text = "+" + text
	}
	return strings.Replace(text, "-", "−", 1)
}
