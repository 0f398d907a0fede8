package patch

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"lampblack/patch/strict"
)

// Limits of a patch and of its file.
const (
	MaxModules = 1000
	MaxCords   = 10_000
	MaxFile    = 8 << 20 // bytes
)

const versionKey = "lampblack patch"

// Load reads a patch file for use with those kinds of module: Read, Resolve and
// Validate. The error tells every fault, of form and of meaning; with one of
// Validate alone the patch comes back too, so that it can be shown and mended.
func Load(file []byte, k Kinds) (Patch, error) {
	p, told := read(file)
	p = Resolve(p, k)
	if told == nil {
		return p, p.Validate(k)
	}
	return Patch{}, errors.Join(append(told, further(p, k, told)...)...)
}

// further returns what Validate finds in a patch whose form is faulty, so that a
// person can mend all of it at once; not what follows from those faults alone.
func further(p Patch, k Kinds, told faults) (more faults) {
	type place struct{ module, place string }
	known := map[place]bool{}
	for _, f := range Faults(told.err()) {
		if f.Module == "" && f.Place == "modules" {
			return nil // without them no cord has an end
		}
		known[place{f.Module, f.Place}] = true
	}
	p.Cords = slices.DeleteFunc(p.Cords, func(c Cord) bool { return c.From == Socket{} || c.To == Socket{} })
	for _, f := range Faults(p.Validate(k)) {
		if !known[place{f.Module, f.Place}] && !known[place{"", f.Place}] {
			more = append(more, f)
		}
	}
	return more
}

// Read reads a patch in the form that JSON writes. It knows no kinds: a setting
// that is no number ("sine") stays a word with the value NaN until Resolve.
// The error joins a *Fault for everything that is wrong with the form of the
// file; the patch is then empty.
func Read(file []byte) (Patch, error) {
	p, told := read(file)
	if told != nil {
		return Patch{}, told.err()
	}
	return p, nil
}

// read returns as much of a patch as could be read, and what is wrong with its
// form.
func read(file []byte) (Patch, faults) {
	v, err := strict.Read(file, strict.Limits{Bytes: MaxFile, Values: 500_000})
	if err != nil {
		return Patch{}, asFaults(err)
	}
	var r reader
	return r.patch(v), r.faults
}

func asFaults(err error) []error {
	var all []error
	for _, f := range Faults(err) {
		all = append(all, f)
	}
	return all
}

// reader builds a patch out of values and collects what is wrong with them.
type reader struct{ faults faults }

// at returns a report of faults at a place of the patch.
func (r *reader) at(module, place string) strict.Report {
	return func(line int, message string) {
		r.faults = append(r.faults, &Fault{Line: line, Module: module, Place: place, Message: message})
	}
}

// text returns field key of an object, or "" if it is missing.
func text(fields map[string]strict.Value, key string, tell strict.Report) string {
	if v, ok := fields[key]; ok {
		return v.Text(tell)
	}
	return ""
}

func (r *reader) patch(v strict.Value) (p Patch) {
	if !r.version(v) {
		return p
	}
	tell := r.at("", "")
	f := v.Fields(tell, versionKey, "name?", "seed?", "modules?", "cords?")
	p.Name = text(f, "name", tell)
	if seed, ok := f["seed"]; ok {
		p.Seed = seed.Whole(r.at("", "seed"))
	}
	if list, ok := f["modules"]; ok {
		for _, m := range r.list(list, "modules", MaxModules) {
			p.Modules = append(p.Modules, r.module(m))
		}
	}
	if list, ok := f["cords"]; ok {
		for _, c := range r.list(list, "cords", MaxCords) {
			p.Cords = append(p.Cords, r.cord(c))
		}
	}
	return p
}

// version looks at the version before anything else: a file of a newer program
// may hold anything.
func (r *reader) version(v strict.Value) bool {
	for _, m := range v.Members {
		if m.Key != versionKey {
			continue
		}
		before := len(r.faults)
		n := m.Whole(r.at("", versionKey))
		switch {
		case len(r.faults) > before:
		case n > Version:
			r.at("", versionKey)(m.Line, fmt.Sprintf("the file is of version %d; this program reads up to version %d and leaves the file as it is", n, Version))
		case n < 1:
			r.at("", versionKey)(m.Line, "version 0 was never written; allowed is 1")
		default:
			return true
		}
		return false
	}
	r.at("", "")(v.Line, fmt.Sprintf("this is no patch file: %q with its version is missing", versionKey))
	return false
}

