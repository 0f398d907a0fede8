package memory

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"lampblack/patch/strict"
)

// Version is the number written into a memory's file. A reader refuses a higher
// one.
const Version = 1

const versionKey = "lampblack memory"

// maxFile is the largest file read, in bytes: MaxNotes notes of all digits have
// half of it.
const maxFile = 32 << 20

// JSON returns the memory in written form, one note a line, with all digits:
//
//	{"at": "0.25 s", "for": "0.5 s", "pitch": "D4", "velocity": 0.8}
//
// A pitch that is no note to the last bit is a number of octaves from A4. The
// error names a number that is not finite. It ends in a newline.
func (m Memory) JSON() ([]byte, error) {
	var w writer
	fmt.Fprintf(&w.Buffer, "{\n  %q: %d,\n  \"length\": %s,\n", versionKey, Version, w.seconds("length", m.Length))
	if m.Speed != 0 {
		fmt.Fprintf(&w.Buffer, "  \"speed\": %s,\n", w.number("speed", m.Speed))
	}
	fmt.Fprintf(&w.Buffer, "  \"repeat\": %t,\n  \"notes\": [", m.Repeat)
	for i, n := range m.Notes {
		if i > 0 {
			w.WriteString(",")
		}
		w.note(i, n)
	}
	if len(m.Notes) > 0 {
		w.WriteString("\n  ")
	}
	w.WriteString("]\n}\n")
	return w.Bytes(), w.err
}

// writer keeps the first number that can't be written.
type writer struct {
	bytes.Buffer
	err error
}

func (w *writer) note(i int, n Note) {
	name := "note " + strconv.Itoa(i+1)
	fmt.Fprintf(&w.Buffer, "\n    {\"at\": %s, \"for\": %s, \"pitch\": %s, \"velocity\": %s", w.seconds(name, n.At), w.seconds(name, n.For), w.pitch(name, n.Pitch), w.number(name, n.Velocity))
	if n.Rest {
		w.WriteString(`, "rest": true`)
	}
	w.WriteString("}")
}

func (w *writer) seconds(what string, v float64) string { return `"` + w.number(what, v) + ` s"` }

func (w *writer) number(what string, v float64) string {
	b, err := json.Marshal(v)
	if err != nil && w.err == nil {
		w.err = fmt.Errorf("memory: %s has the number %g, which can't be written", what, v)
	}
	return string(b)
}

func (w *writer) pitch(what string, octaves float64) string {
	name := PitchName(octaves)
	if p, err := ParsePitch(name); err == nil && math.Float64bits(p) == math.Float64bits(octaves) {
		return `"` + name + `"`
	}
	return w.number(what, octaves)
}

// MarshalJSON implements json.Marshaler with what JSON writes.
func (m Memory) MarshalJSON() ([]byte, error) { return m.JSON() }

// UnmarshalJSON reads what JSON writes, and nothing else: unknown or doubled
// keys are faults. The error joins them all; m is then not changed. The values
// are not bounded by it: Validate tells.
func (m *Memory) UnmarshalJSON(file []byte) error {
	v, err := strict.Read(file, strict.Limits{Bytes: maxFile, Values: 16 * MaxNotes})
	if err != nil {
		return fmt.Errorf("memory: %w", err)
	}
	var r reader
	read := r.memory(v)
	if len(r.faults) > 0 {
		return errors.Join(r.faults...)
	}
	*m = read
	return nil
}

type reader struct{ faults []error }

func (r *reader) at(what string) strict.Report {
	return func(line int, message string) {
		r.faults = append(r.faults, fmt.Errorf("memory: line %d: %s%s", line, what, message))
	}
}

func (r *reader) memory(v strict.Value) (m Memory) {
	for _, member := range v.Members {
		if member.Key != versionKey {
			continue
		}
		// A file of a newer program may hold anything: look no further.
		if n := member.Whole(r.at("version: ")); n != Version {
			r.at("")(member.Line, fmt.Sprintf("it is of version %d; this program reads version %d and leaves it as it is", n, Version))
			return m
		}
	}
	tell := r.at("")
	f := v.Fields(tell, versionKey, "length", "speed?", "repeat?", "notes?")
	m.Length = seconds(f, "length", tell)
	if speed, ok := f["speed"]; ok {
		m.Speed = speed.Number(r.at("speed: "))
	}
	if repeat, ok := f["repeat"]; ok {
		m.Repeat = repeat.Bool(r.at("repeat: "))
	}
	if notes, ok := f["notes"]; ok {
		m.Notes = r.notes(notes)
	}
	return m
}

func (r *reader) notes(v strict.Value) []Note {
	items := v.Array(r.at("notes: "))
	if len(items) > MaxNotes {
		r.at("")(v.Line, fmt.Sprintf("it has %d notes; allowed are %d", len(items), MaxNotes))
		return nil
	}
	var notes []Note
	for i, item := range items {
		tell := r.at(fmt.Sprintf("note %d: ", i+1))
		f := item.Fields(tell, "at", "for", "pitch", "velocity", "rest?")
		n := Note{At: seconds(f, "at", tell), For: seconds(f, "for", tell), Pitch: octaves(f, tell)}
		if velocity, ok := f["velocity"]; ok {
			n.Velocity = velocity.Number(tell)
		}
		if rest, ok := f["rest"]; ok {
			n.Rest = rest.Bool(tell)
		}
		notes = append(notes, n)
	}
	return notes
}

var decimal = regexp.MustCompile(`^-?\d+(\.\d+)?([eE][+-]?\d{1,3})?$`)

// seconds reads "0.25 s" or "250 ms".
func seconds(f map[string]strict.Value, key string, tell strict.Report) float64 {
	v, ok := f[key]
	if !ok {
		return 0
	}
	told := false
	text := v.Text(func(line int, message string) { told = true; tell(line, message) })
	if told {
		return 0
	}
	number, isSeconds := strings.CutSuffix(text, "s")
	number, milli := strings.CutSuffix(number, "m")
	number = strings.TrimSpace(number)
	valid := isSeconds && decimal.MatchString(number) && !(milli && strings.ContainsAny(number, "eE"))
	if milli {
		number += "e-3"
	}
	s, err := strconv.ParseFloat(number, 64)
	if !valid || err != nil {
		tell(v.Line, fmt.Sprintf("%.40q is no time; it is written as \"0.25 s\" or \"250 ms\"", text))
		return 0
	}
	return s
}

// octaves reads a pitch: the name of a note, or octaves from A4.
func octaves(f map[string]strict.Value, tell strict.Report) float64 {
	v, ok := f["pitch"]
	if !ok {
		return 0
	}
	if v.IsNumber() {
		return v.Number(tell)
	}
	told := false
	text := v.Text(func(line int, message string) { told = true; tell(line, message) })
	p, err := ParsePitch(text)
	if err != nil && !told {
		tell(v.Line, err.Error())
	}
	return p
}
