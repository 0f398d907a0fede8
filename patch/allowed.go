package patch

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Allowed says in words what the control may be set to: "1 Hz to 2.00 kHz, or
// Q 0.5 to Q 100", "sine, triangle or saw".
func (c *Control) Allowed() string {
	if names := c.Scales[0].Choices; names != nil {
		return enumerate(names)
	}
	parts := make([]string, len(c.Scales))
	for i, s := range c.Scales {
		parts[i] = Setting{Value: s.Min, Unit: s.Unit}.Exact() + " to " + Setting{Value: s.Max, Unit: s.Unit}.Exact()
		if s.Taper == Stepped {
			parts[i] += " in whole numbers"
		}
	}
	return strings.Join(parts, ", or ")
}

// AllowedDepth says in words how deep a cord may move a control on this scale.
func (s *Scale) AllowedDepth() string {
	parts := make([]string, len(s.Moves))
	for i, m := range s.Moves {
		most := Setting{Value: m.Max, Unit: m.Unit}
		least := Setting{Value: -m.Max, Unit: m.Unit}
		parts[i] = least.Exact() + " to " + signed(most.Exact(), m.Max)
	}
	return strings.Join(parts, ", or ")
}

// fault says what is wrong with s as a setting of c, or "".
func (c *Control) fault(s Setting) string {
	if math.IsNaN(s.Value) && s.Text != "" {
		return fmt.Sprintf("%q is not understood; allowed is %s", s.Text, c.Allowed())
	}
	i := c.Scale(s.Unit)
	if i < 0 {
		return fmt.Sprintf("%s is in the wrong unit; allowed is %s", s.Exact(), c.Allowed())
	}
	least, most := c.Scales[i].Min, c.Scales[i].Max
	if c.Scales[i].Choices != nil {
		least, most = 0, float64(len(c.Scales[i].Choices)-1)
	}
	stepped := c.Scales[i].Choices != nil || c.Scales[i].Taper == Stepped
	switch {
	case math.IsNaN(s.Value) || math.IsInf(s.Value, 0):
		return fmt.Sprintf("%s is not a finite number; allowed is %s", s.Exact(), c.Allowed())
	case s.Value < least || s.Value > most:
		return fmt.Sprintf("%s is out of range; allowed is %s", s.Exact(), c.Allowed())
	case stepped && s.Value != math.Trunc(s.Value):
		return fmt.Sprintf("%s is between two steps; allowed is %s", s.Exact(), c.Allowed())
	}
	return ""
}

// depthFault says what is wrong with s as a depth on this scale, or "".
func (s *Scale) depthFault(d Setting) string {
	move, ok := s.Move(d.Unit)
	switch {
	case math.IsNaN(d.Value) && d.Text != "":
		return fmt.Sprintf("depth %q is not understood; allowed is %s", d.Text, s.AllowedDepth())
	case !ok:
		return fmt.Sprintf("depth %s is in a unit that is not offered; allowed is %s", d.Exact(), s.AllowedDepth())
	case math.IsNaN(d.Value) || math.Abs(d.Value) > move.Max:
		return fmt.Sprintf("depth %s is out of range; allowed is %s", d.Exact(), s.AllowedDepth())
	}
	return ""
}

func enumerate(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:len(names)-1], ", ") + " or " + names[len(names)-1]
}

// hundredth returns q, which is in percent, as a fraction: 80 % is the float64
// nearest to 0.8.
func (q quantity) hundredth() float64 {
	mantissa, _, _ := strings.Cut(q.digits, "e")
	v, _ := strconv.ParseFloat(mantissa+"e"+strconv.Itoa(q.exp-2), 64)
	return v
}
