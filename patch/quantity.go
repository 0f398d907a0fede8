package patch

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// MaxText is the longest text of a setting, in characters.
const MaxText = 64

// quantity is a number with a unit as somebody wrote it. A missing unit is no
// fault here: only the control knows which one is meant.
type quantity struct {
	digits string // sign, digits and exponent as typed, with a decimal point
	suffix string // prefix and unit as they are written after a number ("kHz", "k", "")
	unit   string // base unit, "" if none was given
	exp    int    // power of ten of the prefix and of the exponent typed
	value  float64
}

// errWord tells a text that is no number at all ("sine") from a bad number.
var errWord = errors.New("is not a number")

var number = regexp.MustCompile(`^([+-]?) ?(\d+[.,]?\d*|[.,]\d+)(?:[eE]([+-]?\d+))?(.*)$`)

// units are the spellings of units in lower case. A prefix is a power of ten,
// so that 2.10 kHz is the float64 nearest to 2100 and not 2.1 times 1000.
var units = map[string]struct {
	unit, suffix string
	exp          int
	per          float64 // so many make one base unit; 0 is 1
}{
	"": {}, "k": {"", "k", 3, 0}, "m": {"", "m", -3, 0},
	"hz": {"Hz", "Hz", 0, 0}, "khz": {"Hz", "kHz", 3, 0}, "mhz": {"Hz", "mHz", -3, 0},
	"s": {"s", "s", 0, 0}, "ms": {"s", "ms", -3, 0}, "us": {"s", "us", -6, 0},
	"db": {"dB", "dB", 0, 0}, "%": {"%", "%", 0, 0}, "q": {"Q", "Q", 0, 0}, "x": {"x", "x", 0, 0},
	"deg": {"deg", "deg", 0, 0}, "degree": {"deg", "deg", 0, 0}, "degrees": {"deg", "deg", 0, 0}, "\u00b0": {"deg", "deg", 0, 0},
	"oct": {"oct", "oct", 0, 0}, "octave": {"oct", "oct", 0, 0}, "octaves": {"oct", "oct", 0, 0},
	"cent": {"oct", "cent", 0, 1200}, "cents": {"oct", "cent", 0, 1200},
	"step": {"steps", "steps", 0, 0}, "steps": {"steps", "steps", 0, 0},
	"semitone": {"oct", "semitone", 0, 12}, "semitones": {"oct", "semitone", 0, 12},
}

var spellings = strings.NewReplacer("\u2212", "-", "\u00d7", "x", "\u00b5", "u", "\u03bc", "u", "\u00a0", " ", "\u202f", " ", "\u2009", " ")

// parseQuantity reads "2.10 kHz", "Q 20", "20 Q", "-6 dB", "1.2e3 Hz", "2,1k".
func parseQuantity(text string) (quantity, error) {
	t := strings.TrimSpace(spellings.Replace(text))
	leading := ""
	if len(t) > 1 && strings.ContainsAny(t[:1], "QqXx") {
		leading, t = strings.ToLower(t[:1]), strings.TrimSpace(strings.TrimPrefix(strings.TrimSpace(t[1:]), "="))
	}
	part := number.FindStringSubmatch(t)
	if part == nil {
		return quantity{}, notNumber(t)
	}
	digits, err := decimalPoint(part[2])
	if err != nil {
		return quantity{}, err
	}
	spelt := strings.TrimSpace(part[4])
	if strings.HasPrefix(spelt, "M") && !strings.EqualFold(spelt, "ms") {
		return quantity{}, fmt.Errorf("%q would be mega; k and m are the prefixes here", spelt)
	}
	if leading != "" {
		if spelt != "" {
			return quantity{}, errWord
		}
		spelt = leading
	}
	u, ok := units[strings.ToLower(spelt)]
	if !ok {
		return quantity{}, errWord
	}
	q := quantity{digits: part[1] + digits, suffix: u.suffix, unit: u.unit}
	return q.evaluate(part[3], u.exp, u.per)
}

// evaluate works out the value of q from its digits, the exponent typed behind
// them, the power of ten of its prefix and the number that makes a base unit.
func (q quantity) evaluate(exponent string, exp int, per float64) (quantity, error) {
	typed := 0
	if exponent != "" {
		var err error
		if typed, err = strconv.Atoi(exponent); err != nil || typed > 999 || typed < -999 {
			return quantity{}, errors.New("its exponent is too large")
		}
	}
	q.exp = typed + exp
	v, err := strconv.ParseFloat(q.digits+"e"+strconv.Itoa(q.exp), 64)
	if err != nil {
		return quantity{}, errors.New("is too large for a number")
	}
	if exponent != "" {
		q.digits += "e" + exponent
	}
	q.value = v
	if per != 0 {
		q.value = v / per
	}
	return q, nil
}

func notNumber(t string) error {
	switch strings.ToLower(strings.Trim(strings.Fields(t + " .")[0], "+-")) {
	case "nan", "inf", "infinity":
		return errors.New("must be a finite number")
	}
	return errWord
}

// decimalPoint turns a decimal comma into a point. 2,100 is refused: it may be
// two thousand one hundred.
func decimalPoint(digits string) (string, error) {
	whole, part, comma := strings.Cut(digits, ",")
	if !comma {
		return digits, nil
	}
	if len(part) == 3 && whole != "" && strings.Trim(whole, "0") != "" && len(whole) <= 3 {
		return "", fmt.Errorf("%s may mean %s.%s or %s%s; write it with a point or without a comma", digits, whole, part, whole, part)
	}
	return whole + "." + part, nil
}

// text writes q as it was typed, in the unit it is taken for.
func (q quantity) text(unit string) string {
	suffix := q.suffix
	if q.unit == "" && unit != "" {
		suffix += unit
	}
	switch {
	case suffix == "":
		return q.digits
	case suffix == "Q":
		return "Q " + q.digits
	case q.unit == "" && unit == "":
		return q.digits + suffix
	}
	return q.digits + " " + suffix
}

// says reports whether text stands for exactly v in unit. A word stands for
// any number without a unit: it is the name of a choice.
func says(text string, v float64, unit string) bool {
	q, err := parseQuantity(text)
	if err == nil {
		return q.unit == unit && math.Float64bits(q.value) == math.Float64bits(v)
	}
	return text != "" && unit == ""
}
