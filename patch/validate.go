package patch

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// MaxName is the longest name of a module, a patch or a file, in characters.
const MaxName = 80

// MaxPosition is the largest coordinate on the sheet.
const MaxPosition = 100_000

// Validate returns every fault of the patch as a use of those kinds, joined (see
// Faults), or nil. A loop is no fault: it is closed one sample late.
func (p Patch) Validate(k Kinds) error {
	v := validator{kinds: k, modules: make(map[string]*Module, len(p.Modules))}
	if len(p.Modules) > MaxModules {
		v.add("", "modules", "the patch has %d modules; allowed are %d", len(p.Modules), MaxModules)
	}
	if len(p.Cords) > MaxCords {
		v.add("", "cords", "the patch has %d cords; allowed are %d", len(p.Cords), MaxCords)
	}
	if len(v.faults) > 0 {
		return v.err() // thousands of further faults would hide this one
	}
	if message := nameFault(p.Name); p.Name != "" && message != "" {
		v.add("", "name", "%s", message)
	}
	for i := range p.Modules {
		v.module(&p.Modules[i], i)
	}
	seen := make(map[ends]bool, len(p.Cords))
	for _, c := range p.Cords {
		if seen[ends{c.From, c.To}] {
			v.add(c.To.Module, c.String(), "this cord stands twice; one cord joins an output to a place, its depth says how much")
		}
		seen[ends{c.From, c.To}] = true
		v.cord(c)
	}
	return v.err()
}

type validator struct {
	faults
	kinds   Kinds
	modules map[string]*Module
}

func (v *validator) module(m *Module, i int) {
	name := m.Name
	if message := nameFault(m.Name); message != "" {
		name = fmt.Sprintf("module %d", i+1)
		v.add(name, "", "%s", message)
	}
	if _, twice := v.modules[m.Name]; twice {
		v.add(name, "", "two modules bear this name; every module needs its own")
	} else {
		v.modules[m.Name] = m
	}
	if !(m.At.X >= 0 && m.At.X <= MaxPosition && m.At.Y >= 0 && m.At.Y <= MaxPosition) {
		v.add(name, "at", "it lies at %g, %g; allowed is 0 to %d", m.At.X, m.At.Y, MaxPosition)
	}
	kind, ok := v.kinds.Kind(m.Kind)
	if !ok {
		v.add(name, "", "there is no kind %q%s", m.Kind, nearest(m.Kind, v.kinds))
		return
	}
	v.settings(m, kind, name)
	v.recording(m.Recording, kind, name)
	v.rows(m, kind, name)
}

func (v *validator) settings(m *Module, kind *Kind, name string) {
	for _, place := range slices.Sorted(maps.Keys(m.Settings)) {
		c := kind.Control(place)
		if c == nil {
			v.add(name, place, "%s has no such control; it has %s", kind.Name, controlNames(kind))
			continue
		}
		s := m.Settings[place]
		if message := c.fault(s); message != "" {
			v.add(name, place, "%s", message)
		} else if message := c.textFault(s); message != "" {
			v.add(name, place, "%s", message)
		}
	}
}

// textFault says what is wrong with a text that would be written into a file
// instead of the value, or "".
func (c *Control) textFault(s Setting) string {
	if s.String() != s.Text {
		return "" // it is not written
	}
	names := c.Scales[0].Choices
	if len([]rune(s.Text)) > MaxText {
		return fmt.Sprintf("its text has %d characters; allowed are %d", len([]rune(s.Text)), MaxText)
	}
	if q, err := parseQuantity(s.Text); err == nil && q.value == s.Value {
		return ""
	}
	if names == nil || !strings.EqualFold(names[int(s.Value)], s.Text) {
		return fmt.Sprintf("its text %q is not its value %g; allowed is %s", s.Text, s.Value, c.Allowed())
	}
	return ""
}

func (v *validator) recording(r *Recording, kind *Kind, name string) {
	switch {
	case r == nil:
		return
	case kind.Symbol != "recording":
		v.add(name, "file", "%s plays no recording", kind.Name)
	case r.Name == "" && r.SHA256 == "":
		v.add(name, "file", "it names no file; give its name or its SHA-256")
	case !plain(r.Name) || utf8.RuneCountInString(r.Name) > 1024:
		v.add(name, "file", "%.40q is no file name; allowed are 1024 characters without control characters", r.Name)
	}
	if r.SHA256 != "" && (len(r.SHA256) != 64 || strings.Trim(r.SHA256, "0123456789abcdef") != "") {
		v.add(name, "file", "%.80q is no SHA-256; it has 64 digits of 0 to 9 and a to f", r.SHA256)
	}
}

func (v *validator) cord(c Cord) {
	place := c.String()
	from, to := v.modules[c.From.Module], v.modules[c.To.Module]
	if from == nil {
		v.add(c.From.Module, place, "the cord starts at a module that is not there")
	} else if kind, ok := v.kinds.Kind(from.Kind); ok && kind.Output(c.From.Name) < 0 {
		what := "%s has no output %q; it has %s"
		if kind.Input(c.From.Name) >= 0 {
			what = "%s / %s is an input, and a cord starts at an output; it has %s"
		}
		v.add(c.From.Module, place, what, kind.Name, c.From.Name, outputNames(kind))
	}
	if to == nil {
		v.add(c.To.Module, place, "the cord ends at a module that is not there")
		return
	}
	kind, ok := v.kinds.Kind(to.Kind)
	if !ok {
		return // told with the module
	}
	control, scale := target(to, c.To.Name, v.kinds)
	switch {
	case kind.Input(c.To.Name) >= 0:
		if c.Depth != (Setting{}) {
			v.add(c.To.Module, place, "a cord into an audio input has no depth; put an amplifier between")
		}
	case control == nil:
		v.add(c.To.Module, place, "%s has no input or control %q; it has %s", kind.Name, c.To.Name, endNames(kind))
	default:
		v.depth(c, control, scale)
	}
}

func (v *validator) depth(c Cord, control *Control, scale *Scale) {
	message := ""
	switch {
	case len(scale.Moves) == 0:
		message = fmt.Sprintf("no cord may end in %s", control.Name)
		if scale.Unit != "" {
			message += " while it is written in " + scale.Unit
		}
	case c.Depth == (Setting{}):
		message = "a cord into a control needs a depth; allowed is " + scale.AllowedDepth()
	default:
		message = scale.depthFault(c.Depth)
		if len([]rune(c.Depth.Text)) > MaxText {
			message = fmt.Sprintf("the depth's text has more than %d characters", MaxText)
		}
	}
	if message != "" {
		v.add(c.To.Module, c.String(), "%s", message)
	}
}

// nameFault says what is wrong with a name, or "".
func nameFault(name string) string {
	switch n := utf8.RuneCountInString(name); {
	case name == "":
		return "it has no name"
	case n > MaxName:
		return fmt.Sprintf("the name %q... has %d characters; allowed are %d", string([]rune(name)[:20]), n, MaxName)
	case !plain(name) || strings.Contains(name, "/"):
		return fmt.Sprintf("the name %q has a character that a name may not have; allowed is all but / and control characters", name)
	case strings.TrimSpace(name) != name:
		return fmt.Sprintf("the name %q starts or ends with a space", name)
	}
	return ""
}

// plain reports whether s is UTF-8 without control characters.
func plain(s string) bool {
	return utf8.ValidString(s) && !strings.ContainsFunc(s, unicode.IsControl)
}
