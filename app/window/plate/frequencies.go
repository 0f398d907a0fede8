package plate

import (
	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
	"lampblack/scope"
)

// RuleFrequencies rules a frequency axis along the foot of a picture: 1, 2 and 5
// of each decade bear their figures, or every 2 kHz.
func RuleFrequencies(p *leaf.Pen, b Box, a scope.Axis) {
	free := b.X - p.Em
	for _, hz := range FrequencyMarks(a) {
		x := b.X + b.Width*float32(a.Fraction(hz))
		p.Upright(x, b.Y, b.Height, p.Ink.Faint)
		label := HertzLabel(hz)
		half := p.Wide(look.Small, label) / 2
		if at := min(x-half, b.X+b.Width-2*half); at > free && Labelled(a, hz) {
			free = p.Text(look.Small, at, b.Y+b.Height+p.Em*1.05, label) + p.Em*0.4
		}
	}
}

// HertzLabel is a figure of a frequency axis: 500, 2k.
func HertzLabel(hz float64) string {
	if hz >= 1000 {
		return Number(hz/1000) + "k"
	}
	return Number(hz)
}

// FrequencyMarks returns the frequencies that are ruled, in Hz.
func FrequencyMarks(a scope.Axis) []float64 {
	var marks []float64
	if !a.Logarithmic {
		for hz := 0.0; hz <= a.High; hz += 2000 {
			marks = append(marks, hz)
		}
		return marks
	}
	for decade := 10.0; decade < a.High; decade *= 10 {
		for n := 1.0; n < 10; n++ {
			if hz := n * decade; hz >= a.Low && hz <= a.High {
				marks = append(marks, hz)
			}
		}
	}
	return marks
}

// Labelled tells whether a ruled frequency bears its figure.
func Labelled(a scope.Axis, hz float64) bool {
	if !a.Logarithmic {
		return true
	}
	for hz >= 10 {
		hz /= 10
	}
	return hz < 1.5 || hz > 1.5 && hz < 2.5 || hz > 4.5 && hz < 5.5
}
