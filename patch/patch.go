// Package patch holds a patch as a plain value: modules joined by cords.
//
//	file -> Load (Read, Resolve, Validate) -> Patch -> Compare, JSON -> file
//
// A Patch has no clock, no device and no screen in it; package engine makes it
// sound. What a kind of module offers (sockets, controls, ranges) is described
// by a Kind; the kinds themselves live in patch/kind, one folder each.
//
// Held by tests: what is read comes back unchanged, every fault of a patch is
// told at once, and two patches compare in the words of a sound maker.
package patch

import (
	"maps"
	"slices"
)

// Version is the number written into a patch file. A reader refuses a higher
// one and says so.
const Version = 1

// Patch is a set of modules joined by cords. The zero value is an empty patch.
type Patch struct {
	Name    string   // the patch's own name; may be empty
	Seed    uint64   // all noise of the patch is drawn from it
	Modules []Module // in the order in which they were added
	Cords   []Cord   // in the order in which they were joined
}

// Module is one block of a patch.
type Module struct {
	Name      string             // unique in the patch, without "/" ("mast wind")
	Kind      string             // the name of a Kind ("oscillator")
	At        Point              // upper left corner on the sheet
	Settings  map[string]Setting // by control; a control left out stands at its default
	Recording *Recording         // the sound of a module that plays one, or nil
	Rows      [][]float64        // of the kind's Table, in its columns' units; nil: the rows it starts with
}

// Point is a place on the sheet, in sheet units (one unit is one pixel at a
// text scale of 1), x to the right and y down, 0 to 100,000.
type Point struct{ X, Y float64 }

// Recording names the audio file that a module plays. The notebook keeps the
// file's bytes under SHA256; a patch file on disk may name a path beside it.
type Recording struct {
	Name   string // the file's name, for people; in a patch file a path relative to it
	SHA256 string // of the file's bytes, in lower-case hexadecimal; may be empty in a patch file
}

// Setting is the value of a control as somebody wrote it.
type Setting struct {
	Value float64 // in Unit; for a choice its number in Scale.Choices
	Unit  string  // the base unit of one of the control's scales ("Hz", "Q", "dB", "%", "s"; "" for a bare number or a choice)
	Text  string  // the digits and unit as typed ("2.10 kHz"); empty means: format Value
}

// Cord joins an output to an audio input or to a control.
type Cord struct {
	From  Socket  // module and output
	To    Socket  // module and input, or module and control
	Depth Setting // only into a control: how far a signal of 1 moves it, in a unit of Scale.Moves
}

// Socket is the end of a cord: a module's name and the name of one of its
// outputs, inputs or controls.
type Socket struct{ Module, Name string }

// String returns the form used in files and messages: "module / socket".
func (s Socket) String() string { return s.Module + " / " + s.Name }

// Module returns the module of that name, or nil. The pointer is into p.
func (p *Patch) Module(name string) *Module {
	for i := range p.Modules {
		if p.Modules[i].Name == name {
			return &p.Modules[i]
		}
	}
	return nil
}

// Clone returns a copy that shares nothing with p.
func (p Patch) Clone() Patch {
	p.Modules = slices.Clone(p.Modules)
	for i, m := range p.Modules {
		p.Modules[i].Settings = maps.Clone(m.Settings)
		if m.Recording != nil {
			r := *m.Recording
			p.Modules[i].Recording = &r
		}
		p.Modules[i].Rows = cloneRows(m.Rows)
	}
	p.Cords = slices.Clone(p.Cords)
	return p
}

func cloneRows(rows [][]float64) [][]float64 {
	if rows == nil {
		return nil
	}
	c := make([][]float64, len(rows))
	for i, row := range rows {
		c[i] = slices.Clone(row)
	}
	return c
}
