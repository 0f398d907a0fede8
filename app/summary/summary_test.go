package summary

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"

	"lampblack/patch"
	"lampblack/patch/memory"
)

func read(t *testing.T, text string) patch.Patch {
	t.Helper()
	p, err := patch.Read([]byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

const swaying = `{
  "lampblack patch": 1,
  "modules": [
    {"name": "sway", "kind": "slow", "settings": {"rate": "2 Hz"}},
    {"name": "beat", "kind": "oscillator", "settings": {"frequency": "440 Hz"}},
    {"name": "reed", "kind": "oscillator", "settings": {"frequency": "1 kHz"}},
    {"name": "wing", "kind": "oscillator", "settings": {"frequency": "500 Hz"}},
    {"name": "out", "kind": "output"}
  ],
  "cords": [
    {"from": "sway / out", "to": "reed / frequency", "depth": "+1 oct"},
    {"from": "beat / out", "to": "wing / frequency", "depth": "+1 oct"},
    {"from": "reed / out", "to": "out / left"},
    {"from": "wing / out", "to": "out / left"}
  ]
}`

// A frequency of 1 kHz moved by a sine of one octave goes from 500 Hz to 2 kHz, by
// the definition of an octave (ISO 80000-8), as fast as the sine; one that is
// moved at 440 Hz is looked at too seldom for its rate to be told.
func TestASlowSineMovesByItsDepthAtItsRate(t *testing.T) {
	rows, err := Movements(context.Background(), read(t, swaying), Playing{Rate: 48000, Seconds: 3})
	if err != nil || len(rows) != 2 {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	m := rows[0]
	if m.Module != "reed" || m.Control != "frequency" || m.Setting != "1 kHz" || len(m.Cords) != 1 || m.Cords[0] != "sway +1 oct" {
		t.Errorf("the first row is %+v", m)
	}
	if m.Lowest != "500 Hz" || m.Highest != "2.00 kHz" || m.Rate != "2 Hz" {
		t.Errorf("from %s to %s at %s; want 500 Hz to 2.00 kHz at 2 Hz", m.Lowest, m.Highest, m.Rate)
	}
	if rows[1].Rate != "audio rate" || rows[1].Shape != nil || rows[1].Lowest != "250 Hz" {
		t.Errorf("what moves at 440 Hz is told as %+v", rows[1])
	}
}

// Three periods are drawn of what has a period: a sine's three highest points.
func TestTheShapeIsThreePeriods(t *testing.T) {
	rows, err := Movements(context.Background(), read(t, swaying), Playing{Rate: 48000, Seconds: 5})
	if err != nil {
		t.Fatal(err)
	}
	tops := 0
	shape := rows[0].Shape
	for i := 1; i+1 < len(shape); i++ {
		if shape[i] > shape[i-1] && shape[i] >= shape[i+1] {
			tops++
		}
	}
	if tops != 3 {
		t.Errorf("%d highest points in %d values", tops, len(shape))
	}
}

func TestOnlyWhatKeepsTimeHasAPeriod(t *testing.T) {
	wave := func(f func(i float64) float64) []float64 {
		values := make([]float64, 2000)
		for i := range values {
			values[i] = f(float64(i))
		}
		return values
	}
	for _, c := range []struct {
		name   string
		values []float64
		want   float64
	}{
		{"a sine of 37.5 steps", wave(func(i float64) float64 { return 5 + math.Sin(2*math.Pi*i/37.5) }), 37.5},
		{"a square of 50 steps", wave(func(i float64) float64 { return math.Copysign(1, math.Sin(2*math.Pi*(i+0.5)/50)) }), 50},
		{"a rise", wave(func(i float64) float64 { return i }), 0},
		{"a chirp", wave(func(i float64) float64 { return math.Sin(i * i / 5000) }), 0},
		{"stillness", wave(func(float64) float64 { return 1 }), 0},
	} {
		if got := Period(c.values); math.Abs(got-c.want) > 0.01*c.want {
			t.Errorf("%s: %g, want %g", c.name, got, c.want)
		}
	}
	if Period(nil) != 0 {
		t.Error("nothing has a period")
	}
}

func TestWatchingTellsHowFarItHasComeAndCanBeEnded(t *testing.T) {
	ctx, end := context.WithCancel(context.Background())
	last := -1.0
	_, err := Movements(ctx, read(t, swaying), Playing{Rate: 48000, Seconds: 3600, Progress: func(done float64) {
		if done < last || done > 1 {
			t.Errorf("from %g on to %g", last, done)
		}
		if last = done; done > 0.001 {
			end()
		}
	}})
	if !errors.Is(err, context.Canceled) {
		t.Errorf("it ended with %v", err)
	}
}

func TestThePitchesOfEveryPassAreDrawn(t *testing.T) {
	m := memory.Memory{Length: 2, Repeat: true, Notes: []memory.Note{{At: 0.5, For: 0.25, Pitch: 1}, {At: 1, For: 0.5, Rest: true}}}
	moves := Pitches(m, 5)
	begins := ""
	for i, p := range moves[0].Points {
		if i%3 == 0 {
			begins += patch.FormatValue(p.Second, "s") + " " + patch.FormatValue(p.Value, "Hz") + ", "
		}
	}
	// One octave over A4 = 440 Hz (ISO 16) is 880 Hz; the third pass begins at 4 s.
	if strings.TrimSpace(begins) != "500 ms 880 Hz, 2.5 s 880 Hz, 4.5 s 880 Hz," {
		t.Errorf("the pitches begin at %s", begins)
	}
	if Pitches(memory.Memory{}, 5) != nil || PlayedBy(memory.Memory{}) != "" {
		t.Error("an empty memory plays something")
	}
}
