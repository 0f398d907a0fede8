package patch

import (
	"fmt"
	"math"
	"slices"
)

// Limits of a table, whatever its kind says.
const (
	maxRows    = 4096
	maxColumns = 8
)

// rowsOf returns the rows that m stands at: its own, or those its kind starts with.
func (k *Kind) rowsOf(m *Module) [][]float64 {
	if m.Rows != nil || k.Table == nil {
		return m.Rows
	}
	return k.Table.Start
}

// RowsFor returns the rows of the kind's table that m stands at, nil if the kind has
// none. They may be the kind's own and must not be changed.
func (m *Module) RowsFor(k *Kind) [][]float64 { return k.rowsOf(m) }

// Row returns a new row of the table: every column at its default.
func (t *Table) Row() []float64 {
	row := make([]float64, len(t.Columns))
	for i := range t.Columns {
		row[i] = t.Columns[i].Scale.Default
	}
	return row
}

// Allowed says in words how many rows there may be and what they hold: "1 to 64
// partials: ratio 0.01 x to 64 x, level -96 dB to 0 dB".
func (t *Table) Allowed() string {
	text := fmt.Sprintf("%d to %d %s:", t.Least, t.Most, t.Name)
	for i, c := range t.Columns {
		control := Control{Name: c.Name, Scales: []Scale{c.Scale}}
		text += " " + c.Name + " " + control.Allowed()
		if i < len(t.Columns)-1 {
			text += ","
		}
	}
	return text
}

// rows tells what is wrong with the rows of m.
func (v *validator) rows(m *Module, kind *Kind, name string) {
	t := kind.Table
	switch {
	case m.Rows == nil:
		return
	case t == nil:
		v.add(name, "rows", "%s has no table; it takes no rows", kind.Name)
		return
	case len(m.Rows) < t.Least || len(m.Rows) > t.Most:
		v.add(name, "rows", "there are %d %s; allowed is %s", len(m.Rows), t.Name, t.Allowed())
		return
	}
	for i, row := range m.Rows {
		if len(row) != len(t.Columns) {
			v.add(name, "rows", "row %d has %d numbers; it needs %d; allowed is %s", i+1, len(row), len(t.Columns), t.Allowed())
			return
		}
		for k, x := range row {
			c := Control{Name: t.Columns[k].Name, Scales: []Scale{t.Columns[k].Scale}}
			if message := c.fault(Setting{Value: x, Unit: c.Scales[0].Unit}); message != "" {
				v.add(name, "rows", "row %d, %s: %s", i+1, c.Name, message)
			}
		}
	}
}

// compareRows adds what changed in the rows of a module: every number where few
// did, otherwise how many.
func (c *comparison) compareRows(was, is *Module) {
	kind := c.kind(is)
	if was.Kind != is.Kind {
		return
	}
	before, after := kind.rowsOf(was), kind.rowsOf(is)
	if SameRows(before, after) {
		return
	}
	name := "rows"
	if kind.Table != nil {
		name = kind.Table.Name
	}
	count := func(rows [][]float64) string {
		if rows == nil {
			return "default"
		}
		return fmt.Sprint(len(rows))
	}
	if len(before) != len(after) || kind.Table == nil {
		c.add(Change{What: RowsChanged, Module: is.Name, Place: name, Before: count(before), After: count(after)})
		return
	}
	var cells []Change
	for i := range after {
		for k := range min(len(kind.Table.Columns), len(before[i]), len(after[i])) {
			a, b := before[i][k], after[i][k]
			if same(a, b) {
				continue
			}
			column := &kind.Table.Columns[k]
			write := func(x float64) Setting { return Setting{Value: x, Unit: column.Scale.Unit} }
			from, to := apart(write(a), write(b), Setting.String, Setting.Exact)
			cells = append(cells, Change{What: RowsChanged, Module: is.Name,
				Place: fmt.Sprintf("%s, %s of row %d", name, column.Name, i+1), Before: from, After: to})
		}
	}
	if len(cells) > 4 {
		cells = []Change{{What: RowsChanged, Module: is.Name, Place: name,
			Before: fmt.Sprintf("%d as they were", len(before)), After: fmt.Sprintf("%d with %d numbers changed", len(after), len(cells))}}
	}
	c.changes = append(c.changes, cells...)
}

// SameRows reports whether two tables hold the same numbers to the bit. Rows left
// out (nil) are not the same as rows that are there.
func SameRows(a, b [][]float64) bool {
	return (a == nil) == (b == nil) && slices.EqualFunc(a, b, func(x, y []float64) bool { return slices.EqualFunc(x, y, same) })
}

// same reports whether two numbers are the same to the bit.
func same(a, b float64) bool { return math.Float64bits(a) == math.Float64bits(b) }
