package engine

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"lampblack/patch"
	"lampblack/patch/kind"
	"lampblack/patch/memory"
)

// soundsLike is what the reference patches sound like, on any processor: the
// SHA-256 of three seconds at 48 kHz, two notes that overlap, and the versions
// of the kinds that made it.
var soundsLike = map[string]struct{ kinds, sha256 string }{
	"bell": {
		"amplifier 1, envelope 1, memory 1, oscillator 2, output 1",
		"ebc995a22509d89724813b507be5b53fad4fec258cafe9c8412fe2ce57c39e8c",
	},
	"brass": {
		"amplifier 1, envelope 1, filter 2, memory 1, mixer 1, oscillator 2, output 1, slow 1",
		"344e4700e533146ea0f668158d40659c29d6c926050f5a3aa81fdc9d7288407c",
	},
	"brass in voices": {
		"amplifier 1, envelope 1, filter 2, memory 1, mixer 1, oscillator 2, output 1, slow 1",
		"4356a45132d778289084b77eeca006dd40bf29b8da35177831089e342c6b6bbc",
	},
	"hiss": {
		"amplifier 1, envelope 1, filter 2, noise 2, oscillator 2, output 1, slow 1",
		"a1ca3d97438eea7002c1da628b9ccafb851f475f379314ca0baeaa501d78bd96",
	},
	"hiss-fixed": {
		"amplifier 1, envelope 1, filter 2, noise 2, oscillator 2, output 1",
		"71540682cad8450147e5374330ffb7ee1551399730fb6762da9c8485e184f9b1",
	},
}

var twoNotes = memory.Memory{Length: 2, Notes: []memory.Note{
	{At: 0.05, For: 0.6, Pitch: -9.0 / 12, Velocity: 0.5},
	{At: 0.5, For: 0.9, Pitch: 3.0 / 12, Velocity: 1},
}}

// Takes are proved bit by bit, so a change of the bits is a change of the
// program's word. The kinds' own digests (package kind) tell which kind it is.
func TestTheReferencePatchesSoundAsTheyAlwaysDid(t *testing.T) {
	all := map[string]patch.Patch{"brass in voices": inVoices(t, "brass")}
	for _, name := range references {
		all[name] = reference(t, name)
	}
	for name, p := range all {
		want := soundsLike[name]
		got := fmt.Sprintf("%x", render(t, p, twoNotes, RenderOptions{Seconds: 3, Kinds: defaultKinds}).SHA256())
		kinds := versions(p)
		switch {
		case got == want.sha256 && kinds == want.kinds:
		case got == want.sha256:
			t.Errorf("%s sounds the same, but its kinds are now\n\t%q\nwritten down are\n\t%q\nTake back the Version, or write the new ones down here.", name, kinds, want.kinds)
		case kinds == want.kinds:
			t.Errorf("%s sounds different, though no kind's Version was raised (%s):\n\t%q\nwritten down is\n\t%q\n"+
				"If that was not meant, find what changed the arithmetic. If it was, raise the Version of the kind that changed "+
				"(an engine that changed is every kind's), then write both down here and in package kind's digest_test.go.", name, kinds, got, want.sha256)
		default:
			t.Errorf("%s sounds different by a new Version of a kind; write down here\n\t%q\n\t%q", name, kinds, got)
		}
	}
}

// inVoices is a reference patch of six voices, two for every note, with all that
// voices do.
func inVoices(t *testing.T, name string) patch.Patch {
	p := setting(voices(reference(t, name), 6, 2), "tune", "spread", 0.01, "oct")
	return setting(p, "tune", "glide", 0.2, "s")
}

// versions lists the kinds that p uses, each with its version.
func versions(p patch.Patch) string {
	var list []string
	for _, m := range p.Modules {
		k, _ := kind.Catalogue.Kind(m.Kind)
		list = append(list, fmt.Sprint(k.Name, " ", k.Version))
	}
	slices.Sort(list)
	return strings.Join(slices.Compact(list), ", ")
}
