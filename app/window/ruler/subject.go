package ruler

import (
	"math"

	"lampblack/app/desk"
	"lampblack/patch"
)

// subject is what a ruler sets: a control, or the depth of a cord.
type subject interface {
	name() string
	help() string
	scale() *patch.Scale    // of the unit in which it is written now
	signed() bool           // numbers above 0 bear a plus sign
	setting() patch.Setting // as it stands
	usual() float64         // what a double click returns to, in the scale's unit
	write(patch.Setting)    // a part of a drag
	reset()
	read(text string) (patch.Setting, error)
	swept() (least, now, most float64, ok bool)
	other() string // the unit that turn changes to, "" if there is one only
	turn()         // writes it in the other unit
}

// controlOf is a control of a module, by name: the module may go away.
type controlOf struct {
	session         *desk.Session
	module, control string
}

func (c controlOf) spec() *patch.Control {
	if k := c.session.Kind(c.module); k != nil {
		if spec := k.Control(c.control); spec != nil {
			return spec
		}
	}
	// Between an edit and the panel's rebuilding the module may be gone.
	return &patch.Control{Name: c.control, Scales: []patch.Scale{{Max: 1}}}
}

func (c controlOf) name() string { return c.control }
func (c controlOf) help() string { return c.spec().Help }
func (c controlOf) signed() bool { return false }

func (c controlOf) setting() patch.Setting {
	if v, ok := c.session.Setting(c.module, c.control); ok {
		return v
	}
	return c.spec().Default()
}

func (c controlOf) scale() *patch.Scale {
	spec := c.spec()
	return &spec.Scales[max(0, spec.Scale(c.setting().Unit))]
}

func (c controlOf) usual() float64 { return c.scale().Default }

func (c controlOf) write(v patch.Setting) {
	if spec := c.spec(); spec.Scales[0].Choices != nil {
		v = spec.Choice(int(v.Value))
	}
	c.session.Do(desk.SetControl(c.module, c.control, v))
}

func (c controlOf) reset() { c.session.Do(desk.ResetControl(c.module, c.control)) }

func (c controlOf) read(text string) (patch.Setting, error) {
	return patch.ParseSettingIn(text, c.spec(), c.scale().Unit)
}

func (c controlOf) swept() (least, now, most float64, ok bool) {
	return c.session.Swept(c.module, c.control)
}

func (c controlOf) other() string {
	spec := c.spec()
	if len(spec.Scales) < 2 {
		return ""
	}
	return spec.Scales[(max(0, spec.Scale(c.setting().Unit))+1)%len(spec.Scales)].Unit
}

func (c controlOf) turn() {
	spec := c.spec()
	to := &spec.Scales[max(0, spec.Scale(c.other()))]
	v := converted(c.setting(), to, c.centre())
	c.session.Settle()
	c.session.Do(desk.SetControl(c.module, c.control, v))
	c.session.Settle()
}

// centre returns the frequency in Hz to which a width belongs: that of the
// first other control of the module which is one, 0 if there is none.
func (c controlOf) centre() float64 {
	k := c.session.Kind(c.module)
	if k == nil {
		return 0
	}
	for i := range k.Controls {
		if other := &k.Controls[i]; other.Name != c.control && other.Scale("Hz") >= 0 {
			if v, ok := c.session.Setting(c.module, other.Name); ok && v.Unit == "Hz" {
				return v.Value
			}
		}
	}
	return 0
}

// converted writes v on another scale of its control. A width in Hz, a Q and a
// width in octaves belong to each other through the centre frequency. What
// can't be converted, or lies beyond the scale, goes to the nearest that can.
func converted(v patch.Setting, to *patch.Scale, centre float64) patch.Setting {
	value := to.Default
	if q, ok := quality(v, centre); ok {
		switch to.Unit {
		case "Q":
			value = q
		case "Hz":
			if centre > 0 {
				value = centre / q
			}
		case "oct":
			value = 2 / math.Ln2 * math.Asinh(1/(2*q))
		}
	}
	switch [2]string{v.Unit, to.Unit} {
	case [2]string{"%", "oct"}: // of a voltage: 1 is 100 % or one octave
		value = v.Value / 100
	case [2]string{"oct", "%"}:
		value = v.Value * 100
	}
	return rounded(value, to)
}

// quality returns the Q that a width comes to at a centre frequency in Hz: the
// centre over the distance of the two edges. N octaves lie between the edges if
// 1/Q = 2 sinh(N ln 2 / 2), for their geometric mean is the centre.
func quality(v patch.Setting, centre float64) (float64, bool) {
	if v.Value <= 0 {
		return 0, false // no width
	}
	switch v.Unit {
	case "Q":
		return v.Value, true
	case "Hz":
		return centre / v.Value, centre > 0
	case "oct":
		return 1 / (2 * math.Sinh(v.Value*math.Ln2/2)), true
	}
	return 0, false
}

