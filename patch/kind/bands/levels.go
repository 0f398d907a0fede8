package bands

import (
	"math"

	"lampblack/patch/dsp/approx"
	"lampblack/patch/dsp/logarithm"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// whole is the gain that brings the sum of all bands, at 0 dB each, to 0 dB:
// -1.98 dB, the middle of its ripples.
const whole = 0.7961593504173189

// loudest is the highest level of a band as a factor, +24 dB.
const loudest = 15.848931924611133

// perOctave is how many bands an octave has: 10 log10(2).
const perOctave = 3.010299956639812

// The controls before the octaves, by their place.
const (
	shift = iota
	depth
	tilt
	octave
)

// levels is the table as the controls make it.
type levels struct {
	drawn [thirds]float64 // octaves of amplitude

	begun  bool
	moved  [octave]float64 // shift, depth and tilt
	own    [thirds]float64 // of a band, as the three make it
	groups [10]float64     // of the octaves
	gains  [most]float64
}

func read(rows [][]float64) levels {
	var l levels
	for _, row := range rows {
		l.drawn[nearest(row[0])] = row[1] / logarithm.DecibelsPerOctave
	}
	return l
}

// nearest returns the number of the band in which a frequency lies.
func nearest(hz float64) int {
	k := math.Floor(float64(perOctave*logarithm.Log2(hz/1000)) + 0.5)
	return min(max(int(k)-first, 0), thirds-1)
}

// follow brings the gains to the controls at sample i.
func (l *levels) follow(c []module.Control, i int) {
	now := [octave]float64{c[shift].V[i], c[depth].V[i], c[tilt].V[i]}
	changed := !l.begun || now != l.moved
	if changed {
		l.move(now)
	}
	l.begun = true
	for o := range l.groups {
		if v := control.Gain(c[octave+o].V[i]); v != l.groups[o] {
			l.groups[o], changed = v, true
		}
	}
	if !changed {
		return
	}
	for k := range l.own {
		g := float64(min(float64(l.own[k]*l.groups[k/3]), loudest) * whole)
		if k&1 == 1 { // neighbours have opposite signs
			g = -g
		}
		l.gains[k+1] = g
	}
	l.gains[0], l.gains[most-1] = -l.gains[1], -l.gains[most-2]
}

// move computes every band's own level.
func (l *levels) move(to [octave]float64) {
	l.moved = to
	slope := logarithm.Log2(to[tilt])
	for k := range l.own {
		at := float64(k) - float64(to[shift]*perOctave)
		at = min(max(at, 0), thirds-1)
		i := min(int(at), thirds-2)
		part := at - float64(i)
		drawn := l.drawn[i] + float64(part*(l.drawn[i+1]-l.drawn[i]))
		above := float64(first+k) / perOctave // octaves from 1 kHz
		l.own[k] = float64(drawn*to[depth]) + float64(slope*above)
	}
	approx.Powers(l.own[:], 1)
	control.Gains(l.own[:], l.own[:])
}
