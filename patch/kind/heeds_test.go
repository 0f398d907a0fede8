package kind_test

import (
	"testing"

	"lampblack/patch"
	"lampblack/patch/dsp/hash"
	"lampblack/patch/kind"
	"lampblack/patch/kind/rig"
	"lampblack/patch/module"
)

// A note reaches a module by the inputs that hear it while they are left open,
// unless its kind says that it heeds none at these settings, and in no other way:
// what it does not reach is there once for all voices.
func TestNotesReachOnlyWhatHeedsThem(t *testing.T) {
	for _, k := range kind.All() {
		if k.Name == "memory" {
			continue // it gives out the notes
		}
		deaf := 0
		for trial := range uint64(40) {
			one, heeds := unplayed(k, trial)
			if heeds {
				continue
			}
			deaf++
			two, _ := unplayed(k, trial)
			one.Note(100, 3000)
			two.Note(700, 800).Played(func(n int) float64 { return float64(n/700%3) - 1 }, func(int) float64 { return 0.3 })
			if o, i := differ(one.Run(4000), two.Run(4000)); i >= 0 {
				t.Errorf("%s, trial %d: a note that it does not heed changes output %s from sample %d on", k.Name, trial, k.Outputs[o].Name, i)
			}
		}
		if deaf == 0 && k.Heeds != nil {
			t.Errorf("%s heeds notes at any setting, but says that it may not", k.Name)
		}
	}
}

// unplayed puts a kind on the bench at settings drawn by chance, with some inputs
// left open, and reports whether it hears the note there.
func unplayed(k *module.Kind, trial uint64) (r *rig.Rig, heeds bool) {
	r = bench(k, 8000)
	joined, settings := map[string]bool{}, map[string]patch.Setting{}
	for i, in := range k.Inputs {
		if hash.Bits(trial, uint64(i))%2 == 0 {
			joined[in.Name] = true
			r.Feed(in.Name, func(n int) float64 { return float64((n + 70*i) / 150 % 2) })
		} else if in.Open == patch.OpenGate || in.Open == patch.OpenTrigger {
			heeds = true
		}
	}
	for i, c := range k.Controls {
		s := &c.Scales[0]
		v := s.At(float64(hash.Bits(trial, uint64(100+i))%1000) / 999)
		if hash.Bits(trial, uint64(200+i))%2 == 0 {
			v = s.Default
		}
		r.Set(c.Name, v, s.Unit)
		settings[c.Name] = patch.Setting{Value: v, Unit: s.Unit}
	}
	if heeds && k.Heeds != nil {
		heeds = k.Heeds(func(name string) (patch.Setting, bool) { return settings[name], joined[name] })
	}
	return r, heeds
}
