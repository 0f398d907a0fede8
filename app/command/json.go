package command

import "lampblack/patch"

// The keys of everything that --json prints about module kinds. They are told
// by --help and do not change within a major version.

const kindKeys = `With --json: kind, title, version, help, inputs [{name, open, help}],
outputs [{name, help}], controls [{name, help, scales [{unit, min, max, default,
taper, choices, moves [{unit, max}]}]}]; numbers are in the scale's unit.`

type kindJSON struct {
	Kind     string        `json:"kind"`
	Title    string        `json:"title"`
	Version  int           `json:"version"`
	Help     string        `json:"help"`
	Inputs   []socketJSON  `json:"inputs"`
	Outputs  []socketJSON  `json:"outputs"`
	Controls []controlJSON `json:"controls"`
}

type socketJSON struct {
	Name string `json:"name"`
	Open string `json:"open,omitempty"`
	Help string `json:"help"`
}

type controlJSON struct {
	Name   string      `json:"name"`
	Help   string      `json:"help"`
	Scales []scaleJSON `json:"scales"`
}

type scaleJSON struct {
	Unit    string     `json:"unit"`
	Min     float64    `json:"min"`
	Max     float64    `json:"max"`
	Default float64    `json:"default"`
	Taper   string     `json:"taper"`
	Choices []string   `json:"choices,omitempty"`
	Moves   []moveJSON `json:"moves,omitempty"`
}

type moveJSON struct {
	Unit string  `json:"unit"`
	Max  float64 `json:"max"`
}

var tapers = map[patch.Taper]string{
	patch.Linear: "linear", patch.Logarithmic: "logarithmic", patch.Stepped: "stepped",
}

func newKindJSON(k *patch.Kind) kindJSON {
	j := kindJSON{
		Kind: k.Name, Title: k.Title, Version: k.Version, Help: k.Help,
		Inputs: []socketJSON{}, Outputs: []socketJSON{}, Controls: []controlJSON{},
	}
	for _, in := range k.Inputs {
		j.Inputs = append(j.Inputs, socketJSON{in.Name, openWords[in.Open], in.Help})
	}
	for _, out := range k.Outputs {
		j.Outputs = append(j.Outputs, socketJSON{Name: out.Name, Help: out.Help})
	}
	for _, c := range k.Controls {
		j.Controls = append(j.Controls, newControlJSON(c))
	}
	return j
}

func newControlJSON(c patch.Control) controlJSON {
	j := controlJSON{Name: c.Name, Help: c.Help}
	for _, sc := range c.Scales {
		s := scaleJSON{
			Unit: sc.Unit, Min: sc.Min, Max: sc.Max, Default: sc.Default,
			Taper: tapers[sc.Taper], Choices: sc.Choices,
		}
		for _, m := range sc.Moves {
			s.Moves = append(s.Moves, moveJSON{m.Unit, m.Max})
		}
		j.Scales = append(j.Scales, s)
	}
	return j
}
