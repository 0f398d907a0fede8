package predict

import (
	"fmt"
	"math"

	"lampblack/patch"
)

// Movement is a control, or the output of an envelope, that does not stand still.
type Movement struct {
	Socket      patch.Socket
	Unit        string  // of Least and Most: the control's own, "" for an output
	Least, Most float64 // how far it goes
	Hz          float64 // how often a second; 0: with the note
	Now         float64 // of an envelope: what it is taken to stand at
}

// Moves says how far cords move a control when their signals go as far as they
// can.
type Moves struct {
	Unit     string  // of all values: that in which the control is written
	Setting  float64 // what is written
	Min, Max float64 // the ends of the scale
	Cords    []Share // in the order in which they were joined

	Least, Most float64 // how far all cords together go, within the scale
	Beyond      bool    // they would go past an end of the scale
}

// Share is what one cord does.
type Share struct {
	Cord        patch.Cord
	From, To    float64 // how far its signal goes
	Known       bool    // whether that follows from the patch; otherwise it is what such an output is meant for
	Least, Most float64 // how far the cord alone moves the control, in Moves.Unit, within the scale
	Part        float64 // of the length of the control's ruler that it covers, 0 to 1
	Beyond      bool    // alone it would go past an end of the scale
}

// MovesOf returns what moves a control: each cord at the full swing of its signal,
// and all of them at once. The note's pitch counts as it stands in c. An error says
// that there is no such control.
func MovesOf(p patch.Patch, at patch.Socket, c Conditions) (Moves, error) {
	w := newWalk(p, c)
	return w.moves(at, w.swingOf)
}

// MovesIn is MovesOf with the swings of the signals as they were measured: swing
// tells how far an output went, false if it is not known, which counts as 0.
func MovesIn(p patch.Patch, at patch.Socket, swing func(from patch.Socket) (low, high float64, known bool)) (Moves, error) {
	return newWalk(p, Conditions{}).moves(at, swing)
}

func (w *walk) moves(at patch.Socket, swing func(from patch.Socket) (low, high float64, known bool)) (Moves, error) {
	m := w.patch.Module(at.Module)
	if m == nil || kindOf(m) == nil || kindOf(m).Control(at.Name) == nil {
		return Moves{}, fmt.Errorf("there is no control %q in the patch; what moves it can't be said", at)
	}
	control := kindOf(m).Control(at.Name)
	s, number := written(m, control)
	scale := &control.Scales[number]
	out := Moves{Unit: scale.Unit, Setting: s.Value, Min: scale.Min, Max: scale.Max}
	all := newSpan(scale, s.Value)
	for _, cord := range w.patch.Cords {
		if cord.To != at {
			continue
		}
		share := Share{Cord: cord}
		share.From, share.To, share.Known = swing(cord.From)
		alone := newSpan(scale, s.Value)
		alone.move(cord, share.From, share.To)
		all.move(cord, share.From, share.To)
		share.Least, share.Most, share.Beyond = alone.ends()
		share.Part = scale.Fraction(share.Most) - scale.Fraction(share.Least)
		out.Cords = append(out.Cords, share)
	}
	out.Least, out.Most, out.Beyond = all.ends()
	return out, nil
}

// swingOf returns how far an output goes: as predicted, or as far as it is meant
// to.
func (w *walk) swingOf(from patch.Socket) (low, high float64, known bool) {
	m := w.patch.Module(from.Module)
	if m == nil {
		return 0, 0, false
	}
	switch m.Kind {
	case "envelope", "ahd", "loudness":
		return 0, 1, true
	case "memory":
		if from.Name != "pitch" {
			if from.Name == "side" {
				return -1, 1, true
			}
			return 0, 1, true
		}
	case "gate", "onset", "comparator", "logic":
		return 0, 1, true
	}
	if s := w.output(from); s.known() {
		low, high := w.extremes(s)
		return low, high, true
	}
	return -1, 1, false
}

// span is the lowest and the highest value of a control, by the formula at
// patch.Move, in the engine's unit.
type span struct {
	scale               *patch.Scale
	octaves, x, between [2]float64 // exponents, setting times factors, what is added
}

func newSpan(scale *patch.Scale, value float64) *span {
	v := engineUnit(scale.Unit, value)
	return &span{scale: scale, x: [2]float64{v, v}}
}

// move adds a cord whose signal goes from one value to another.
func (s *span) move(c patch.Cord, from, to float64) {
	how, ok := s.scale.Move(c.Depth.Unit)
	if !ok {
		return
	}
	d := c.Depth.Value
	low, high := math.Min(d*from, d*to), math.Max(d*from, d*to)
	switch how.Kind {
	case patch.MoveOctaves:
		s.octaves[0] += low
		s.octaves[1] += high
	case patch.MoveDecibels:
		s.octaves[0] += low * math.Log2(10) / 20
		s.octaves[1] += high * math.Log2(10) / 20
	case patch.MoveLinear:
		s.between[0] += engineUnit(c.Depth.Unit, low)
		s.between[1] += engineUnit(c.Depth.Unit, high)
	case patch.MoveFactor:
		rest := 1 - math.Max(d, 0)
		s.x = ends(s.x, [2]float64{rest + low, rest + high})
	}
}

// ends is the least and the most that a product of two ranges can be.
func ends(a, b [2]float64) [2]float64 {
	p := []float64{a[0] * b[0], a[0] * b[1], a[1] * b[0], a[1] * b[1]}
	return [2]float64{math.Min(math.Min(p[0], p[1]), math.Min(p[2], p[3])), math.Max(math.Max(p[0], p[1]), math.Max(p[2], p[3]))}
}

// ends returns the range within the scale, in its unit, and whether it goes past an
// end. A level's lowest mark stands for nothing, so going there is not past it.
func (s *span) ends() (least, most float64, beyond bool) {
	v := ends(s.x, [2]float64{math.Exp2(s.octaves[0]), math.Exp2(s.octaves[1])})
	lo, hi := engineUnit(s.scale.Unit, s.scale.Min), engineUnit(s.scale.Unit, s.scale.Max)
	low, high := v[0]+s.between[0], v[1]+s.between[1]
	const rounding = 1e-9
	beyond = high > hi+rounding*math.Abs(hi) || low < lo-rounding*math.Abs(lo) && !(s.scale.Unit == "dB" && low >= 0)
	least = fromEngineUnit(s.scale.Unit, math.Min(math.Max(low, lo), hi))
	most = fromEngineUnit(s.scale.Unit, math.Min(math.Max(high, lo), hi))
	return least, most, beyond
}
