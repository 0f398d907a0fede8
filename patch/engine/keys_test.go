package engine

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"lampblack/patch"
	"lampblack/patch/module"
)

// sounds lists what every place sounds: its pitch in semitones, in brackets once
// it is let go.
func (k *keys) sounds() string {
	var list []string
	for i := range k.places[:k.n] {
		s := fmt.Sprint(math.Round(12 * k.places[i].pitch))
		if !k.places[i].on {
			s = "(" + s + ")"
		}
		list = append(list, s)
	}
	return strings.Join(list, " ")
}

func TestANewNoteTakesTheVoiceThatIsStated(t *testing.T) {
	type strike struct {
		semitone int
		velocity float64
	}
	tests := []struct {
		name  string
		steal steal
		does  []any // a strike starts a note, an int ends the one of that pitch
		want  string
	}{
		{"free voices in turn", stealOldest, []any{strike{3, 1}, strike{7, 1}}, "3 7 (0)"},
		{"the free voice that was let go the longest ago", stealOldest, []any{strike{1, 1}, strike{2, 1}, strike{3, 1}, 2, 1, 3, strike{9, 1}}, "(1) 9 (3)"},
		{"the oldest note", stealOldest, []any{strike{1, 1}, strike{2, 1}, strike{3, 1}, strike{4, 1}, strike{5, 1}}, "4 5 3"},
		{"the softest note", stealSoftest, []any{strike{1, 0.9}, strike{2, 0.2}, strike{3, 0.5}, strike{4, 1}}, "1 4 3"},
		{"the lowest note", stealLowest, []any{strike{5, 1}, strike{3, 1}, strike{7, 1}, strike{4, 1}}, "5 4 7"},
		{"the highest note", stealHighest, []any{strike{5, 1}, strike{3, 1}, strike{7, 1}, strike{4, 1}}, "5 3 4"},
		{"none: a note without a voice is not heard, nor later", stealNone, []any{strike{1, 1}, strike{2, 1}, strike{3, 1}, strike{4, 1}, 2}, "1 (2) 3"},
		{"of equals the oldest", stealLowest, []any{strike{5, 1}, strike{3, 1}, strike{3, 1}, strike{4, 1}}, "5 4 3"},
		{"the same note again has a voice of its own", stealOldest, []any{strike{5, 1}, strike{5, 1}}, "5 5 (0)"},
		{"and ends with the key that was pressed last", stealOldest, []any{strike{5, 1}, strike{5, 1}, 5}, "5 (5) (0)"},
		{"the end of a note that was taken over ends nothing", stealOldest, []any{strike{1, 1}, strike{2, 1}, strike{3, 1}, strike{4, 1}, 1}, "4 2 3"},
		{"a note that was taken over is not heard again", stealOldest, []any{strike{1, 1}, strike{2, 1}, strike{3, 1}, strike{4, 1}, 4}, "(4) 2 3"},
	}
	for _, test := range tests {
		var k keys
		k.reset(testRate)
		k.use(3, test.steal)
		for _, d := range test.does {
			switch d := d.(type) {
			case strike:
				k.on(held{pitch: float64(d.semitone) / 12, velocity: d.velocity})
			case int:
				k.off(0, float64(d)/12)
			}
		}
		if got := k.sounds(); got != test.want {
			t.Errorf("%s: the voices sound %s, want %s", test.name, got, test.want)
		}
	}
}

// Source of the limit: as TestNothingThatIsDoneToAPatchClicks.
func TestTakingOverAVoiceDoesNotClick(t *testing.T) {
	const limit = -60
	p := voices(plucked(cord{"tune", "velocity", "amp", "level", patch.Setting{Value: 1, Unit: "x"}}), 2, 1)
	p = setting(setting(p, "osc", "frequency", 200, "Hz"), "filter", "cutoff", 20000, "Hz") // so that it hides nothing
	p = setting(p, "out", "level", 0, "dB")
	for s, name := range []string{"oldest", "softest", "lowest", "highest", "free"} { // the last: a voice that was let go and rings on
		worst := math.Inf(-1)
		for _, at := range []int{0, 13, 29, 37, 60} {
			e := starting(t, setting(p.Clone(), "tune", "steal", float64(s), ""))
			e.NoteOn(0, 1)
			e.NoteOn(0.25, 0.2)
			hear(e, 24000, 64)
			before, _ := hear(e, 4096+at, 64)
			if name == "free" {
				e.NoteOff(0)
				more, _ := hear(e, 480, 64)
				before = append(before, more...)
			}
			e.NoteOn(0.5, 0.6)
			after, _ := hear(e, 8192, 64)
			worst = max(worst, click(append(before, after...)))
		}
		t.Logf("%s: %.1f dB", name, worst)
		if worst > limit {
			t.Errorf("%s: a click of %.1f dB re full scale above 4 kHz; want %d", name, worst, limit)
		}
	}
}

