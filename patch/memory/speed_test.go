package memory_test

import (
	"testing"

	"lampblack/patch/memory"
	"pgregory.net/rapid"
)

func TestAnotherSpeedKeepsTheMusicalPlaceAndTheNote(t *testing.T) {
	var p memory.Player
	p.Use(pass(t, tune, 48000))
	p.Play(0)
	run(&p, 24000, 64) // 0.5 s: D4 sounds
	slow := tune
	slow.Speed = 0.5
	p.Use(pass(t, slow, 48000))
	if at := p.Position(); at != 0.5 {
		t.Errorf("it stands at %g s, want 0.5", at)
	}
	want := []string{"24000 off D4 #1", "24000 on E4 #2", "48000 off E4 #2"} // 0.75 s is 0.25 s further, at half the speed
	if got := run(&p, 60000, 64); !same(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}

func TestAnEditWhilePlayingKeepsTheNotesThatStay(t *testing.T) {
	begin := func() *memory.Player {
		var p memory.Player
		p.Use(pass(t, tune, 48000))
		p.Play(0)
		run(&p, 24000, 64)
		return &p
	}
	edited, _ := tune.Add(memory.Note{At: 0.1, For: 0.1, Pitch: a4, Velocity: 1}) // renumbers the note that sounds
	p := begin()
	p.Use(pass(t, edited, 48000))
	if got, want := run(p, 13000, 64), []string{"12000 off D4 #1", "12000 on E4 #2"}; !same(got, want) {
		t.Errorf("a note put in before: %v, want %v", got, want)
	}
	for name, m := range map[string]memory.Memory{
		"erased":    tune.Erase(0),
		"moved":     tune.Transpose(1, 0),
		"shortened": tune.Stretch(0, 0.1),
		"cut":       tune.SetLength(0.3),
	} {
		p := begin()
		p.Use(pass(t, m, 48000))
		if got, want := run(p, 64, 64), []string{"0 off D4 #1"}; !same(got, want) {
			t.Errorf("%s: %v, want %v", name, got, want)
		}
	}
}

func TestANotePutInJustAheadIsPlayed(t *testing.T) {
	m := memory.Memory{Length: 2, Notes: []memory.Note{{At: 1, For: 0.5, Pitch: a4, Velocity: 1}}}
	edited, _ := m.Add(memory.Note{At: 0.5, For: 0.1, Pitch: d4, Velocity: 1})
	late, _ := m.Add(memory.Note{At: 0.499, For: 0.1, Pitch: d4, Velocity: 1})
	for _, c := range []struct {
		m    memory.Memory
		want []string
	}{
		{edited, []string{"0 on D4 #1", "100 off D4 #1"}}, // on the very next sample
		{late, nil}, // one sample too late
	} {
		var p memory.Player
		p.Use(pass(t, m, 1000))
		p.Play(0)
		run(&p, 500, 64)
		p.Use(pass(t, c.m, 1000))
		if got := run(&p, 200, 64); !same(got, c.want) {
			t.Errorf("got %v, want %v", got, c.want)
		}
	}
}

// Turning the speed up and down while it plays may neither drop nor double a
// note, wherever the samples fall.
func TestNoNoteIsLostOrDoubledByTurningTheSpeed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := anyMemory(t)
		m.Length, m.Repeat = 20, false // the last start is 20 ms before the end
		q, err := memory.Prepare(m, 1000)
		if err != nil {
			t.Fatal(err)
		}
		var p memory.Player
		p.Use(q)
		p.Play(0)
		buffer := make([]memory.Event, 0, 256)
		var starts []float64
		for steps := 0; p.Playing() || steps == 0; steps++ {
			if steps > 10000 {
				t.Fatal("it does not come to the end")
			}
			for _, e := range p.Events(rapid.IntRange(1, 5000).Draw(t, "samples"), buffer) {
				if e.On {
					starts = append(starts, e.Pitch)
				}
			}
			m.Speed = rapid.SampledFrom([]float64{0.3, 0.72, 1, 1.7, 5}).Draw(t, "speed")
			if q, err = memory.Prepare(m, 1000); err != nil {
				t.Fatal(err)
			}
			p.Use(q)
		}
		var want []float64
		for _, n := range m.Notes {
			if !n.Rest {
				want = append(want, n.Pitch)
			}
		}
		if len(starts) != len(want) {
			t.Fatalf("%d notes started, want %d", len(starts), len(want))
		}
		for i := range want {
			if starts[i] != want[i] {
				t.Fatalf("start %d has pitch %g, want %g", i, starts[i], want[i])
			}
		}
	})
}
