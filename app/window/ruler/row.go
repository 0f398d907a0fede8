package ruler

import (
	"math"

	"lampblack/patch"
)

// row is the geometry of one ruler, in the toolkit's units.
type row struct {
	em           float64
	width        float64
	nameWidth    float64
	valueWidth   float64
	labelHeight  float64
	scaleX0      float64 // left end of the scale
	scaleX1      float64
	top, base    float64 // tallest mark, base line
	bottom       float64 // foot of the index line
	height       float64
	valueX       float64
	unitX        float64 // where the other unit is offered
	messageTop   float64
	messageWidth float64
}

// rowOf lays a ruler out. The name, the value and half a label at either end
// of the scale have their room; the scale gets the rest.
func rowOf(width, em, nameWidth, valueWidth, labelHeight, overhang float64) row {
	r := row{em: em, width: width, nameWidth: nameWidth, valueWidth: valueWidth, labelHeight: labelHeight}
	r.top = math.Round(labelHeight + 0.1*em)
	r.base = math.Round(r.top + 0.75*em)
	r.bottom = math.Round(r.base + 0.4*em)
	r.height = r.bottom + 0.5*em
	r.scaleX0 = math.Round(nameWidth + em + overhang)
	r.scaleX1 = math.Round(max(r.scaleX0+em, width-valueWidth-2.5*em-overhang))
	r.valueX = r.scaleX1 + overhang + em
	r.messageTop = r.height - 0.2*em
	r.messageWidth = max(em, width-r.scaleX0)
	return r
}

// twoRows makes room for labels under the base line.
func (r *row) twoRows() {
	r.height = r.bottom + r.labelHeight + 0.1*r.em
	r.messageTop = r.height
}

// foot is where the ruler ends with so many cords' lines under it.
func (r row) foot(lines int) float64 {
	if lines == 0 {
		return r.height
	}
	return r.height + (causeHeight*float64(lines)+0.4)*r.em
}

func (r row) scaleWidth() float64 { return r.scaleX1 - r.scaleX0 }

// x returns where a fraction of the scale stands; beyond the ends is at them.
func (r row) x(fraction float64) float64 {
	if math.IsNaN(fraction) {
		fraction = 0
	}
	return r.scaleX0 + min(max(fraction, 0), 1)*r.scaleWidth()
}

// fraction undoes x.
func (r row) fraction(x float64) float64 {
	return min(max((x-r.scaleX0)/r.scaleWidth(), 0), 1)
}

// part is what of a ruler lies at a place.
type part int

const (
	nothing part = iota
	theName
	theScale
	theValue
	theUnit
	theCords
)

func (r row) at(x, y float64, other bool) part {
	switch {
	case y > r.bottom+0.5*r.em:
		return nothing
	case x < r.nameWidth+0.5*r.em:
		return theName
	case x <= r.scaleX1+0.8*r.em:
		return theScale
	case other && x >= r.unitX-0.3*r.em:
		return theUnit
	}
	return theValue
}

// moved returns the setting of a scale that stands steps hundredths of the
// ruler away from v. Rounding to what is written never swallows a step.
func moved(v float64, s *patch.Scale, steps float64) patch.Setting {
	if s.Taper == patch.Stepped {
		whole := math.Round(steps)
		if whole == 0 && steps != 0 {
			whole = math.Copysign(1, steps)
		}
		if s.Choices != nil {
			whole = math.Copysign(1, steps)
		}
		return patch.Setting{Value: min(max(v+whole, s.Min), s.Max), Unit: s.Unit}
	}
	now := rounded(v, s)
	for factor := 1.0; factor <= 64; factor *= 2 {
		set := rounded(s.At(s.Fraction(v)+steps*factor/100), s)
		if set.Value != now.Value {
			return set
		}
	}
	return now
}
