package patch

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
)

// JSON returns the patch as a file for Read: modules and cords in their order,
// settings by name, one cord a line, so that two patches can be compared line
// by line. Values keep the text they were typed as, and otherwise lose no bit.
// It ends in a newline. What Validate refuses may not be readable.
func (p Patch) JSON() []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "{\n  %q: %d,\n  \"name\": %s,\n  \"seed\": %d,\n  \"modules\": [", versionKey, Version, quote(p.Name), p.Seed)
	for i, m := range p.Modules {
		b.WriteString(comma(i) + "\n    ")
		m.write(&b)
	}
	b.WriteString(closing(len(p.Modules)) + ",\n  \"cords\": [")
	for i, c := range p.Cords {
		fmt.Fprintf(&b, "%s\n    {\"from\": %s, \"to\": %s", comma(i), quote(c.From.String()), quote(c.To.String()))
		if c.Depth != (Setting{}) {
			fmt.Fprintf(&b, ", \"depth\": %s", quote(c.Depth.exactDepth()))
		}
		b.WriteString("}")
	}
	b.WriteString(closing(len(p.Cords)) + "\n}\n")
	return b.Bytes()
}

func (m Module) write(b *bytes.Buffer) {
	fmt.Fprintf(b, "{\n      \"name\": %s,\n      \"kind\": %s,\n      \"at\": [%s, %s]", quote(m.Name), quote(m.Kind), digits(m.At.X), digits(m.At.Y))
	if len(m.Settings) > 0 {
		b.WriteString(",\n      \"settings\": {")
		for i, name := range slices.Sorted(maps.Keys(m.Settings)) {
			fmt.Fprintf(b, "%s\n        %s: %s", comma(i), quote(name), quote(m.Settings[name].Exact()))
		}
		b.WriteString("\n      }")
	}
	if m.Rows != nil {
		b.WriteString(",\n      \"rows\": [")
		for i, row := range m.Rows {
			b.WriteString(comma(i) + "\n        [")
			for k, x := range row {
				if k > 0 {
					b.WriteString(", ")
				}
				b.WriteString(digits(x))
			}
			b.WriteString("]")
		}
		b.WriteString(strings.Repeat("\n      ", min(len(m.Rows), 1)) + "]")
	}
	if r := m.Recording; r != nil {
		fmt.Fprintf(b, ",\n      \"file\": {\"name\": %s", quote(r.Name))
		if r.SHA256 != "" {
			fmt.Fprintf(b, ", \"sha256\": %s", quote(r.SHA256))
		}
		b.WriteString("}")
	}
	b.WriteString("\n    }")
}

// exactDepth is Exact with a sign.
func (s Setting) exactDepth() string { return signed(s.Exact(), s.Value) }

func comma(i int) string { return strings.Repeat(",", min(i, 1)) }

func closing(items int) string {
	if items == 0 {
		return "]"
	}
	return "\n  ]"
}

func quote(s string) string {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false) // "<" in a name stays readable
	if e.Encode(s) != nil {
		return `""` // not reached: a string can always be encoded
	}
	return strings.TrimSuffix(b.String(), "\n")
}

// digits writes a number with all its bits. NaN and infinity, which Validate
// refuses, have no form in JSON.
func digits(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "null"
	}
	b, _ := json.Marshal(v) // the only error is a number that is not finite
	return string(b)
}
