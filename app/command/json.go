package command

import "lampblack/patch"

// The keys of everything that --json prints about module kinds. They are told
// by --help and do not change within a major version.

const kindKeys = `With --json: kind, title, family, version, help, inputs [{name, open, help}],
outputs [{name, help}], controls [{name, help, fixed, scales [{unit, min, max,
default, taper, choices, moves [{unit, max}]}]}]; numbers are in the scale's unit.
A kind with rows has table {name, help, least, most, columns [{name, help,
scale}], start [[number]]}.`

type kindJSON struct {
	Kind     string        `json:"kind"`
	Title    string        `json:"title"`
	Family   string        `json:"family"`
	Version  int           `json:"version"`
	Help     string        `json:"help"`
	Inputs   []socketJSON  `json:"inputs"`
	Outputs  []socketJSON  `json:"outputs"`
	Controls []controlJSON `json:"controls"`
	Table    *tableJSON    `json:"table,omitempty"`
}

type tableJSON struct {
	Name    string       `json:"name"`
	Help    string       `json:"help"`
	Least   int          `json:"least"`
	Most    int          `json:"most"`
	Columns []columnJSON `json:"columns"`
	Start   [][]float64  `json:"start"`
}

type columnJSON struct {
	Name  string    `json:"name"`
	Help  string    `json:"help"`
	Scale scaleJSON `json:"scale"`
}

type socketJSON struct {
	Name string `json:"name"`
	Open string `json:"open,omitempty"`
	Help string `json:"help"`
}

type controlJSON struct {
	Name   string      `json:"name"`
	Help   string      `json:"help"`
	Fixed  bool        `json:"fixed,omitempty"`
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
		Kind: k.Name, Title: k.Title, Family: string(k.Family), Version: k.Version, Help: k.Help,
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
	if t := k.Table; t != nil {
		j.Table = &tableJSON{Name: t.Name, Help: t.Help, Least: t.Least, Most: t.Most, Start: t.Start}
		for _, c := range t.Columns {
			j.Table.Columns = append(j.Table.Columns, columnJSON{c.Name, c.Help, newScaleJSON(c.Scale)})
		}
	}
	return j
}

func newControlJSON(c patch.Control) controlJSON {
	j := controlJSON{Name: c.Name, Help: c.Help, Fixed: c.Fixed}
	for _, sc := range c.Scales {
		j.Scales = append(j.Scales, newScaleJSON(sc))
	}
	return j
}

func newScaleJSON(sc patch.Scale) scaleJSON {
	s := scaleJSON{
		Unit: sc.Unit, Min: sc.Min, Max: sc.Max, Default: sc.Default,
		Taper: tapers[sc.Taper], Choices: sc.Choices,
	}
	for _, m := range sc.Moves {
		s.Moves = append(s.Moves, moveJSON{m.Unit, m.Max})
	}
	return s
}
