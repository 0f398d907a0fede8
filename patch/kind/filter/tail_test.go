package filter

import (
	"testing"

	"lampblack/patch/kind/rig"
)

// The slower the filter, the more a state that is put to rest alone would hold
// the other one back.
func TestTailsEndInExactSilenceHoweverSlow(t *testing.T) {
	for _, q := range []float64{0.1, 0.7071, 5} {
		r := rig.New(Kind()).Feed("in", rig.Impulse).Set("cutoff", 20, "Hz").Set("width", q, "Q").Set("boost", 12, "dB")
		for o, out := range r.Run(8 * 48000) {
			if y := out[len(out)-1]; y != 0 {
				t.Errorf("Q %g: %s is still %g after eight seconds", q, r.Kind.Outputs[o].Name, y)
			}
		}
	}
}
