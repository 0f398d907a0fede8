package patch_test

import "lampblack/patch"

// A small catalogue of the tests' own: the reader, the faults and the
// comparison may not depend on what the real kinds happen to be.
var (
	centre = patch.Control{Name: "centre", Scales: []patch.Scale{
		{Unit: "Hz", Min: 20, Max: 20000, Default: 1000, Taper: patch.Logarithmic, Moves: []patch.Move{patch.Octaves, {Unit: "Hz", Kind: patch.MoveLinear, Max: 20000}}}}}
	width = patch.Control{Name: "width", Scales: []patch.Scale{
		{Unit: "Hz", Min: 1, Max: 2000, Default: 310, Taper: patch.Logarithmic, Moves: []patch.Move{patch.Octaves}},
		{Unit: "Q", Min: 0.5, Max: 100, Default: 1, Taper: patch.Logarithmic, Moves: []patch.Move{patch.Octaves, {Unit: "Q", Kind: patch.MoveLinear, Max: 50}}}}}
	level = patch.Control{Name: "level", Scales: []patch.Scale{
		{Unit: "dB", Min: -60, Max: 12, Default: 0, Moves: []patch.Move{patch.Decibels, patch.Factor}}}}
	shape = patch.Control{Name: "shape", Scales: []patch.Scale{
		{Min: 0, Max: 2, Taper: patch.Stepped, Choices: []string{"sine", "triangle", "saw"}}}}
	rate    = patch.Control{Name: "rate", Scales: []patch.Scale{{Unit: "Hz", Min: 0.01, Max: 50, Default: 1, Taper: patch.Logarithmic, Moves: []patch.Move{patch.Octaves}}}}
	attack  = patch.Control{Name: "attack", Scales: []patch.Scale{{Unit: "s", Min: 0.0001, Max: 60, Default: 0.01, Taper: patch.Logarithmic, Moves: []patch.Move{patch.Octaves}}}}
	sustain = patch.Control{Name: "sustain", Scales: []patch.Scale{{Unit: "%", Min: 0, Max: 100, Default: 70, Moves: []patch.Move{{Unit: "%", Kind: patch.MoveLinear, Max: 100}}}}}
	parts   = patch.Control{Name: "partials", Scales: []patch.Scale{{Min: 1, Max: 64, Default: 8, Taper: patch.Stepped}}}
	phase   = patch.Control{Name: "phase", Scales: []patch.Scale{{Unit: "deg", Max: 360}}}
	out     = []patch.Output{{Name: "out"}}
	kinds   = catalogue{
		"oscillator": {Name: "oscillator", Title: "oscillator", Outputs: out, Controls: []patch.Control{centre, shape, parts}},
		"slow":       {Name: "slow", Title: "slow oscillator", Outputs: out, Controls: []patch.Control{rate, shape}},
		"filter":     {Name: "filter", Title: "band-pass filter", Inputs: []patch.Input{{Name: "in"}}, Outputs: out, Controls: []patch.Control{centre, width, level}},
		"envelope":   {Name: "envelope", Title: "envelope", Inputs: []patch.Input{{Name: "gate", Open: patch.OpenGate}}, Outputs: out, Controls: []patch.Control{attack, sustain}},
		"recording":  {Name: "recording", Title: "recording", Symbol: "recording", Outputs: out, Controls: []patch.Control{level}},
		"bank": {Name: "bank", Title: "bank", Outputs: out, Controls: []patch.Control{level}, Table: &patch.Table{
			Name: "partials", Least: 1, Most: 4, Start: [][]float64{{1, 0}, {2, -6}},
			Columns: []patch.Column{
				{Name: "ratio", Scale: patch.Scale{Unit: "x", Min: 0.01, Max: 64, Default: 1, Taper: patch.Logarithmic}},
				{Name: "level", Scale: patch.Scale{Unit: "dB", Min: -96, Max: 0}}}}},
		"output": {Name: "output", Title: "output", Inputs: []patch.Input{{Name: "left"}, {Name: "right"}}, Controls: []patch.Control{level}},
	}
)

type catalogue map[string]*patch.Kind

func (c catalogue) Kind(name string) (*patch.Kind, bool) {
	k, ok := c[name]
	return k, ok
}
