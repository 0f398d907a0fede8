package lesson

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"

	"lampblack/patch"
	"lampblack/patch/kind"
	"lampblack/patch/strict"
)

const versionKey = "lampblack lesson"

// Load reads a lesson file. The error joins a *patch.Fault with its line for
// everything that is wrong with it, of form and of meaning; the lesson is then
// empty. Nothing is rendered: Check does that.
func Load(file []byte) (Lesson, error) {
	v, err := strict.Read(file, strict.Limits{Bytes: MaxFile, Values: 100_000})
	if err != nil {
		return Lesson{}, err
	}
	r := reader{file: bytes.TrimPrefix(file, []byte("\uFEFF"))}
	r.read(v)
	if len(r.faults) > 0 {
		return Lesson{}, errors.Join(r.faults...)
	}
	return r.lesson, nil
}

type reader struct {
	file    []byte
	lesson  Lesson
	patched bool // the patch could be read: what names its parts can be held against it
	faults  []error
}

// at returns a report of faults at a place of the lesson.
func (r *reader) at(place string) strict.Report {
	return func(line int, message string) {
		r.faults = append(r.faults, &patch.Fault{Line: line, Place: place, Message: message})
	}
}

func (r *reader) read(v strict.Value) {
	if !r.version(v) {
		return
	}
	f := v.Fields(r.at(""), versionKey, "title", "text", "sources", "patch", "memory?", "steps")
	r.lesson.Title = r.text(f, "title", "title")
	r.lesson.Text = r.text(f, "text", "text")
	if s, ok := f["sources"]; ok {
		for _, item := range s.Array(r.at("sources")) {
			r.lesson.Sources = append(r.lesson.Sources, r.words(item, "sources"))
		}
		if len(s.Items) == 0 {
			r.at("sources")(s.Line, "a lesson says what its facts rest on; name one source at least")
		}
	}
	parts := raw(r.file)
	if p, ok := f["patch"]; ok {
		r.patch(p, parts["patch"])
	}
	if m, ok := f["memory"]; ok {
		if err := r.lesson.Memory.UnmarshalJSON(parts["memory"]); err != nil {
			r.join("", err)
		} else if err := r.lesson.Memory.Validate(); err != nil {
			for _, fault := range patch.Faults(err) {
				r.at("")(lineOfNote(m, fault.Message), fault.Message)
			}
		}
	}
	if s, ok := f["steps"]; ok {
		r.steps(s)
	}
}

func (r *reader) version(v strict.Value) bool {
	for _, m := range v.Members {
		if m.Key != versionKey {
			continue
		}
		before := len(r.faults)
		n := m.Whole(r.at(versionKey))
		if len(r.faults) == before && n != Version {
			r.at(versionKey)(m.Line, fmt.Sprintf("the file is of version %d; this program reads version %d and leaves the file as it is", n, Version))
		}
		return len(r.faults) == before
	}
	r.at("")(v.Line, fmt.Sprintf("this is no lesson file: %q with its version is missing", versionKey))
	return false
}

// raw returns the members of the outer object as they stand in the file, each
// behind as many line ends as stand before it, so that lines keep their numbers.
func raw(file []byte) map[string][]byte {
	parts := map[string][]byte{}
	d := json.NewDecoder(bytes.NewReader(file))
	if _, err := d.Token(); err != nil { // the bracket; strict.Read has checked the rest
		return parts
	}
	for d.More() {
		key, err := d.Token()
		var part json.RawMessage
		if err != nil || d.Decode(&part) != nil {
			return parts
		}
		name, _ := key.(string)
		before := bytes.Count(file[:int(d.InputOffset())-len(part)], []byte("\n"))
		parts[name] = append(bytes.Repeat([]byte("\n"), before), part...)
	}
	return parts
}

func (r *reader) patch(v strict.Value, file []byte) {
	p, err := patch.Load(file, kind.Catalogue)
	for _, f := range patch.Faults(err) {
		if f.Line == 0 {
			f.Line = lineOf(v, f)
		}
		r.faults = append(r.faults, f)
	}
	for _, m := range p.Modules {
		if m.Recording != nil {
			f := &patch.Fault{Module: m.Name, Message: "a lesson travels without recordings; use a module that makes its sound itself"}
			f.Line = lineOf(v, f)
			r.faults = append(r.faults, f)
		}
	}
	r.lesson.Patch, r.patched = p, err == nil
}

// lineOf finds the line of what a fault names without one: the setting, the
// cord, the module, or else the patch.
func lineOf(v strict.Value, f *patch.Fault) int {
	line := v.Line
	for _, list := range v.Members {
		for _, item := range list.Items {
			name, from, to := member(item, "name"), member(item, "from"), member(item, "to")
			switch {
			case list.Key == "cords" && words(from)+" -> "+words(to) == f.Place:
				return item.Line
			case list.Key == "modules" && f.Module != "" && words(name) == f.Module:
				line = item.Line
				if _, known := kind.Catalogue.Kind(words(member(item, "kind"))); !known {
					return member(item, "kind").Line
				}
				if s := member(member(item, "settings"), f.Place); s.Line > 0 {
					return s.Line
				}
			}
		}
	}
	return line
}

// lineOfNote finds the line of a note that a fault of a memory counts from 1.
func lineOfNote(v strict.Value, message string) int {
	var n int
	notes := member(v, "notes").Items
	if _, err := fmt.Sscanf(message, "memory: note %d:", &n); err != nil || n < 1 || n > len(notes) {
		return v.Line
	}
	return notes[n-1].Line
}

func member(v strict.Value, key string) strict.Value {
	for _, m := range v.Members {
		if m.Key == key {
			return m.Value
		}
	}
	return strict.Value{}
}

func words(v strict.Value) string { return v.Text(func(int, string) {}) }

func (r *reader) join(place string, err error) {
	for _, f := range patch.Faults(err) {
		if f.Place == "" {
			f.Place = place
		}
		r.faults = append(r.faults, f)
	}
}

// text returns a text that must not be empty; a missing key has been told.
func (r *reader) text(f map[string]strict.Value, key, place string) string {
	if v, ok := f[key]; ok {
		return r.words(v, place)
	}
	return ""
}

func (r *reader) words(v strict.Value, place string) string {
	before := len(r.faults)
	t := strings.TrimSpace(v.Text(r.at(place)))
	switch n := len([]rune(t)); {
	case len(r.faults) > before:
	case n == 0:
		r.at(place)(v.Line, "the text is empty")
	case n > MaxText:
		r.at(place)(v.Line, fmt.Sprintf("the text has %d letters; allowed are %d", n, MaxText))
	}
	return t
}

func (r *reader) choice(f map[string]strict.Value, key, place string, of []string) string {
	v, ok := f[key]
	if !ok {
		return ""
	}
	t := r.words(v, place)
	if t != "" && !slices.Contains(of, t) {
		r.at(place)(v.Line, fmt.Sprintf("%q is not known; known are %s", t, strings.Join(of, ", ")))
	}
	return t
}
