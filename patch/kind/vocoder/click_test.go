package vocoder

import (
	"math"
	"testing"

	"lampblack/patch/kind/rig"
)

// A setting that jumps is smoothed by the engine with 5 ms. What is then heard
// above 3 kHz of a carrier of 300 Hz stays 60 dB below it. (A change of level
// by 12 dB makes -64 dB by itself.)
func TestJumpsOfControlsDoNotClick(t *testing.T) {
	for _, c := range []struct {
		name, unit string
		from, to   float64
	}{
		{"shift", "oct", 0, 0.5}, {"lowest", "Hz", 100, 200}, {"highest", "Hz", 8000, 4000},
		{"width", "%", 100, 300}, {"depth", "%", 0, 100}, {"level", "dB", -6, 6},
	} {
		for _, depth := range []float64{0, 100} {
			r := rig.New(Kind()).Set("level", 0, "dB").Set("sibilance", -96, "dB").Set("depth", depth, "%").
				Feed("carrier", rig.Sine(300)).Feed("voice", rig.Sine(300))
			r.Move(c.name, c.unit, func(n int) float64 {
				k := 1 - math.Exp(-max(float64(n-48000), 0)/240)
				if c.unit == "Hz" {
					return c.from * math.Pow(c.to/c.from, k)
				}
				return c.from + (c.to-c.from)*k
			})
			x := r.Out("out", 72000)
			for range 4 {
				highPass(x, 3000)
			}
			most := 0.0
			for _, y := range x[47000:] {
				most = max(most, math.Abs(y))
			}
			if db := rig.DB(most); db > -60 {
				t.Errorf("%s from %g to %g %s, depth %g %%: a click of %.1f dB", c.name, c.from, c.to, c.unit, depth, db)
			}
		}
	}
}

// highPass is one pole.
func highPass(x []float64, hz float64) {
	g := 1 / (1 + 2*math.Pi*hz/48000)
	var y, before float64
	for i := range x {
		y, before = g*(y+x[i]-before), x[i]
		x[i] = y
	}
}
