// Package strict reads JSON files that people write and compare.
//
//	file -> Read -> Value -> Fields, Text, Number ... or a fault with its line
//
// A key may stand only once and must be known, nothing may follow the end, and
// sizes are bounded before anything is built. It knows no patch and no memory.
// Held by tests: what encoding/json refuses is refused, and every fault is told.
package strict

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"unicode/utf8"
)

// Limits bound what a file may hold.
type Limits struct {
	Bytes  int // of the file
	Values int // objects, arrays, texts, numbers, keys
}

// maxDepth is how deep arrays and objects may stand in each other. No format of
// this program needs more than six.
const maxDepth = 32

// Value is one JSON value and the line on which it begins, from 1.
type Value struct {
	Line    int
	token   json.Token // json.Delim for arrays and objects
	Items   []Value    // of an array
	Members []Member   // of an object, in the order of the file, each key once
}

// Member is a key of an object and its value.
type Member struct {
	Key string
	Value
}

// Read reads a whole file. A mark of byte order at its start is skipped.
func Read(file []byte, most Limits) (Value, error) {
	file = bytes.TrimPrefix(file, []byte("\uFEFF"))
	if len(file) > most.Bytes {
		return Value{}, fmt.Errorf("the file has %d bytes; allowed are %d", len(file), most.Bytes)
	}
	if at := invalid(file); at >= 0 {
		return Value{}, fmt.Errorf("line %d: the file is not UTF-8 text", lineAt(file, at))
	}
	// Decoder.Token alone lets some faults pass; Unmarshal checks the whole syntax.
	var all json.RawMessage
	if err := json.Unmarshal(file, &all); err != nil {
		return Value{}, syntax(file, err)
	}
	r := reader{file: file, line: 1, left: most.Values, in: json.NewDecoder(bytes.NewReader(file))}
	r.in.UseNumber()
	v, err := r.value(0)
	if err != nil {
		return Value{}, err
	}
	return v, errors.Join(r.faults...)
}

func invalid(file []byte) int {
	if utf8.Valid(file) {
		return -1
	}
	for at := 0; at < len(file); {
		r, n := utf8.DecodeRune(file[at:])
		if r == utf8.RuneError && n == 1 {
			return at
		}
		at += n
	}
	return -1
}

func lineAt(file []byte, at int) int {
	return 1 + bytes.Count(file[:min(at, len(file))], []byte("\n"))
}

func syntax(file []byte, err error) error {
	if len(bytes.TrimSpace(file)) == 0 {
		return errors.New("the file is empty")
	}
	var s *json.SyntaxError
	if errors.As(err, &s) {
		return fmt.Errorf("line %d: this is not JSON: %w", lineAt(file, int(s.Offset)), err)
	}
	return fmt.Errorf("this is not JSON: %w", err)
}

type reader struct {
	file   []byte
	in     *json.Decoder
	at     int // bytes whose lines are counted
	line   int
	left   int // values that may still come
	faults []error
}

func (r *reader) next() (json.Token, error) {
	if r.left--; r.left < 0 {
		return nil, fmt.Errorf("line %d: the file holds too many values", r.line)
	}
	t, err := r.in.Token()
	if err != nil {
		return nil, syntax(r.file, err)
	}
	now := int(r.in.InputOffset())
	r.line += bytes.Count(r.file[r.at:now], []byte("\n"))
	r.at = now
	return t, nil
}

func (r *reader) value(depth int) (Value, error) {
	t, err := r.next()
	if err != nil {
		return Value{}, err
	}
	v := Value{Line: r.line, token: t}
	if depth > maxDepth {
		return v, fmt.Errorf("line %d: brackets stand more than %d deep", r.line, maxDepth)
	}
	switch t {
	case json.Delim('['):
		for r.in.More() {
			item, err := r.value(depth + 1)
			if err != nil {
				return v, err
			}
			v.Items = append(v.Items, item)
		}
		_, err = r.next()
	case json.Delim('{'):
		v.Members, err = r.members(depth)
	}
	return v, err
}

func (r *reader) members(depth int) ([]Member, error) {
	var members []Member
	seen := map[string]int{}
	for r.in.More() {
		key, err := r.next()
		if err != nil {
			return nil, err
		}
		m := Member{Key: key.(string)} // Unmarshal has checked that keys are texts
		if m.Value, err = r.value(depth + 1); err != nil {
			return nil, err
		}
		if line, twice := seen[m.Key]; twice {
			r.faults = append(r.faults, fmt.Errorf("line %d: %q stands a second time; the first is in line %d", m.Line, m.Key, line))
			continue
		}
		seen[m.Key] = m.Line
		members = append(members, m)
	}
	_, err := r.next()
	return members, err
}
