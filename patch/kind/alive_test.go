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

// settledByTheEngine are controls that no Sound reads: package engine does, and
// holds them by its own tests.
var settledByTheEngine = map[string]bool{"memory / voices": true, "memory / steal": true, "memory / unison": true}

// shortClip is a recording that is over within a run of 4000 samples.
var shortClip = func() *module.Clip {
	left, right := clip.Channels[0][:1600], clip.Channels[1][:1600]
	return &module.Clip{Channels: [][]float64{left, right}}
}()

// Every control, in every unit, changes what is heard in some surroundings when
// it is moved; so does every one of a choice's words.
func TestNoControlDoesNothing(t *testing.T) {
	for _, k := range kind.All() {
		for i := range k.Controls {
			c := &k.Controls[i]
			if settledByTheEngine[k.Name+" / "+c.Name] {
				continue
			}
			for _, s := range c.Scales {
				if s.Choices == nil {
					if !anyChanges(k, c, &s) {
						t.Errorf("%s / %s in %q does nothing", k.Name, c.Name, s.Unit)
					}
					continue
				}
				for n := 1; n < len(s.Choices); n++ {
					if !changes(k, c, &s, float64(n-1), float64(n)) {
						t.Errorf("%s / %s: %s and %s sound the same", k.Name, c.Name, s.Choices[n-1], s.Choices[n])
					}
				}
			}
		}
	}
}

// anyChanges tries some marks of a ruler: its ends may mean the same, as 0 and
// 360 degrees do, and most of a ruler of an hour lies beyond what is run here.
func anyChanges(k *module.Kind, c *patch.Control, s *patch.Scale) bool {
	marks := []float64{s.Max, s.Min, s.At(0.37), s.At(0.03), s.Min + 2e-6*(s.Max-s.Min)}
	for i, a := range marks[1:] {
		if changes(k, c, s, marks[i], a) {
			return true
		}
	}
	return false
}

// changes reports whether two settings of c sound different anywhere.
func changes(k *module.Kind, c *patch.Control, s *patch.Scale, a, b float64) bool {
	for trial := range uint64(100) {
		one := surroundings(k, trial).Set(c.Name, a, s.Unit).Run(4000)
		two := surroundings(k, trial).Set(c.Name, b, s.Unit).Run(4000)
		if _, i := differ(one, two); i >= 0 {
			return true
		}
	}
	return false
}

// surroundings puts a kind on the bench in one of many ways: what is fed, what
// is left open, what the rows and the other controls say, and one of those that
// changes in the middle.
func surroundings(k *module.Kind, trial uint64) *rig.Rig {
	draw := func(what, n int) int { return int(hash.Bits(trial, uint64(what)) % uint64(n)) }
	rate := []float64{8000, 48000}[trial%2]
	r := rig.NewSetup(k, module.Setup{Rate: rate, Seed: 7, Side: 0.5, Clip: shortClip, Rows: rows(k)})
	r.Played(func(n int) float64 { return float64(n / 900 % 3) }, func(n int) float64 { return 0.4 })
	r.Note(100, 2500)
	for i, in := range k.Inputs {
		if w := signal(draw(i, 6), i); w != nil {
			r.Feed(in.Name, w)
		}
	}
	restless := -1
	if len(k.Controls) > 0 {
		restless = draw(99, len(k.Controls))
	}
	for i := range k.Controls {
		c := &k.Controls[i]
		s := &c.Scales[draw(100+i, len(c.Scales))]
		there := s.At(float64(draw(300+i, 1000)) / 999)
		switch here := [3]float64{s.Default, s.At(0.03), there}[draw(200+i, 3)]; {
		case i == restless && s.Choices == nil:
			r.Move(c.Name, s.Unit, func(n int) float64 { return []float64{here, there}[min(n/2000, 1)] })
		default:
			r.Set(c.Name, here, s.Unit)
		}
	}
	return r
}

// rows returns some that differ from each other, and times that are over soon.
func rows(k *module.Kind) [][]float64 {
	if k.Table == nil {
		return nil
	}
	out := make([][]float64, min(30, k.Table.Most))
	for i := range out {
		for j, c := range k.Table.Columns {
			v := c.Scale.At(float64(hash.Bits(uint64(i), uint64(j))%1000) / 999)
			if c.Scale.Unit == "s" {
				v = 0.002 + 0.01*float64(i%2)
			}
			out[i] = append(out[i], v)
		}
	}
	return out
}

// signal is one of several things that an input may hear; nil: it is left open.
func signal(which, input int) rig.Wave {
	switch which {
	case 1: // gates
		return func(n int) float64 { return float64((n + 50*input) / 170 % 2) }
	case 2: // a tone: 150 Hz at 8 kHz
		return rig.Sine(900 + 100*float64(input))
	case 3:
		return func(n int) float64 { return 0.5 * hash.Signed(uint64(input), uint64(n)) }
	case 4: // a ramp
		return func(n int) float64 { return float64(n%2000) / 1000 }
	case 5: // a tone that comes and goes
		return func(n int) float64 { return math.Floor(float64(n%1600)/800) * rig.Sine(1200)(n) }
	}
	return nil
}
