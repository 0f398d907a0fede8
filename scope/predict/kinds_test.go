package predict

import (
	"math"
	"testing"

	"lampblack/patch"
	"lampblack/patch/kind"
)

// Every output of every kind says something, whatever is joined: with nothing,
// with a tone in every input, with every control moved by a slow oscillator or by
// noise. Nothing is no number, and no level is beyond reason.
func TestEveryKindIsPredictedOrSaysWhyNot(t *testing.T) {
	predicted := 0
	for _, k := range kind.All() {
		for _, moved := range []string{"", "slow", "noise", "oscillator"} {
			for _, inputs := range []bool{false, true} {
				d := &desk{t, build()}
				d.put("tone", "oscillator", "shape", "saw")
				d.put("mover", "slow", "shape", "triangle", "rate", "3 Hz")
				if moved != "" {
					d.p.Modules[1] = patch.Module{Name: "mover", Kind: moved}
				}
				d.put("it", k.Name)
				for _, in := range k.Inputs {
					if inputs {
						d.cord("tone/out", "it/"+in.Name, "")
					}
				}
				for i := range k.Controls {
					if c := &k.Controls[i]; moved != "" && len(c.Scales[0].Moves) > 0 {
						m := c.Scales[0].Moves[0]
						d.p.Cords = append(d.p.Cords, patch.Cord{From: patch.Socket{Module: "mover", Name: "out"}, To: patch.Socket{Module: "it", Name: c.Name}, Depth: patch.Setting{Value: m.Max / 20, Unit: m.Unit}})
					}
				}
				for _, o := range k.Outputs {
					c := usual
					c.After = 0.1
					r := Predict(*d.p, patch.Socket{Module: "it", Name: o.Name}, c)
					if len(r.Why) == 0 {
						predicted++
					}
					for _, l := range r.Lines {
						if math.IsNaN(l.Amplitude) || math.Abs(l.Amplitude) > 1000 || l.Hz < 0 || l.Hz > 24000 || math.IsNaN(l.Phase) {
							t.Errorf("%s / %s moved by %q: %+v", k.Name, o.Name, moved, l)
							break
						}
					}
					for _, b := range r.Thirds {
						if math.IsNaN(b.Level) {
							t.Errorf("%s / %s moved by %q: a third of %+v", k.Name, o.Name, moved, b)
						}
					}
				}
			}
		}
	}
	t.Logf("%d outputs were predicted in full", predicted)
	if predicted < 100 {
		t.Errorf("only %d outputs were predicted in full", predicted)
	}
}

// A kind that is not worked out has a reason of its own.
func TestEveryKindThatIsNotPredictedHasItsReason(t *testing.T) {
	for _, k := range kind.All() {
		n := &node{walk: newWalk(patch.Patch{}, usual), module: &patch.Module{Name: "it", Kind: k.Name}, kind: &k.Kind}
		why := ""
		for _, s := range n.outputs() {
			for _, w := range s.why {
				why = w
			}
		}
		if why == "it is of a kind ("+k.Title+") that is not predicted" {
			t.Errorf("%s: %s", k.Name, why)
		}
	}
}
