package reverberator

import (
	"math"

	"lampblack/patch/dsp/line"
)

// diffusion are the lengths of the diffusers of each side in s: short against any
// room, and with no common measure.
var diffusion = [2][4]float64{{0.00107, 0.00241, 0.00373, 0.00597}, {0.00113, 0.00229, 0.00397, 0.00571}}

// spread is the gain of a diffuser's loop: the longest is down by 60 dB after 81 ms.
const spread = 0.6

// diffuser is an all-pass: every sound comes out as loud as it went in, in many
// small pieces (Schroeder).
type diffuser struct {
	line   line.Line
	length int
}

func newDiffuser(samples float64) diffuser {
	d := diffuser{line: line.New(samples), length: int(samples + 0.5)}
	d.length = max(d.length, 1)
	return d
}

func (d *diffuser) pass(x float64) float64 {
	v := d.line.Whole(d.length - 1)
	w := x + float64(spread*v)
	if math.Abs(w) < silent {
		w = 0
	}
	d.line.Put(w)
	return v - float64(spread*w)
}
