package patch

import (
	"fmt"
	"math"
	"strings"
)

// String returns what is written on the sheet: Text as long as it says Value,
// otherwise FormatValue.
func (s Setting) String() string {
	if says(s.Text, s.Value, s.Unit) || s.word() {
		return s.Text
	}
	return FormatValue(s.Value, s.Unit)
}

// Signed returns what is written beside a cord: the depth with its sign.
func (s Setting) Signed() string { return signed(s.String(), s.Value) }

// Exact returns what is written into files: String when that says Value to the
// last bit, otherwise all digits of Value.
func (s Setting) Exact() string {
	if t := s.String(); says(t, s.Value, s.Unit) || s.word() {
		return t
	}
	return exactly(s.Value, s.Unit)
}

// word reports whether s is a text that no control has explained yet.
func (s Setting) word() bool { return math.IsNaN(s.Value) && s.Text != "" }

func signed(text string, v float64) string {
	digits, q := strings.CutPrefix(text, "Q ")
	if math.IsNaN(v) || strings.ContainsAny(digits[:min(1, len(digits))], "+-\u2212") {
		return text
	}
	if q {
		return "Q +" + digits
	}
	return "+" + digits
}

// Rounded returns the setting that FormatValue writes: a value taken from a
// ruler, with no more digits than are shown.
func Rounded(v float64, unit string) Setting {
	s := Setting{Value: v, Unit: unit, Text: FormatValue(v, unit)}
	if q, err := parseQuantity(s.Text); err == nil {
		s.Value = q.value
	}
	return s
}

// Choice returns the setting for choice i of a control, 0 to the number of
// choices less 1. It panics if there is no such choice.
func (c *Control) Choice(i int) Setting {
	return Setting{Value: float64(i), Text: c.Scales[0].Choices[i]}
}

// ParseSetting reads a setting of control c as somebody types it: "2.1k",
// "2.10 kHz", "Q 20", "20 Q", "-6 dB", "2,1 kHz", "sine". Without a unit it is
// in the control's first one. The digits are kept in Text. An error says what
// is allowed.
func ParseSetting(text string, c *Control) (Setting, error) {
	return ParseSettingIn(text, c, c.Scales[0].Unit)
}

// ParseSettingIn is ParseSetting for a control that stands in unit: a number
// without a unit is in that one.
func ParseSettingIn(text string, c *Control, unit string) (Setting, error) {
	s, err := c.read(text, unit)
	if err != nil {
		return Setting{}, fmt.Errorf("%s: %w", c.Name, err)
	}
	if message := c.fault(s); message != "" {
		return Setting{}, fmt.Errorf("%s: %s", c.Name, message)
	}
	return s, nil
}

// read is ParseSettingIn without the range.
func (c *Control) read(text, unit string) (Setting, error) {
	if choices := c.Scales[0].Choices; choices != nil {
		return c.readChoice(strings.TrimSpace(text))
	}
	if len([]rune(text)) > MaxText {
		return Setting{}, fmt.Errorf("a setting has at most %d characters; allowed is %s", MaxText, c.Allowed())
	}
	q, err := parseQuantity(text)
	if err != nil {
		return Setting{}, fmt.Errorf("%q %w; allowed is %s", text, err, c.Allowed())
	}
	if q.unit != "" {
		unit = q.unit
	} else if q.suffix != "" && unit != "Hz" && unit != "s" && unit != "" {
		return Setting{}, fmt.Errorf("%q: %s takes no prefix; allowed is %s", text, unit, c.Allowed())
	}
	return Setting{Value: q.value, Unit: unit, Text: q.text(unit)}, nil
}

func (c *Control) readChoice(text string) (Setting, error) {
	for i, name := range c.Scales[0].Choices {
		if strings.EqualFold(name, text) {
			return c.Choice(i), nil
		}
	}
	q, err := parseQuantity(text)
	if i := int(q.value); err == nil && q.unit == "" && float64(i) == q.value && i >= 0 && i < len(c.Scales[0].Choices) {
		return c.Choice(i), nil
	}
	return Setting{}, fmt.Errorf("%q is no choice; allowed is %s", text, c.Allowed())
}

// ParseDepth reads the depth of a cord into control c: "+0.8 oct", "-6 dB",
// "30 cent", "80 %" (which is 0.8 of a factor). Without a unit it is in the
// first one that the control offers. Text bears a sign.
func ParseDepth(text string, c *Control) (Setting, error) {
	for i := range c.Scales {
		if len(c.Scales[i].Moves) == 0 {
			continue
		}
		s, err := c.readDepth(text, &c.Scales[i])
		if err == nil {
			if message := c.Scales[i].depthFault(s); message != "" {
				err = fmt.Errorf("%s", message)
			}
		}
		if err == nil {
			return s, nil
		}
		if i == len(c.Scales)-1 || c.otherOffers(s.Unit, i) < 0 {
			return Setting{}, fmt.Errorf("depth into %s: %w", c.Name, err)
		}
	}
	return Setting{}, fmt.Errorf("no cord may end in %s", c.Name)
}

// otherOffers returns the number of a scale after i that a cord may move in
// unit, or -1.
func (c *Control) otherOffers(unit string, i int) int {
	for j := i + 1; j < len(c.Scales); j++ {
		if _, ok := c.Scales[j].Move(unit); ok {
			return j
		}
	}
	return -1
}

// readDepth is ParseDepth for one scale and without the range. The unit comes
// back even with an error.
func (c *Control) readDepth(text string, scale *Scale) (Setting, error) {
	q, err := parseQuantity(text)
	if err != nil || len([]rune(text)) > MaxText {
		return Setting{}, fmt.Errorf("%q is no depth; allowed is %s", text, scale.AllowedDepth())
	}
	unit := q.unit
	if unit == "" {
		unit = scale.Moves[0].Unit
	}
	if unit == "%" {
		_, percent := scale.Move("%")
		if _, factor := scale.Move("x"); factor && !percent {
			return Setting{Value: q.hundredth(), Unit: "x"}, nil
		}
	}
	if _, ok := scale.Move(unit); !ok {
		return Setting{Unit: unit}, fmt.Errorf("%s is not offered; allowed is %s", unit, scale.AllowedDepth())
	}
	return Setting{Value: q.value, Unit: unit, Text: signed(q.text(unit), q.value)}, nil
}
