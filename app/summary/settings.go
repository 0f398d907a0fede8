package summary

import (
	"lampblack/patch"
	"lampblack/patch/kind"
	"lampblack/scope/picture"
)

// Settings tells the written settings of a patch and the cords that come into
// each control and input.
func Settings(p patch.Patch) (table []picture.Module) {
	for _, m := range p.Modules {
		row := picture.Module{Name: m.Name, Kind: m.Kind}
		if m.Recording != nil {
			row.Lines = append(row.Lines, picture.Line{Name: "recording", Value: m.Recording.Name})
		}
		k, ok := kind.Catalogue.Kind(m.Kind)
		if !ok {
			row.Lines = append(row.Lines, picture.Line{Name: "(this program has no such kind)"})
			table = append(table, row)
			continue
		}
		for i := range k.Controls {
			c := &k.Controls[i]
			cords := cordsInto(p, patch.Socket{Module: m.Name, Name: c.Name})
			v, written := m.Settings[c.Name]
			if !written {
				v = c.Default()
			}
			if written || len(cords) > 0 {
				row.Lines = append(row.Lines, picture.Line{Name: c.Name, Value: v.String()})
			}
			row.Lines = append(row.Lines, cords...)
		}
		for _, in := range k.Inputs {
			for _, cord := range cordsInto(p, patch.Socket{Module: m.Name, Name: in.Name}) {
				cord.Name = in.Name + " " + cord.Name
				row.Lines = append(row.Lines, cord)
			}
		}
		if m.Rows != nil {
			row.Lines = append(row.Lines, picture.Line{Name: "table", Value: counted(len(m.Rows), "row")})
		}
		table = append(table, row)
	}
	return table
}

// cordsInto returns the cords that end in a socket, by where they come from.
func cordsInto(p patch.Patch, to patch.Socket) (lines []picture.Line) {
	for _, c := range p.Cords {
		if c.To != to {
			continue
		}
		from := c.From.Module
		if m := p.Module(from); m != nil {
			if k, ok := kind.Catalogue.Kind(m.Kind); c.From.Name != "out" && (!ok || len(k.Outputs) > 1) {
				from += ", " + c.From.Name // which of its outputs
			}
		}
		l := picture.Line{Name: "← " + from, Cord: true}
		if c.Depth != (patch.Setting{}) {
			l.Value = c.Depth.Signed()
		}
		lines = append(lines, l)
	}
	return lines
}
