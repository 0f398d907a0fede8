package sheet

import (
	"math"

	"lampblack/patch"
)

// Measures of a block, in sheet units at which body text is 15 high.
const (
	rule       = 24.0 // distance of the ruled lines; modules stand on them
	gridX      = 12.0 // modules stand at multiples of it
	headHeight = 48.0
	rowHeight  = 19.0
	padding    = 12.0
	symbolSize = 27.0
	nameX      = 48.0
	leastWidth = 156.0
	mostWidth  = 300.0
	mostRows   = 4 // values written in a block, more only where cords end
)

// lettering is a way in which a block's texts are set.
type lettering int

const (
	nameLetters lettering = iota
	titleLetters
	labelLetters
	valueLetters
)

// setting of type that the layout needs: it knows no fonts.
type typeset struct {
	measure func(l lettering, text string) float64 // width in sheet units
	shown   func(text string) string               // a written value as it is set
}

// row is a written value of a block.
type row struct {
	control string // "" for a line that is no control
	label   string
	value   string
	set     bool // away from its default
	socket  bool // a cord may end here
	joined  bool // one does
	y       float64
}

// block is a module laid out on the sheet.
type block struct {
	name, title, symbol string
	kind                *patch.Kind
	box                 Box
	inputs, outputs     []socket
	labelled            bool // sockets have their names written beside them
	rows                []row
	divider             float64 // where sockets end and values begin, 0 if there is no line
}

// socket is an input or output of a block.
type socket struct {
	name   string
	at     Point
	joined bool
}

// layOutBlock lays out one module. open shows every control, so that a cord
// can be drawn to it; joined tells whether a cord ends in or starts from a
// socket.
func layOutBlock(m *patch.Module, k *patch.Kind, joined func(patch.Socket) bool, open bool, t typeset) block {
	b := block{name: m.Name, kind: k}
	if k == nil {
		b.title = m.Kind
		b.box = Box{m.At.X, m.At.Y, m.At.X + leastWidth, m.At.Y + headHeight + padding}
		return b
	}
	b.title, b.symbol = k.Title, symbolOf(k)
	is := func(name string) bool { return joined(patch.Socket{Module: m.Name, Name: name}) }
	sockets := 0
	if n := max(len(k.Inputs), len(k.Outputs)); n > 1 {
		b.labelled, sockets = true, n
	}
	b.rows = writtenRows(m, k, is, open, t)
	width := b.fit(k, t)
	height := headHeight + float64(sockets+len(b.rows))*rowHeight
	if sockets+len(b.rows) > 0 {
		height += padding * 0.6
	}
	b.box = Box{m.At.X, m.At.Y, m.At.X + width, m.At.Y + height}
	b.place(k, is, sockets)
	return b
}

// place puts the sockets and rows where they belong.
func (b *block) place(k *patch.Kind, joined func(string) bool, sockets int) {
	y := func(i int) float64 {
		if !b.labelled {
			return b.box.Y0 + headHeight/2
		}
		return b.box.Y0 + headHeight + (float64(i)+0.5)*rowHeight
	}
	for i, in := range k.Inputs {
		b.inputs = append(b.inputs, socket{in.Name, Point{X: b.box.X0, Y: y(i)}, joined(in.Name)})
	}
	for i, out := range k.Outputs {
		b.outputs = append(b.outputs, socket{out.Name, Point{X: b.box.X1, Y: y(i)}, joined(out.Name)})
	}
	start := b.box.Y0 + headHeight + float64(sockets)*rowHeight
	if sockets > 0 && len(b.rows) > 0 {
		b.divider = start + padding*0.15
		start += padding * 0.3
	}
	for i := range b.rows {
		b.rows[i].y = start + (float64(i)+0.5)*rowHeight
	}
}

// fit returns the width that the texts need, on the grid.
func (b *block) fit(k *patch.Kind, t typeset) float64 {
	width := max(leastWidth, nameX+t.measure(nameLetters, b.name)+padding, nameX+t.measure(titleLetters, b.title)+padding)
	for _, r := range b.rows {
		// A value keeps its room while it is dragged: "998 Hz" is as wide as "2.10 kHz".
		value := max(t.measure(valueLetters, r.value), t.measure(valueLetters, "−0.00 kHz"))
		width = max(width, 2*padding+t.measure(labelLetters, r.label)+padding+value)
	}
	if b.labelled {
		for i := range max(len(k.Inputs), len(k.Outputs)) {
			w := 2*padding + padding
			if i < len(k.Inputs) {
				w += t.measure(labelLetters, k.Inputs[i].Name)
			}
			if i < len(k.Outputs) {
				w += t.measure(labelLetters, k.Outputs[i].Name)
			}
			width = max(width, w)
		}
	}
	return min(math.Ceil(width/gridX)*gridX, mostWidth)
}

// writtenRows chooses the values that a block writes: those into which a cord
// goes, those away from their default, and the first others while there is
// room.
func writtenRows(m *patch.Module, k *patch.Kind, joined func(string) bool, open bool, t typeset) []row {
	var rows []row
	if m.Recording != nil {
		rows = append(rows, row{label: "plays", value: m.Recording.Name, set: true})
	} else if k.Symbol == "recording" {
		rows = append(rows, row{label: "no recording yet"})
	}
	room := mostRows
	all := make([]row, len(k.Controls))
	wanted := make([]bool, len(k.Controls))
	for i := range k.Controls {
		all[i] = rowOf(m, &k.Controls[i], joined, t)
		if all[i].joined || all[i].set || open && all[i].socket {
			wanted[i] = true
			room--
		}
	}
	for i := range all {
		if !wanted[i] && room > 0 {
			wanted[i] = true
			room--
		}
		if wanted[i] {
			rows = append(rows, all[i])
		}
	}
	return rows
}

func rowOf(m *patch.Module, c *patch.Control, joined func(string) bool, t typeset) row {
	v, set := m.Settings[c.Name]
	if !set {
		v = c.Default()
	}
	written := v.String()
	if c.Scales[0].Choices != nil {
		if i := int(v.Value); i >= 0 && i < len(c.Scales[0].Choices) {
			written = c.Scales[0].Choices[i]
		}
	}
	moves := 0
	for i := range c.Scales {
		moves += len(c.Scales[i].Moves)
	}
	if c.Fixed {
		moves = 0
	}
	return row{
		control: c.Name, label: c.Name, value: t.shown(written),
		set:    set && (v.Value != c.Default().Value || v.Unit != c.Default().Unit),
		socket: moves > 0, joined: joined(c.Name),
	}
}

// symbolOf returns the symbol that is drawn for a kind.
func symbolOf(k *patch.Kind) string {
	if k.Symbol == "generator" && len(k.Outputs) > 0 && k.Outputs[0].Control {
		return "slow" // half a cycle: it sways
	}
	return k.Symbol
}

// end returns where a cord from or to the socket of that name ends.
func (b *block) end(name string, output bool) (Point, bool) {
	sockets := b.inputs
	if output {
		sockets = b.outputs
	}
	for _, s := range sockets {
		if s.name == name {
			return s.at, true
		}
	}
	if !output {
		for _, r := range b.rows {
			if r.control == name {
				return Point{X: b.box.X0, Y: r.y}, true
			}
		}
	}
	return Point{}, false
}
