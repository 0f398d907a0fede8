package strict

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// Report is told each fault: the line, and a sentence about what stands there.
type Report func(line int, message string)

// Fields returns the members of an object by key. Unknown keys are reported, and
// so are missing ones; a known key with a "?" behind it may be missing.
func (v Value) Fields(tell Report, known ...string) map[string]Value {
	if v.token != json.Delim('{') {
		tell(v.Line, v.what()+" stands where an object { } must be")
		return nil
	}
	fields := map[string]Value{}
	for _, m := range v.Members {
		if !slices.Contains(known, m.Key) && !slices.Contains(known, m.Key+"?") {
			tell(m.Line, fmt.Sprintf("%q is not known here; known are %s", m.Key, strings.ReplaceAll(strings.Join(known, ", "), "?", "")))
			continue
		}
		fields[m.Key] = m.Value
	}
	for _, key := range known {
		if _, ok := fields[key]; !ok && !strings.HasSuffix(key, "?") {
			tell(v.Line, fmt.Sprintf("%q is missing", key))
		}
	}
	return fields
}

// Object returns the members of an object whose keys are names.
func (v Value) Object(tell Report) []Member {
	if v.token != json.Delim('{') {
		tell(v.Line, v.what()+" stands where an object { } must be")
	}
	return v.Members
}

// Array returns the values of an array.
func (v Value) Array(tell Report) []Value {
	if v.token != json.Delim('[') {
		tell(v.Line, v.what()+" stands where an array [ ] must be")
	}
	return v.Items
}

// Text returns a text.
func (v Value) Text(tell Report) string {
	s, ok := v.token.(string)
	if !ok {
		tell(v.Line, v.what()+" stands where a text in quotes must be")
	}
	return s
}

// Number returns a finite number.
func (v Value) Number(tell Report) float64 {
	n, ok := v.token.(json.Number)
	if !ok {
		tell(v.Line, v.what()+" stands where a number must be")
		return 0
	}
	f, err := n.Float64()
	if err != nil || math.IsInf(f, 0) || math.IsNaN(f) {
		tell(v.Line, n.String()+" is too large for a number")
		return 0
	}
	return f
}

// Whole returns a whole number of 0 to 18446744073709551615.
func (v Value) Whole(tell Report) uint64 {
	n, ok := v.token.(json.Number)
	u, err := strconv.ParseUint(n.String(), 10, 64)
	if !ok || err != nil {
		tell(v.Line, v.what()+" stands where a whole number of 0 to 18446744073709551615 must be")
		return 0
	}
	return u
}

// Bool returns true or false.
func (v Value) Bool(tell Report) bool {
	b, ok := v.token.(bool)
	if !ok {
		tell(v.Line, v.what()+" stands where true or false must be")
	}
	return b
}

// what names v in a sentence.
func (v Value) what() string {
	switch t := v.token.(type) {
	case string:
		return "the text " + strconv.Quote(shorten(t))
	case json.Number:
		return "the number " + shorten(t.String())
	case bool:
		return strconv.FormatBool(t)
	case json.Delim:
		return map[json.Delim]string{'[': "an array", '{': "an object"}[t]
	}
	return "null"
}

func shorten(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "..."
	}
	return s
}

// IsNumber reports whether v is a number.
func (v Value) IsNumber() bool {
	_, ok := v.token.(json.Number)
	return ok
}
