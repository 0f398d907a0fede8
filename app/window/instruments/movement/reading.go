package movement

import (
	"fmt"

	"lampblack/app/window/look"
	"lampblack/app/window/plate"
)

// reading tells in one line what a control does.
func (r *row) reading() string {
	text := r.At.Module + " " + r.At.Name
	if !r.moved {
		return text
	}
	text += " " + r.value(r.least) + " to " + r.value(r.most)
	if rate := r.rate.words(r.origin); rate != "" && rate != none && rate != soon {
		text += plate.Between + rate
	}
	if r.limited {
		text += plate.Between + "driven beyond " + r.ends()
	}
	return look.Shown(text)
}

// lowEnd and highEnd tell at which ends a control was clamped.
func (r *row) lowEnd() bool  { return r.moved && r.limited && atEnd(r.least, r.scale.Min) }
func (r *row) highEnd() bool { return r.moved && r.limited && atEnd(r.most, r.scale.Max) }

// atEnd tells whether a value is an end of a scale: it went through the engine's
// unit.
func atEnd(v, end float64) bool { return abs(v-end) <= 1e-6*max(abs(end), 1e-3) }

func (r *row) ends() string {
	switch low, high := r.lowEnd(), r.highEnd(); {
	case low && high:
		return "both its ends"
	case low:
		return "its low end"
	case high:
		return "its high end"
	}
	return "an end" // it has come back since the range was begun
}

// clamped counts what moves, and what is driven beyond its ends.
func (p *Plate) clamped() string {
	limited := 0
	for _, r := range p.rows {
		if r.limited {
			limited++
		}
	}
	text := "1 control is moved"
	if len(p.rows) > 1 {
		text = fmt.Sprintf("%d controls are moved", len(p.rows))
	}
	if limited > 0 {
		text += plate.Between + fmt.Sprintf("%d driven beyond an end", limited)
	}
	return text
}

// HintAt is plate.Hinter's.
func (p *Plate) HintAt(place string) string {
	if place == tablePlace {
		return "↑ ↓ PgUp PgDn choose a control; Enter or a click: its module's rulers"
	}
	return ""
}
