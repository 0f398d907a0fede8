package movement

import (
	"testing"

	"lampblack/patch"
)

// What moves with the note, by chance or by itself follows from what the kinds do.
func TestWhereAMovementComesFrom(t *testing.T) {
	for _, c := range []struct {
		name    string
		modules []string
		cords   [][2]string
		from    string
		want    origin
	}{
		{"an envelope", []string{"envelope"}, nil, "envelope/out", fromNotes},
		{"the memory's pitch", []string{"memory"}, nil, "memory/pitch", fromNotes},
		{"an envelope that is scaled", []string{"envelope", "scale"}, [][2]string{{"envelope/out", "scale/in"}}, "scale/out", fromNotes},
		{"a slow oscillator", []string{"slow"}, nil, "slow/out", fromElsewhere},
		{"one that notes begin anew", []string{"slow", "memory"}, [][2]string{{"memory/gate", "slow/note"}}, "slow/out", fromElsewhere},
		{"held noise of its own", []string{"hold", "slow"}, [][2]string{{"slow/out", "hold/clock"}}, "hold/out", fromChance},
		{"a held sine", []string{"hold", "slow"}, [][2]string{{"slow/out", "hold/in"}}, "hold/out", fromElsewhere},
		{"the random steps beside it", []string{"hold", "slow"}, [][2]string{{"slow/out", "hold/in"}}, "hold/random", fromChance},
		{"a wandering voltage", []string{"wander"}, nil, "wander/out", fromChance},
		{"the level of noise", []string{"noise", "loudness"}, [][2]string{{"noise/out", "loudness/in"}}, "loudness/out", fromChance},
		{"noise and an envelope through one another", []string{"noise", "envelope", "ring"}, [][2]string{{"noise/out", "ring/a"}, {"envelope/out", "ring/b"}}, "ring/out", fromChance},
	} {
		p := patch.Patch{}
		for _, m := range c.modules {
			p.Modules = append(p.Modules, patch.Module{Name: m, Kind: m})
		}
		for _, cord := range c.cords {
			p.Cords = append(p.Cords, patch.Cord{From: socket(cord[0]), To: socket(cord[1])})
		}
		if got := originOf(&p, []patch.Cord{{From: socket(c.from)}}); got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}
