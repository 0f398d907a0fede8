package patch

import "math"

// Kind describes what a kind of module offers: its words, not its sound.
type Kind struct {
	Name     string // in files and messages, lower case ("state-variable filter" is "filter")
	Title    string // on the sheet, under the module's own name
	Family   Family // what it is for; lists are divided by it
	Symbol   string // the block-diagram symbol; see Symbols
	Help     string // what it does, the formula and its source, for people who learn
	Version  int    // raised whenever the same settings sound different; a proof names the kinds whose version moved
	Inputs   []Input
	Outputs  []Output
	Controls []Control
	Table    *Table // rows that the module reads besides its controls, or nil
	Grows    int    // 0, or of numbered inputs: the sheet shows this many, and one more while the last one shown is in use
}

// Family says what a kind is for.
type Family string

// The families, in the order of a menu.
const (
	Playing    Family = "playing"
	Sources    Family = "sources"
	Filters    Family = "filters"
	Modulators Family = "modulators"
	Envelopes  Family = "envelopes"
	Followers  Family = "followers"
	Space      Family = "space and colour"
	Levels     Family = "levels"
)

// Families returns every family in the order of a menu.
func Families() []Family {
	return []Family{Playing, Sources, Filters, Modulators, Envelopes, Followers, Space, Levels}
}

// Symbols returns the names of the block-diagram symbols: those of IEC 60617
// where it has one, plain pictures of what the block does elsewhere.
func Symbols() []string {
	return []string{
		"memory", "output", // playing
		"generator", "noise", "recording", "partials", "string", "click", // sources
		"filter", "ladder", "bands", "resonator", "all-pass", "tilt", // filters
		"hold", "random", "multiplier", "slew", "scale", "comparator", "logic", "quantiser", // modulators
		"envelope", "contour", // envelopes
		"follower", "pitch", "gate", "onset", "vocoder", // followers
		"delay", "chorus", "reverberator", "saturation", "wow", "pan", "width", // space and colour
		"amplifier", "mixer", // levels
	}
}

// Table describes the rows that a module reads besides its controls: the
// segments of a drawn curve, the levels of partials, the steps of a scale.
type Table struct {
	Name        string // what a row is, in the plural: "partials", "segments"
	Help        string
	Least, Most int         // how many rows there may be
	Columns     []Column    // 1 to 8
	Start       [][]float64 // the rows of a new module, in the columns' units
	Drawn       Drawn       // how the rows are drawn with the mouse
}

// Column is one place of every row. Its Scale's Default is that of a new row.
type Column struct {
	Name  string
	Help  string
	Scale Scale // without Moves
}

// Drawn says how rows are drawn.
type Drawn int

const (
	DrawnCurve  Drawn = iota // segments one after the other: how long each takes, the level at its end, its curvature
	DrawnBars                // one bar a row: its height is the second column
	DrawnPoints              // one point a row on a line: the first column
)

// Input is an audio input: the sum of all cords that end in it.
type Input struct {
	Name string
	Help string
	Open Open // what is heard when no cord ends here
}

// Open says what an input hears when nothing is joined to it.
type Open int

const (
	OpenSilence Open = iota // zeros
	OpenGate                // the gate of the note being played, 0 or 1
	OpenTrigger             // 1 at the sample on which a note starts, else 0
	OpenLeft                // what the module's first input hears (a right side left open follows the left)
)

// Output is where a cord starts.
type Output struct {
	Name    string
	Help    string
	Control bool // a voltage meant for moving controls (drawn in ochre) rather than for hearing
}

// Control is one settable value of a module. A control that can be written in
// several units (a width in Hz or as Q) has several scales; the first is the
// one it starts in.
type Control struct {
	Name   string
	Help   string
	Scales []Scale
	Fixed  bool // settled when the patch is compiled: a change fades to a new graph, and no cord may end here
}

// Scale is one way to write a control.
type Scale struct {
	Unit     string   // base unit: "Hz", "s", "dB", "%", "Q", "oct", "" (a bare number)
	Min, Max float64  // in Unit
	Default  float64  // in Unit
	Taper    Taper    // how the ruler is divided
	Moves    []Move   // the units in which a cord may state its depth, the usual one first; none: no cord may end here
	Choices  []string // names of the values 0, 1, ... of a stepped control; nil for others
}

