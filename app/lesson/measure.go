package lesson

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"lampblack/patch"
	"lampblack/patch/strict"
)

// Measure says what is measured, where and when.
type Measure struct {
	What   string       // one of Measures
	At     patch.Socket // an output of the patch
	Beside patch.Socket // of width, ratio and gain: the output that At is compared with
	Line   string       // of line: an expression for its frequency in Hz
	Re     string       // of line: the same for the line that it is compared with; "" is full scale
	Down   float64      // of lines: how far under the strongest they still count, in dB
	Below  float64      // of lines: up to which frequency they count, in Hz
	From   float64      // seconds into the sound
	For    float64      // seconds
}

// Rate is how many samples a second are measured, and Least how many seconds at
// least.
const (
	Rate  = 48000
	Least = 0.05
)

// stretch is what a measure gets: the sound of At and of Beside.
type stretch struct {
	samples, beside []float64
	line, re        float64 // Hz; re is 0 for full scale
	Measure
}

// measures are the words for Measure.What.
var measures = map[string]struct {
	unit      string
	help      string
	keys      []string // what it wants beside "what" and "at"
	predicted bool     // package predict gives a theory for it
	of        func(s stretch) (float64, error)
}{
	"frequency": {"Hz", "how often a second the signal comes up through its middle", nil, false, frequency},
	"ratio":     {"", "the frequency at \"at\" over that at \"beside\"", []string{"beside"}, false, ratio},
	"gain":      {"dB", "RMS at \"at\" over that at \"beside\"", []string{"beside"}, false, gain},
	"level":     {"dB", "RMS, re an RMS of 1", nil, false, level},
	"line":      {"dB", "level of the line at \"line\" Hz, re the line at \"re\" Hz, or re a sine of full scale", []string{"line", "re?"}, true, line},
	"lines":     {"", "how many lines stand below \"below\", at most \"down\" under the strongest", []string{"down", "below"}, true, lines},
	"beats":     {"Hz", "the strongest rate at which the amplitude moves, 0.5 to 300 Hz", nil, false, beats},
	"swing":     {"cents", "from the lowest to the highest pitch of single cycles", nil, false, swing},
	"width":     {"Hz", "between the points 3.01 dB down of the way from \"beside\" to \"at\"", []string{"beside"}, false, width},
	"rise":      {"ms", "from 10 to 90 % of the highest value", nil, false, rise},
	"T60":       {"s", "how long a fall of 60 dB takes, from the slope between -5 and -35 dB", nil, false, t60},
	"duty":      {"%", "how much of the time the signal is above its middle", nil, false, duty},
	"jumps":     {"Hz", "how often a second the value changes that is held between", nil, false, jumps},
}

// Measures returns the words for Measure.What, each with its unit and with what
// is measured.
func Measures() (names []string, unit, help map[string]string) {
	unit, help = map[string]string{}, map[string]string{}
	for name, m := range measures {
		names = append(names, name)
		unit[name], help[name] = m.unit, m.help
	}
	slices.Sort(names)
	return names, unit, help
}

func (r *reader) measure(v strict.Value, q Question, place string) (m Measure) {
	names, _, _ := Measures()
	m.What = words(member(v, "what"))
	known, ok := measures[m.What]
	if !ok && m.What != "" {
		r.at(place)(member(v, "what").Line, fmt.Sprintf("%q is not known; known are %s", m.What, strings.Join(names, ", ")))
		return m
	}
	f := v.Fields(r.at(place), append([]string{"what", "at", "from", "for"}, known.keys...)...)
	m.At, m.Beside = r.output(f, "at", place), r.output(f, "beside", place)
	m.Line, m.Re = r.formula(f, "line", q, place), r.formula(f, "re", q, place)
	m.From = r.quantity(f, "from", place, "s", 0, 30)
	m.For = r.quantity(f, "for", place, "s", Least, 30)
	m.Down = r.quantity(f, "down", place, "dB", 1, 90)
	m.Below = r.quantity(f, "below", place, "Hz", 20, 20_000)
	return m
}

// quantity reads a number with its unit.
func (r *reader) quantity(f map[string]strict.Value, key, place, unit string, least, most float64) float64 {
	v, ok := f[key]
	if !ok {
		return 0
	}
	c := patch.Control{Name: key, Scales: []patch.Scale{{Unit: unit, Min: least, Max: most}}}
	t := r.words(v, place)
	if t == "" {
		return 0
	}
	s, err := patch.ParseSetting(t, &c)
	if err == nil && (s.Value < least || s.Value > most) {
		err = fmt.Errorf("%s is out of range; allowed is %s", t, c.Allowed())
	}
	if err != nil {
		r.at(place)(v.Line, fmt.Sprintf("%s: %v", key, err))
	}
	return s.Value
}

// Errors of measuring: what is asked for is not there.
var (
	errNoTone  = errors.New("no steady tone was found there")
	errSilent  = errors.New("it is silent there")
	errNoFall  = errors.New("the sound does not fall by 35 dB while it is measured")
	errNoMove  = errors.New("the amplitude does not move there")
	errNoJumps = errors.New("the value does not jump twice there")
	errNoHalf  = errors.New("the points 3.01 dB down were not found")
)
