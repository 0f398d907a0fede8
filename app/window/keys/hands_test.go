package keys

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// heard writes down what was played.
type heard struct {
	story    []string
	sounding map[float64]int
}

func (h *heard) NoteOn(pitch, velocity float64) {
	h.story = append(h.story, fmt.Sprintf("on %.0f at %.1f", pitch*12, velocity))
	h.sounding[pitch]++
}

func (h *heard) NoteOff(pitch float64) {
	h.story = append(h.story, fmt.Sprintf("off %.0f", pitch*12))
	delete(h.sounding, pitch)
}

func TestAHeldKeySoundsOnceAndEndsWhatItBegan(t *testing.T) {
	h := &heard{sounding: map[float64]int{}}
	hands := NewHands(h)
	a := Place{1, 0}
	hands.Press(a)
	hands.Press(a) // the system repeats a held key
	hands.Shift(1)
	hands.Release(a)
	hands.Release(a)
	want := []string{"on 0 at 0.8", "off 0"}
	if !slices.Equal(h.story, want) {
		t.Errorf("heard %v, want %v", h.story, want)
	}
}

func TestTheSamePitchOnTwoStringsEndsWithTheLast(t *testing.T) {
	h := &heard{sounding: map[float64]int{}}
	hands := NewHands(h)
	hands.Press(Place{0, 5}) // E string, five semitones up, is A
	hands.Press(Place{1, 0})
	hands.Release(Place{0, 5})
	if len(h.sounding) != 1 {
		t.Errorf("A ended while its own key was still down: %v", h.story)
	}
	hands.Release(Place{1, 0})
	if len(h.sounding) != 0 {
		t.Errorf("A hangs: %v", h.story)
	}
}

func TestNothingHangsWhateverIsPressed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := &heard{sounding: map[float64]int{}}
		hands := NewHands(h)
		for range rapid.IntRange(0, 60).Draw(t, "steps") {
			at := Place{rapid.IntRange(0, Rows-1).Draw(t, "row"), rapid.IntRange(0, Columns-1).Draw(t, "column")}
			switch rapid.IntRange(0, 3).Draw(t, "what") {
			case 0, 1:
				hands.Press(at)
			case 2:
				hands.Release(at)
			case 3:
				hands.Shift(rapid.IntRange(-9, 9).Draw(t, "octaves"))
			}
		}
		hands.ReleaseAll()
		if len(h.sounding) != 0 || hands.Held() != 0 {
			t.Fatalf("still sounding: %v after %v", h.sounding, h.story)
		}
	})
}

func TestTheMouseGlidesFromPitchToPitch(t *testing.T) {
	h := &heard{sounding: map[float64]int{}}
	hands := NewHands(h)
	hands.Touch(0, 0.5)
	hands.Touch(0, 0.9) // still on the same pitch
	hands.Touch(1.0/12, 0.5)
	hands.Press(Place{1, 0})
	if got := hands.Pitches(); !slices.Equal(got, []float64{0, 1.0 / 12}) {
		t.Errorf("held %v", got)
	}
	hands.Lift()
	hands.ReleaseAll()
	want := []string{"on 0 at 0.5", "off 0", "on 1 at 0.5", "on 0 at 0.8", "off 1", "off 0"}
	if !slices.Equal(h.story, want) {
		t.Errorf("heard %v, want %v", h.story, want)
	}
}
