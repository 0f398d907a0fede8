package demo

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"lampblack/assets"
	"lampblack/patch"
	"lampblack/patch/engine"
	"lampblack/patch/kind"
	"lampblack/patch/memory"
)

// examples returns the patches that a user can open, by name.
func examples(t *testing.T) map[string]patch.Patch {
	t.Helper()
	all := map[string]patch.Patch{}
	for _, name := range assets.Patches() {
		file, err := assets.Patch(name)
		if err != nil {
			t.Fatal(err)
		}
		p, err := patch.Load(file, kind.Catalogue)
		if err != nil {
			t.Errorf("example %s: %v", name, err)
			continue
		}
		if string(file) != string(p.JSON()) {
			t.Errorf("example %s is not in the form in which it would be written", name)
		}
		all[name] = p
	}
	return all
}

// What each example is there to show: a cord or a setting without which it would
// be something else.
var techniques = []struct{ example, shows, cord, module, control, setting string }{
	{"through-zero", "frequency modulation through zero", "blow / out > bronze / shift", "bronze", "frequency", "440 Hz"},
	{"sync", "a hard sync sweep", "master / sync > slave / sync", "slave", "shape", "saw"},
	{"chord", "a plucked chord", "six fingers / pitch > strings / frequency", "six fingers", "voices", "6"},
	{"vocoder", "a vocoder", "voice / out > speaking / voice", "speaking", "bands", "16"},
	{"ladder", "a filter that sings by itself", "tune / pitch > singing / cutoff", "singing", "resonance", "125 %"},
	{"vent", "a contour fitted to the picture", "movement / end > landing / trigger", "movement", "length", "3.4 s"},
	{"follower", "a voice as the control", "tune / pitch > fifth above / in", "fifth above", "offset", "7 semitone"},
}

func TestExamplesShowTheMainTechniques(t *testing.T) {
	all := examples(t)
	for _, e := range techniques {
		t.Run(e.shows, func(t *testing.T) {
			p, ok := all[e.example]
			if !ok {
				t.Fatalf("there is no example %q", e.example)
			}
			if !slices.ContainsFunc(p.Cords, func(c patch.Cord) bool { return fmt.Sprintf("%v > %v", c.From, c.To) == e.cord }) {
				t.Errorf("it has no cord %s", e.cord)
			}
			if m := p.Module(e.module); m == nil || m.Settings[e.control].String() != e.setting {
				t.Errorf("%s / %s is not %s", e.module, e.control, e.setting)
			}
		})
	}
}

// A level that can be heard beside others, and cannot hurt, also when six notes
// are held at once.
func TestExamplesHaveASaneLevel(t *testing.T) {
	chord := memory.Memory{Length: 2.4}
	for i, semitones := range []float64{-31, -24, -19, -16, -12, -5} { // D2 A2 D3 F3 A3 E4
		at := 0.04 * float64(i)
		chord.Notes = append(chord.Notes, memory.Note{At: at, For: 2.2 - at, Pitch: semitones / 12, Velocity: 0.8})
	}
	for name, p := range examples(t) {
		t.Run(name, func(t *testing.T) {
			m := memory.Memory{}
			if name == "chord" {
				m = chord
			}
			sound, err := engine.Render(p, m, engine.RenderOptions{Rate: rate, Seconds: 4, Context: t.Context()})
			if err != nil {
				t.Fatal(err)
			}
			// Common practice, as for the takes; the first four examples are also what the
			// engine's speed is measured with, and keep the levels they have always had.
			quietest, loudest := -12.0, -3.0
			if slices.Contains([]string{"bell", "brass", "hiss", "hiss-fixed"}, name) {
				quietest, loudest = -24, -1
			}
			if db := 20 * math.Log10(sound.Peak()); !(db >= quietest && db <= loudest) {
				t.Errorf("it peaks at %.1f dBFS; want %g to %g", db, quietest, loudest)
			}
		})
	}
}

// The movement takes 3.4 s to the sample: the frame lands then and not before.
func TestTheVentExampleLandsAt3400ms(t *testing.T) {
	sound, err := engine.Render(examples(t)["vent"], memory.Memory{}, engine.RenderOptions{Rate: rate, Seconds: 4, Context: t.Context()})
	if err != nil {
		t.Fatal(err)
	}
	peak := func(from, to float64) float64 {
		top := 0.0
		for _, x := range sound.Left[int(from*rate):int(to*rate)] {
			top = max(top, math.Abs(x))
		}
		return 20 * math.Log10(top+1e-10)
	}
	if before, landing := peak(3.395, 3.4), peak(3.4, 3.42); landing < before+10 {
		t.Errorf("%.1f dBFS in the 5 ms before 3.4 s and %.1f behind; want 10 dB more", before, landing)
	}
}
