// Package kind is the catalogue of the kinds of module that a patch can use.
//
// Each kind lives in one folder below (its words, its sound, its test); this
// package lists them. It runs nothing: package engine does.
//
// Held by tests: every kind keeps one contract (the same bits at any block
// length, finite at every limit of its controls, no allocation).
package kind

import (
	"slices"

	"lampblack/patch"
	"lampblack/patch/kind/ahd"
	"lampblack/patch/kind/allpass"
	"lampblack/patch/kind/amplifier"
	"lampblack/patch/kind/bands"
	"lampblack/patch/kind/chorus"
	"lampblack/patch/kind/click"
	"lampblack/patch/kind/comparator"
	"lampblack/patch/kind/contour"
	"lampblack/patch/kind/dcblock"
	"lampblack/patch/kind/delay"
	"lampblack/patch/kind/envelope"
	"lampblack/patch/kind/filter"
	"lampblack/patch/kind/gate"
	"lampblack/patch/kind/hold"
	"lampblack/patch/kind/ladder"
	"lampblack/patch/kind/logic"
	"lampblack/patch/kind/loudness"
	"lampblack/patch/kind/memory"
	"lampblack/patch/kind/mixer"
	"lampblack/patch/kind/noise"
	"lampblack/patch/kind/onset"
	"lampblack/patch/kind/oscillator"
	"lampblack/patch/kind/output"
	"lampblack/patch/kind/pan"
	"lampblack/patch/kind/partials"
	"lampblack/patch/kind/pitch"
	"lampblack/patch/kind/plucked"
	"lampblack/patch/kind/quantiser"
	"lampblack/patch/kind/recording"
	"lampblack/patch/kind/resonator"
	"lampblack/patch/kind/reverberator"
	"lampblack/patch/kind/ring"
	"lampblack/patch/kind/saturation"
	"lampblack/patch/kind/scale"
	"lampblack/patch/kind/slew"
	"lampblack/patch/kind/slow"
	"lampblack/patch/kind/tilt"
	"lampblack/patch/kind/vocoder"
	"lampblack/patch/kind/wander"
	"lampblack/patch/kind/width"
	"lampblack/patch/kind/wow"
	"lampblack/patch/module"
)

// all is in the order of a menu: by family, what is taken most often first; the
// output is last. It is made once; nobody writes to it.
var all = []*module.Kind{
	memory.Kind(),
	oscillator.Kind(),
	noise.Kind(),
	partials.Kind(),
	recording.Kind(),
	plucked.Kind(),
	click.Kind(),
	filter.Kind(),
	ladder.Kind(),
	allpass.Kind(),
	tilt.Kind(),
	dcblock.Kind(),
	resonator.Kind(),
	bands.Kind(),
	slow.Kind(),
	wander.Kind(),
	hold.Kind(),
	ring.Kind(),
	slew.Kind(),
	scale.Kind(),
	comparator.Kind(),
	logic.Kind(),
	quantiser.Kind(),
	envelope.Kind(),
	ahd.Kind(),
	contour.Kind(),
	loudness.Kind(),
	pitch.Kind(),
	gate.Kind(),
	onset.Kind(),
	vocoder.Kind(),
	delay.Kind(),
	chorus.Kind(),
	reverberator.Kind(),
	saturation.Kind(),
	wow.Kind(),
	pan.Kind(),
	width.Kind(),
	amplifier.Kind(),
	mixer.Kind(),
	output.Kind(),
}

// Catalogue holds all kinds. It implements patch.Kinds and is safe for any
// number of goroutines.
var Catalogue = newCatalogue(all)

// All returns every kind in the order of a menu. The slice is the caller's,
// the kinds are shared and must not be changed.
func All() []*module.Kind { return append([]*module.Kind(nil), all...) }

// Names returns the names of all kinds, in the order of All.
func Names() []string {
	names := make([]string, len(all))
	for i, k := range all {
		names[i] = k.Name
	}
	return names
}

// Set is a catalogue of kinds by name.
type Set struct{ byName map[string]*module.Kind }

func newCatalogue(kinds []*module.Kind) Set {
	s := Set{map[string]*module.Kind{}}
	for _, k := range kinds {
		s.byName[k.Name] = k
	}
	return s
}

// Kind returns the words of the kind of that name; it makes Set a patch.Kinds.
func (s Set) Kind(name string) (*patch.Kind, bool) {
	k, ok := s.byName[name]
	if !ok {
		return nil, false
	}
	return &k.Kind, true
}

// Names returns the names of the kinds, in the order of All: what package patch
// suggests for a name that it does not know.
func (s Set) Names() []string {
	return slices.DeleteFunc(Names(), func(name string) bool { return s.byName[name] == nil })
}

// Module returns the kind of that name with its sound.
func (s Set) Module(name string) (*module.Kind, bool) {
	k, ok := s.byName[name]
	return k, ok
}