func (r *reader) list(v strict.Value, name string, most int) []strict.Value {
	items := v.Array(r.at("", name))
	if len(items) > most {
		r.at("", name)(v.Line, fmt.Sprintf("the patch has %d %s; allowed are %d", len(items), name, most))
		return nil
	}
	return items
}

func (r *reader) module(v strict.Value) (m Module) {
	for _, member := range v.Members { // so that other faults can name it
		if member.Key == "name" {
			m.Name = member.Text(func(int, string) {})
		}
	}
	tell := r.at(m.Name, "")
	f := v.Fields(tell, "name", "kind", "at?", "settings?", "rows?", "file?")
	m.Name, m.Kind = text(f, "name", tell), text(f, "kind", tell)
	if at, ok := f["at"]; ok {
		m.At = r.point(at, m.Name)
	}
	if settings, ok := f["settings"]; ok {
		for _, s := range settings.Object(tell) {
			if m.Settings == nil {
				m.Settings = map[string]Setting{}
			}
			m.Settings[s.Key] = setting(s.Value, r.at(m.Name, s.Key))
		}
	}
	if rows, ok := f["rows"]; ok {
		m.Rows = r.rows(rows, m.Name)
	}
	if file, ok := f["file"]; ok {
		tell := r.at(m.Name, "file")
		f := file.Fields(tell, "name", "sha256?")
		m.Recording = &Recording{Name: text(f, "name", tell), SHA256: text(f, "sha256", tell)}
	}
	return m
}

func (r *reader) point(v strict.Value, module string) Point {
	tell := r.at(module, "at")
	told := len(r.faults)
	items := v.Array(tell)
	if len(items) != 2 {
		if len(r.faults) == told {
			tell(v.Line, fmt.Sprintf("%d numbers stand here; a place is [x, y]", len(items)))
		}
		return Point{}
	}
	return Point{items[0].Number(tell), items[1].Number(tell)}
}

// rows reads a table: a list of lists of numbers.
func (r *reader) rows(v strict.Value, module string) [][]float64 {
	tell := r.at(module, "rows")
	items := v.Array(tell)
	if len(items) > maxRows {
		tell(v.Line, fmt.Sprintf("there are %d rows; no kind takes more than %d", len(items), maxRows))
		return nil
	}
	rows := make([][]float64, 0, len(items))
	for _, item := range items {
		numbers := item.Array(tell)
		if len(numbers) > maxColumns {
			tell(item.Line, fmt.Sprintf("the row has %d numbers; no kind takes more than %d", len(numbers), maxColumns))
			continue
		}
		row := make([]float64, 0, len(numbers))
		for _, n := range numbers {
			row = append(row, n.Number(tell))
		}
		rows = append(rows, row)
	}
	return rows
}

func (r *reader) cord(v strict.Value) (c Cord) {
	f := v.Fields(r.at("", "cords"), "from", "to", "depth?")
	if from, ok := f["from"]; ok {
		c.From = socket(from, r.at("", "cords"))
	}
	if to, ok := f["to"]; ok {
		c.To = socket(to, r.at("", "cords"))
	}
	if depth, ok := f["depth"]; ok {
		c.Depth = setting(depth, r.at("", c.String()))
	}
	return c
}

func socket(v strict.Value, tell strict.Report) Socket {
	t := v.Text(tell)
	module, name, ok := strings.Cut(t, "/")
	if !ok && t != "" {
		tell(v.Line, fmt.Sprintf("%q is no socket; it is written as module / socket", t))
	}
	return Socket{strings.TrimSpace(module), strings.TrimSpace(name)}
}

// setting reads a setting or a depth without knowing its control.
func setting(v strict.Value, tell strict.Report) Setting {
	before := 0
	t := strings.TrimSpace(v.Text(func(line int, message string) {
		before++
		tell(line, message+" (a number needs its unit: \"45 Hz\")")
	}))
	q, err := parseQuantity(t)
	switch {
	case before > 0:
	case t == "":
		tell(v.Line, "the setting is empty; leave it out to have its default")
	case len([]rune(t)) > MaxText:
		tell(v.Line, fmt.Sprintf("the setting has %d characters; allowed are %d", len([]rune(t)), MaxText))
	case errors.Is(err, errWord):
		return Setting{Value: math.NaN(), Text: t}
	case err != nil:
		tell(v.Line, fmt.Sprintf("%q %v", t, err))
	}
	return Setting{Value: q.value, Unit: q.unit, Text: t}
}
