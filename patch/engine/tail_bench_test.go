package engine

import (
	"math"
	"testing"

	"lampblack/patch"
	"lampblack/patch/kind"
	"lampblack/patch/kind/rig"
)

// burst is noise that a note opens and its end closes, sent into a module of every
// kind there is a use for, or into a loop.
func burst(name string) patch.Patch {
	x := patch.Setting{Value: 1, Unit: "x"}
	k, ok := kind.Catalogue.Module(name)
	if !ok { // the loop: an echo of one block of samples, 0.2 dB softer each time
		p := build([]string{"steam", "noise", "gate", "envelope", "burst", "amplifier", "echo", "filter", "back", "amplifier", "out", "output"},
			cord{"gate", "out", "burst", "level", x}, cord{"steam", "out", "burst", "in", patch.Setting{}},
			cord{"burst", "out", "echo", "in", patch.Setting{}}, cord{"echo", "low", "back", "in", patch.Setting{}},
			cord{"back", "out", "echo", "in", patch.Setting{}}, cord{"echo", "low", "out", "left", patch.Setting{}})
		return setting(setting(p, "burst", "level", 0, "dB"), "back", "level", -0.2, "dB")
	}
	in := k.Inputs[0].Name
	if k.Input("in") >= 0 {
		in = "in"
	}
	p := build([]string{"steam", "noise", "gate", "envelope", "burst", "amplifier", "tail", name, "out", "output"},
		cord{"gate", "out", "burst", "level", x}, cord{"steam", "out", "burst", "in", patch.Setting{}},
		cord{"burst", "out", "tail", in, patch.Setting{}}, cord{"tail", k.Outputs[0].Name, "out", "left", patch.Setting{}})
	return setting(p, "burst", "level", 0, "dB")
}

// BenchmarkTail tells what a sample of a dying tail costs in comparison with the
// loud part before it: the dearest quarter of a second of 40 s, over the mean
// of the loud ones. Some processors need a hundred times as long for numbers below
// 1e-307, which a tail would pass on its way to silence; 1 means that they never
// occur. Each quarter counts with the shortest of its rounds.
func BenchmarkTail(b *testing.B) {
	for _, name := range []string{"reverberator", "filter", "delay", "plucked", "resonator", "ladder", "allpass", "chorus", "bands", "vocoder", "tilt", "dcblock", "loop"} {
		b.Run(name, func(b *testing.B) {
			const loud, quarters = 8, 160
			left, right := make([]float64, testRate/4), make([]float64, testRate/4)
			var took [loud + quarters]float64
			for i := range took {
				took[i] = math.Inf(1)
			}
			last := 0.0
			for b.Loop() {
				e := New(testRate)
				e.Swap(compileKind(b, burst(name)))
				e.NoteOn(0, 1)
				for i := range took {
					if i == loud {
						e.NoteOff(0)
					}
					took[i] = min(took[i], float64(rig.Taken(func() { e.Block(left, right) }).Nanoseconds()))
				}
				last = math.Abs(left[len(left)-1])
			}
			before, dearest := 0.0, 0.0
			for i, ns := range took {
				if i < loud {
					before += ns / loud
				} else if i > loud { // in that one the note ends
					dearest = max(dearest, ns)
				}
			}
			b.ReportMetric(before*4/testRate, "loud-ns/sample")
			b.ReportMetric(dearest*4/testRate, "dearest-ns/sample")
			b.ReportMetric(dearest/before, "dearest/loud")
			b.ReportMetric(took[len(took)-1]/before, "silent/loud")
			b.ReportMetric(last, "last-sample")
		})
	}
}
