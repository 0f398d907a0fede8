package kind_test

import (
	"math"
	"testing"

	"lampblack/patch"
	"lampblack/patch/dsp/hash"
	"lampblack/patch/kind"
	"lampblack/patch/kind/rig"
	"lampblack/patch/module"
)

const (
	burstRate = 24000
	burstFrom = 500 // the samples between which an input hears what is no sound
	burstTo   = 1700
)

// nonsense is what a fault elsewhere may send.
var nonsense = []float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e300, -1e300, 5e-324, 1e20}

// backAfter is in how many seconds a burst is over at the starting settings
// where that takes more than one: +-1000 falls to 1e-6 by 180 dB, three times
// T60; a resonator's steady voltage, as its help says, lasts longer than its tone.
var backAfter = map[string]float64{"resonator": 14, "string": 6.5, "reverberator": 6, "bands": 3, "delay": 3.5, "onset": 4}

// remembers are inputs whose rises count: a burst is a few of them, and what
// they set off is another sound than before for good.
var remembers = map[string]string{
	"string / trigger": "every pluck has a noise of its own",
	"slow / restart":   "the cycle stands elsewhere",
	"wander / restart": "so does the way",
	"hold / clock":     "the random steps are drawn from the number of the beat",
	"logic / a":        "the gates of latch, toggle and divide are counted",
	"logic / b":        "the same",
}

// judged are inputs that are only held against a threshold: nothing has to be
// limited there.
var judged = map[string]bool{
	"oscillator / sync": true, "slow / restart": true, "wander / restart": true, "hold / clock": true,
	"comparator / in": true, "comparator / against": true, "logic / a": true, "logic / b": true, "vocoder / hold": true,
	"hold / in": true, // looked at on the beats alone
}

// struck puts k on the bench with a clean signal at every input and, if burst,
// nonsense for a while at one of them.
func struck(k *module.Kind, input int, trial uint64, burst bool) *rig.Rig {
	r := rig.NewSetup(k, module.Setup{Rate: burstRate, Seed: 7, Side: 0.5, Clip: clip})
	r.Note(10, 4000)
	for i, in := range k.Inputs {
		clean := func(n int) float64 { return 0.5 * hash.Signed(uint64(i), uint64(n)) }
		if in.Open == patch.OpenGate || in.Open == patch.OpenTrigger {
			clean = func(n int) float64 { return float64(n / 3000 % 2) }
		}
		r.Feed(in.Name, func(n int) float64 {
			if burst && i == input && n >= burstFrom && n < burstTo {
				return nonsense[hash.Bits(trial, uint64(n)/(1+trial%3))%uint64(len(nonsense))]
			}
			return clean(n)
		})
	}
	return r
}

// After a burst of nonsense the output is what it would have been, and while it
// lasted either the module said that it had to limit, or it let it through for the
// engine to say so.
func TestABurstOfNonsenseIsOverSoon(t *testing.T) {
	for _, k := range kind.All() {
		for input, in := range k.Inputs[:min(len(k.Inputs), 3)] {
			where := k.Name + " / " + in.Name
			after := max(backAfter[k.Name], 1)
			n := burstTo + int((after+0.1)*burstRate)
			clean := struck(k, input, 0, false).Run(n)
			r := struck(k, input, 0, true)
			through := false
			for o, out := range r.Run(n) {
				last := 0
				for i, y := range out {
					through = through || !(math.Abs(y) <= 1000)
					if !(math.Abs(y-clean[o][i]) <= 1e-6) {
						last = i
					}
				}
				if s := float64(last-burstTo) / burstRate; s > after && remembers[where] == "" {
					t.Errorf("%s: output %s is another one for %.2f s, want at most %g s", where, k.Outputs[o].Name, s, after)
				}
			}
			gated := in.Open == patch.OpenGate || in.Open == patch.OpenTrigger
			if !r.Clamped && !through && !judged[where] && !gated {
				t.Errorf("%s: nonsense was taken in without a word", where)
			}
		}
	}
}

// Whatever the settings: half a second behind the burst all is finite and bounded.
func TestABurstOfNonsenseBreaksNothingAtAnyLimit(t *testing.T) {
	for _, k := range kind.All() {
		for input := range k.Inputs[:min(len(k.Inputs), 3)] {
			for trial := range uint64(12) {
				r := struck(k, input, trial, true)
				for i := range k.Controls {
					c := &k.Controls[i]
					s := scaleOf(c, int(hash.Bits(trial, uint64(100+i))%2))
					r.Set(c.Name, place(s, int(hash.Bits(trial, uint64(i))%3)), s.Unit)
				}
				for o, out := range r.Run(burstTo + burstRate*3/4) {
					for i, y := range out[burstTo+burstRate/2:] {
						if !(math.Abs(y) <= 1000) {
							t.Errorf("%s / %s, trial %d: output %s is %g, %d samples behind the burst", k.Name, k.Inputs[input].Name, trial, k.Outputs[o].Name, y, burstRate/2+i)
							break
						}
					}
				}
			}
		}
	}
}