// What reads the velocity where a note starts has the new one at once; the voltage
// that a cord takes on is there after 2 ms. One voice has never eased it.
func TestTheVelocityOfATakenVoiceIsEasedForCordsOnly(t *testing.T) {
	for _, n := range []int{1, 2} {
		var k keys
		k.reset(testRate)
		k.use(n, stealOldest)
		notes := make([]module.Played, n)
		for i := range notes {
			notes[i] = newPlayed(480)
		}
		for range n {
			k.on(held{velocity: 0.2})
		}
		k.fill(notes, 0, 1)
		k.on(held{velocity: 1})
		k.fill(notes, 1, 480)
		p := &notes[0]
		halfway := map[int]float64{1: 1, 2: 0.6}[n]
		if p.Trigger[1] != 1 || p.Velocity[1] != 1 || math.Abs(p.Eased[48]-halfway) > 1e-9 || p.Eased[96] != 1 || p.Eased[0] != 0.2 {
			t.Errorf("%d places: trigger %g, velocity %g, eased %g, half way %g, then %g; want 1, 1, 0.2, %g, 1", n, p.Trigger[1], p.Velocity[1], p.Eased[0], p.Eased[48], p.Eased[96], halfway)
		}
	}
}

// A note whose voice is taken away holds on while it fades: it does not start
// again, whatever the last block held.
func TestANoteThatIsTakenAwayDoesNotStartAgain(t *testing.T) {
	p := build([]string{"tune", "memory", "out", "output"}, cord{from: "tune", out: "trigger", to: "out", in: "left"}, cord{from: "tune", out: "gate", to: "out", in: "right"})
	e := starting(t, setting(voices(p.Clone(), 2, 1), "out", "level", 0, "dB"))
	e.NoteOn(0, 1)
	e.NoteOn(1, 1)
	hear(e, 64, 64)
	e.Swap(compileKind(t, setting(voices(p.Clone(), 1, 1), "out", "level", 0, "dB")))
	trigger, gate := hear(e, 1000, 64)
	if i := differ(trigger, make([]float64, 1000)); i >= 0 {
		t.Errorf("sample %d of the fade has a trigger of %g", i, trigger[i])
	}
	if gate[100] <= 1 || gate[100] >= 2 || gate[999] != 1 {
		t.Errorf("in the fade %g notes are held, then %g; want from two to one", gate[100], gate[999])
	}
}

// One voice is as it always was, however many there were before.
func TestFromVoicesToOneAndBackNotesAreKept(t *testing.T) {
	var k keys
	k.reset(testRate)
	for _, semitone := range []float64{1, 2, 3} {
		k.on(held{pitch: semitone / 12, velocity: 1})
	}
	k.use(3, stealOldest)
	if got := k.sounds(); got != "3 (0) (0)" {
		t.Errorf("one voice that becomes three sounds %s", got)
	}
	k.on(held{pitch: 4.0 / 12, velocity: 1})
	k.use(1, stealOldest)
	if got := k.sounds(); got != "4" {
		t.Errorf("three that become one sound %s, want the newest note", got)
	}
	if k.newest != 0 {
		t.Errorf("the last note sounds in place %d of one", k.newest)
	}
	k.off(0, 4.0/12)
	if got := k.sounds(); got != "3" {
		t.Errorf("when that ends, %s is heard, want the one before", got)
	}
	k.on(held{pitch: 5.0 / 12, velocity: 1})
	if got := k.places[0].before; got != 3.0/12 {
		t.Errorf("the next note sets out from %g semitones, want the note that was heard, 3", 12*got)
	}
	k.use(2, stealOldest)
	if got := k.sounds(); got != "5 (0)" {
		t.Errorf("with another voice it sounds %s; want a new one that is silent", got)
	}
	k.allOff()
	if got := k.sounds(); k.count != 0 || got[0] != '(' {
		t.Errorf("after all keys are let go it sounds %s", got)
	}
}