// rounded returns the setting of a scale that is nearest to v with as many
// digits as are written.
func rounded(v float64, s *patch.Scale) patch.Setting {
	v = min(max(v, s.Min), s.Max)
	set := patch.Rounded(v, s.Unit)
	if set.Value < s.Min || set.Value > s.Max {
		return patch.Setting{Value: v, Unit: s.Unit} // rounding led beyond an end that has more digits
	}
	return set
}

// depthOf is the depth of a cord into a control.
type depthOf struct {
	session  *desk.Session
	from, to patch.Socket
}

func (d depthOf) cord() patch.Cord {
	for _, c := range d.session.Patch().Cords {
		if c.From == d.from && c.To == d.to {
			return c
		}
	}
	return patch.Cord{From: d.from, To: d.to}
}

// moves returns the control that the cord ends in and the moves that its
// present scale offers.
func (d depthOf) moves() (*patch.Control, []patch.Move) {
	c := controlOf{d.session, d.to.Module, d.to.Name}
	return c.spec(), c.scale().Moves
}

func (d depthOf) move() patch.Move {
	_, moves := d.moves()
	for _, m := range moves {
		if m.Unit == d.setting().Unit {
			return m
		}
	}
	return patch.Move{Unit: d.setting().Unit, Max: 1}
}

func (d depthOf) name() string { return "depth" }
func (d depthOf) signed() bool { return true }

func (d depthOf) help() string {
	m := d.move()
	switch m.Kind {
	case patch.MoveOctaves:
		return "How far a signal of 1 moves " + d.to.Name + ", in octaves: +1 oct doubles it, −1 oct halves it."
	case patch.MoveDecibels:
		return "How far a signal of 1 moves " + d.to.Name + ", in dB."
	case patch.MoveFactor:
		return "How much of " + d.to.Name + " the signal multiplies: ×1 all of it, 0 nothing; below 0 a signal of 1 takes away."
	}
	return "How far a signal of 1 moves " + d.to.Name + ", in " + m.Unit + "."
}

func (d depthOf) scale() *patch.Scale {
	m := d.move()
	return &patch.Scale{Unit: m.Unit, Min: -m.Max, Max: m.Max}
}

func (d depthOf) setting() patch.Setting { return d.cord().Depth }

func (d depthOf) usual() float64 {
	v := d.move().Max / 4
	if c, _ := d.moves(); c.Scales[0].Choices == nil {
		if usual, ok := desk.UsualDepth(c, max(0, c.Scale(controlOf{d.session, d.to.Module, d.to.Name}.setting().Unit))); ok && usual.Unit == d.move().Unit {
			return usual.Value
		}
	}
	switch d.move().Kind {
	case patch.MoveOctaves, patch.MoveFactor:
		v = 1
	case patch.MoveDecibels:
		v = 6
	}
	return min(v, d.move().Max)
}

func (d depthOf) write(v patch.Setting) { d.session.Do(desk.SetDepth(d.from, d.to, v)) }

func (d depthOf) reset() {
	d.session.Settle()
	d.write(patch.Setting{Value: d.usual(), Unit: d.move().Unit})
	d.session.Settle()
}

func (d depthOf) read(text string) (patch.Setting, error) {
	c, _ := d.moves()
	if m := d.move(); m.Unit != "" && endsInFigure(text) {
		text += " " + m.Unit // a bare number is in the unit that is shown
	}
	return patch.ParseDepth(text, c)
}

func endsInFigure(text string) bool {
	if text == "" {
		return false
	}
	last := text[len(text)-1]
	return last == '.' || last >= '0' && last <= '9'
}

func (d depthOf) swept() (least, now, most float64, ok bool) { return 0, 0, 0, false }

func (d depthOf) other() string {
	_, moves := d.moves()
	if len(moves) < 2 {
		return ""
	}
	for i, m := range moves {
		if m.Unit == d.setting().Unit {
			return moves[(i+1)%len(moves)].Unit
		}
	}
	return moves[0].Unit
}

// turn keeps the sign: nothing else of a depth in octaves means anything in dB.
func (d depthOf) turn() {
	sign := 1.0
	if d.setting().Value < 0 {
		sign = -1
	}
	to := d.other()
	d.session.Settle()
	d.write(patch.Setting{Value: 0, Unit: to})
	d.write(patch.Setting{Value: sign * d.usual(), Unit: to})
	d.session.Settle()
}