// Taper says how a ruler is divided.
type Taper int

const (
	Linear      Taper = iota
	Logarithmic       // equal ratios are equally far apart; Min > 0
	Stepped           // whole numbers only
)

// Move is a way in which a cord moves a control. With setting v, cord signals s
// and depths d, a control's value is
//
//	v * 2^(sum of octaves) * 10^(sum of decibels / 20) * (product of factors) + (sum of linear)
//
// then clamped to the scale's range, and rounded on a stepped scale. A level
// written in dB is moved as its factor 10^(dB/20). The formula is the design's
// own.
type Move struct {
	Unit string // "oct", "dB", "x", "steps" of a stepped scale, or the scale's own unit for a linear move
	Kind MoveKind
	Max  float64 // the largest depth, in Unit; the least is -Max
}

// MoveKind is what a move does with depth times signal.
type MoveKind int

const (
	MoveOctaves MoveKind = iota // doubles for each octave
	MoveDecibels
	MoveFactor // d >= 0: times 1 - d + d*s (d = 1: times s); d < 0: times 1 + d*s
	MoveLinear // adds in the scale's unit
)

// The moves that controls usually offer.
var (
	Octaves  = Move{"oct", MoveOctaves, 10}
	Decibels = Move{"dB", MoveDecibels, 96}
	Factor   = Move{"x", MoveFactor, 1}
)

// Control returns the control of that name, or nil.
func (k *Kind) Control(name string) *Control {
	for i := range k.Controls {
		if k.Controls[i].Name == name {
			return &k.Controls[i]
		}
	}
	return nil
}

// Input returns the number of the input of that name, or -1.
func (k *Kind) Input(name string) int {
	for i := range k.Inputs {
		if k.Inputs[i].Name == name {
			return i
		}
	}
	return -1
}

// Output returns the number of the output of that name, or -1.
func (k *Kind) Output(name string) int {
	for i := range k.Outputs {
		if k.Outputs[i].Name == name {
			return i
		}
	}
	return -1
}

// Scale returns the number of the scale with that unit, or -1.
func (c *Control) Scale(unit string) int {
	for i := range c.Scales {
		if c.Scales[i].Unit == unit {
			return i
		}
	}
	return -1
}

// Stepped reports whether the control is a choice or a whole number: it can't go
// to another value gradually.
func (c *Control) Stepped() bool {
	return c.Scales[0].Taper == Stepped || c.Scales[0].Choices != nil
}

// Default returns the setting at which the control starts.
func (c *Control) Default() Setting {
	if i := int(c.Scales[0].Default); i >= 0 && i < len(c.Scales[0].Choices) {
		return c.Choice(i)
	}
	return Setting{Value: c.Scales[0].Default, Unit: c.Scales[0].Unit}
}

// Move returns the scale's move with that depth unit.
func (s *Scale) Move(unit string) (Move, bool) {
	for _, m := range s.Moves {
		if m.Unit == unit {
			return m, true
		}
	}
	return Move{}, false
}

// Fraction returns where v stands on a ruler of this scale, 0 at Min and 1 at
// Max. Values outside give fractions outside.
func (s *Scale) Fraction(v float64) float64 {
	if s.Taper == Logarithmic {
		return math.Log(v/s.Min) / math.Log(s.Max/s.Min)
	}
	return (v - s.Min) / (s.Max - s.Min)
}

// At returns the value at fraction f of a ruler; it undoes Fraction. Stepped
// scales give whole numbers. f is clamped to 0..1.
func (s *Scale) At(f float64) float64 {
	f = min(max(f, 0), 1)
	switch s.Taper {
	case Logarithmic:
		return s.Min * math.Pow(s.Max/s.Min, f)
	case Stepped:
		return math.Round(s.Min + f*(s.Max-s.Min))
	}
	return s.Min + f*(s.Max-s.Min)
}

// Kinds is the catalogue: the kinds of module that can be used in a patch.
type Kinds interface {
	Kind(name string) (*Kind, bool)
}
