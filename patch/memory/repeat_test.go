package memory_test

import (
	"math"
	"strings"
	"testing"

	"lampblack/patch/memory"
	"pgregory.net/rapid"
)

// beat is a tempo from arithmetic: 66 beats a minute are 60/66 s a beat.
var beat = memory.Memory{Length: 60.0 / 66, Repeat: true, Notes: []memory.Note{{At: 0, For: 60.0 / 66, Pitch: a4, Velocity: 1}}}

func TestARepeatedPassIsSeamless(t *testing.T) {
	var p memory.Player
	p.Use(pass(t, beat, 48000)) // a beat at 66 a minute has 43636.364 samples; the pass is round(that)
	p.Play(0)
	want := []string{"0 on A4 #1", "43636 off A4 #1", "43636 on A4 #2", "87272 off A4 #2", "87272 on A4 #3"}
	for _, n := range []int{1000, 43636, 87273, 64} {
		p.Play(0)
		got := run(&p, 87273, n)
		if n != 1000 { // what sounded from the run before ends first
			got = got[1:]
		}
		for i := range got {
			got[i] = got[i][:strings.Index(got[i], "#")]
		}
		var bare []string
		for _, w := range want {
			bare = append(bare, w[:strings.Index(w, "#")])
		}
		if !same(got, bare) {
			t.Errorf("in blocks of %d: %v, want %v", n, got, bare)
		}
	}
}

func TestStopAtEndLetsTheLastPassEnd(t *testing.T) {
	var p memory.Player
	p.Use(pass(t, beat, 48000))
	p.Play(0)
	run(&p, 50000, 64)
	p.StopAtEnd()
	if got, want := run(&p, 100000, 64), []string{"37272 off A4 #2"}; !same(got, want) || p.Playing() || p.Position() != 0 {
		t.Errorf("got %v, playing %v at %g s; want %v and then silence at the start", got, p.Playing(), p.Position(), want)
	}
	p.StopAtEnd() // while it stands it asks for nothing
	p.Play(0)
	if got := run(&p, 50000, 64); len(got) != 3 {
		t.Errorf("played again it stops: %v", got)
	}
}

func TestStopEndsWhatSounds(t *testing.T) {
	var p memory.Player
	p.Use(pass(t, tune, 48000))
	p.Play(0)
	run(&p, 20000, 64)
	p.Stop()
	if got, want := run(&p, 100000, 64), []string{"0 off D4 #1"}; !same(got, want) || p.Playing() {
		t.Errorf("got %v, want %v", got, want)
	}
	if at := p.Position(); math.Abs(at-20000.0/48000) > 1e-12 {
		t.Errorf("it stands at %g s", at)
	}
}

func TestSeekGoesToItsPlaceAndStartsNoOldNote(t *testing.T) {
	var p memory.Player
	p.Use(pass(t, tune, 48000))
	p.Play(0.5) // D4 began before
	if p.Position() != 0.5 {
		t.Errorf("asked for 0.5 s it stands at %g s", p.Position())
	}
	if got, want := run(&p, 13000, 64), []string{"12000 on E4 #1"}; !same(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
	p.Seek(1.5)
	if got, want := run(&p, 100, 64), []string{"0 off E4 #1", "0 on A4 #2"}; !same(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
	for _, odd := range []float64{-1, math.NaN(), 1e300, math.Inf(1)} {
		p.Seek(odd)
		p.Events(64, make([]memory.Event, 0, 8))
		if at := p.Position(); !(at >= 0 && at <= 2) {
			t.Errorf("asked for %g s it stands at %g s", odd, at)
		}
	}
}

func TestAPlayerWithoutAMemoryIsSilent(t *testing.T) {
	var p memory.Player
	p.Play(1)
	if got := run(&p, 1000, 64); len(got) > 0 || p.Playing() || p.Position() != 0 {
		t.Errorf("got %v, playing %v at %g s", got, p.Playing(), p.Position())
	}
	for _, m := range []memory.Memory{{}, {Length: 1e-9, Repeat: true}, {Length: 1e-9, Repeat: true, Notes: []memory.Note{{For: 1}}}} {
		p.Use(pass(t, m, 48000))
		p.Play(0)
		if got := run(&p, 1000, 64); len(got) > 0 || p.Playing() {
			t.Errorf("%+v: got %v, playing %v", m, got, p.Playing())
		}
	}
}

func TestOverlappingNotesAreAllGiven(t *testing.T) {
	m := memory.Memory{Length: 1, Notes: []memory.Note{{At: 0, For: 0.5, Pitch: a4, Velocity: 1}, {At: 0.1, For: 0.1, Pitch: a4, Velocity: 1}, {At: 0.1, For: 5, Pitch: d4, Velocity: 1}}}
	var p memory.Player
	p.Use(pass(t, m, 1000))
	p.Play(0)
	want := []string{"0 on A4 #1", "100 on A4 #2", "100 on D4 #3", "200 off A4 #2", "500 off A4 #1", "1000 off D4 #3"}
	if got := run(&p, 2000, 64); !same(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}

// However a memory is played, every note that starts ends, once, and in order.
func TestEveryNoteThatStartsEnds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var p memory.Player
		draw := func() *memory.Pass {
			m := anyMemory(t)
			q, err := memory.Prepare(m, 1000)
			if err != nil {
				t.Fatal(err)
			}
			return q
		}
		sounding := map[int]bool{}
		buffer := make([]memory.Event, 0, rapid.SampledFrom([]int{1, 2, 64, 4096}).Draw(t, "buffer"))
		play := func(n int) {
			last := 0
			for _, e := range p.Events(n, buffer) {
				if e.At < last || e.At >= n {
					t.Fatalf("event at %d after %d in a block of %d", e.At, last, n)
				}
				last = e.At
				if sounding[e.Note] == e.On {
					t.Fatalf("note %d is started or ended twice", e.Note)
				}
				sounding[e.Note] = e.On
				if !e.On {
					delete(sounding, e.Note)
				}
			}
		}
		for range rapid.IntRange(1, 30).Draw(t, "steps") {
			switch rapid.IntRange(0, 6).Draw(t, "step") {
			case 0:
				p.Use(draw())
			case 1:
				p.Play(rapid.Float64Range(0, 5).Draw(t, "from"))
			case 2:
				p.Stop()
			case 3:
				p.StopAtEnd()
			case 4:
				p.Seek(rapid.Float64Range(-1, 30).Draw(t, "to"))
			}
			play(rapid.IntRange(1, 300).Draw(t, "samples"))
		}
		p.Stop()
		for range 100 {
			play(64)
		}
		if len(sounding) > 0 {
			t.Fatalf("after the stop %d notes go on", len(sounding))
		}
	})
}

// 0.7 + 0.1 is less than 0.8 by one bit. At this rate 0.8 s is half way between
// two samples, so that the bit would part the end from the start.
func TestANoteDrawnUpToTheNextEndsWhereThatBegins(t *testing.T) {
	m := memory.Memory{Length: 2, Notes: []memory.Note{{At: 0.7, For: 0.1, Pitch: d4, Velocity: 1}, {At: 0.8, For: 0.1, Pitch: d4, Velocity: 1}}}
	const rate = 4375.625
	if at, for_ := m.Notes[0].At, m.Notes[0].For; math.Round((at+for_)*rate) == math.Round(0.8*rate) {
		t.Fatal("the case tests nothing")
	}
	var p memory.Player
	p.Use(pass(t, m, rate))
	p.Play(0)
	want := []string{"3063 on D4 #1", "3501 off D4 #1", "3501 on D4 #2"}
	if got := run(&p, 3600, 64); !same(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}
