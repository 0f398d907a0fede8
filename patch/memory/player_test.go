package memory_test

import (
	"fmt"
	"testing"

	"lampblack/patch/memory"
	"pgregory.net/rapid"
)

func pass(t testing.TB, m memory.Memory, rate float64) *memory.Pass {
	t.Helper()
	p, err := memory.Prepare(m, rate)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// run plays blocks of the lengths given, over and over, until total samples are
// played, and writes every event with its sample from the start.
func run(p *memory.Player, total int, blocks ...int) (events []string) {
	room := make([]memory.Event, 0, 1<<16)
	for at, i := 0, 0; at < total; i++ {
		n := min(blocks[i%len(blocks)], total-at)
		for _, e := range p.Events(n, room) {
			events = append(events, line(e, at))
		}
		at += n
	}
	return events
}

func line(e memory.Event, at int) string {
	word := "off"
	if e.On {
		word = "on"
	}
	return fmt.Sprintf("%d %s %s #%d", at+e.At, word, memory.PitchName(e.Pitch), e.Note)
}

func same(a, b []string) bool { return fmt.Sprint(a) == fmt.Sprint(b) }

const (
	d4 = -7.0 / 12
	e4 = -5.0 / 12
	a4 = 0.0
)

// Two notes that touch and one that stands alone, in a pass of 2 s.
var tune = memory.Memory{Length: 2, Notes: []memory.Note{
	{At: 0.25, For: 0.5, Pitch: d4, Velocity: 0.8},
	{At: 0.75, For: 0.25, Pitch: e4, Velocity: 0.7},
	{At: 1.5, For: 0.5, Pitch: a4, Velocity: 1},
}}

func TestANoteStartsAndEndsOnItsSample(t *testing.T) {
	var p memory.Player
	p.Use(pass(t, tune, 48000))
	p.Play(0)
	want := []string{"12000 on D4 #1", "36000 off D4 #1", "36000 on E4 #2", "48000 off E4 #2", "72000 on A4 #3", "96000 off A4 #3"}
	if got := run(&p, 200000, 64); !same(got, want) || p.Playing() {
		t.Errorf("got %v, playing %v; want %v and then silence", got, p.Playing(), want)
	}
}

func TestSpeedMovesTheNotesAndNotThePitch(t *testing.T) {
	m := tune
	m.Speed = 0.72 // round(0.25 * 48000 / 0.72) = 16667
	var p memory.Player
	p.Use(pass(t, m, 48000))
	p.Play(0)
	want := []string{"16667 on D4 #1", "50000 off D4 #1", "50000 on E4 #2", "66667 off E4 #2", "100000 on A4 #3", "133333 off A4 #3"}
	if got := run(&p, 200000, 1000); !same(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}

func TestEventsDoNotDependOnTheBlocks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := anyMemory(t) // 25 samples a pass at least, so that the buffer is large enough
		m.Length = min(max(m.Length, 0.5), 3)
		m.Notes = trimmed(m)
		play := func(blocks ...int) []string {
			q, err := memory.Prepare(m, 1000)
			if err != nil {
				t.Fatal(err)
			}
			var p memory.Player
			p.Use(q)
			p.Play(0)
			return run(&p, 5000, blocks...)
		}
		want := play(5000)
		for _, n := range []int{1, 7, 64, 1000} {
			if got := play(n); !same(got, want) {
				i := 0
				for i < min(len(got), len(want)) && got[i] == want[i] {
					i++
				}
				t.Fatalf("in blocks of %d: %v, in one: %v", n, got[i:min(i+3, len(got))], want[i:min(i+3, len(want))])
			}
		}
	})
}
