package lesson_test

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"

	"lampblack/app/lesson"
	"lampblack/assets"
	"lampblack/patch"
	"lampblack/scope/predict"
)

func load(t testing.TB, name string) lesson.Lesson {
	t.Helper()
	l, err := lesson.Find(name)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// Check holds each step at the start, in the middle and at the end of its way: a
// peak of -6 dBFS at most, no silence, a control within its range, and a measured
// answer that is the theory's. The sources stand in the lessons, by the formulas.
func TestEveryLessonHolds(t *testing.T) {
	all := lesson.All()
	if len(all) < 8 {
		t.Fatalf("there are %d lessons; want 8", len(all))
	}
	for _, l := range all {
		t.Run(l.Name, func(t *testing.T) {
			t.Parallel()
			found, err := lesson.Check(t.Context(), l)
			if err != nil {
				t.Error(err)
			}
			for _, c := range found {
				if c.Theory == nil || c.Formula == "" || c.Source == "" {
					t.Fatalf("step %d: %+v; want a theory with its formula and source", c.Step, c)
				}
				t.Logf("step %d at %s: peak %.1f dBFS, measured %s, theory %s", c.Step, c.At, c.Peak, c.Text, lesson.Words(*c.Theory, ""))
			}
		})
	}
}

func TestEveryLessonCautionsAndNamesItsSources(t *testing.T) {
	for _, l := range lesson.All() {
		if !strings.Contains(l.Text, "Turn the loudspeaker down") {
			t.Errorf("%s says nothing about loudness", l.Name)
		}
		if len(l.Sources) == 0 || len(l.Steps) < 2 {
			t.Errorf("%s has %d sources and %d steps", l.Name, len(l.Sources), len(l.Steps))
		}
	}
}

// The formulas of the lessons and package predict are written by different hands:
// where both speak of a line they agree within 0.05 dB.
func TestLessonsAgreeWithThePredictedSpectrum(t *testing.T) {
	compared := 0
	for _, l := range lesson.All() {
		for i, step := range l.Steps {
			q := step.Question
			if q.Measure.What != "line" || q.Theory.Value == "" {
				continue
			}
			for _, part := range []float64{0, 0.3, 1} {
				p := l.At(i, part)
				if len(predict.Predict(p, q.Measure.At, predict.Conditions{Held: true, Velocity: 1}).Why) > 0 {
					continue
				}
				a, err := lesson.Answer(t.Context(), p, l.Memory, q)
				if err != nil {
					t.Fatal(err)
				}
				other := q
				other.Theory = lesson.Theory{}
				b, err := lesson.Answer(t.Context(), p, l.Memory, other)
				if err != nil || b.Theory == nil {
					t.Fatalf("%s, step %d: %v, %s", l.Name, i+1, err, b.Why)
				}
				if math.Abs(*a.Theory-*b.Theory) > 0.05 {
					t.Errorf("%s, step %d: the lesson says %.3f dB, the prediction %.3f (%s)", l.Name, i+1, *a.Theory, *b.Theory, b.Formula)
				}
				compared++
			}
		}
	}
	if compared < 15 {
		t.Errorf("only %d lines were compared", compared)
	}
}

// An answer follows the patch as it is set, not the lesson's own settings.
func TestAnswersFollowTheLearnersSettings(t *testing.T) {
	l := load(t, "beating")
	p, q := l.At(0, 1), l.Steps[0].Question
	p.Module("other pane").Settings["frequency"] = patch.Setting{Value: 506.5, Unit: "Hz"}
	a, err := lesson.Answer(t.Context(), p, l.Memory, q)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(a.Value-6.5) > 0.01 || *a.Theory != 6.5 {
		t.Errorf("500 and 506.5 Hz: %+v, theory %g; want 6.5 beats", a, *a.Theory)
	}
	if !q.Within(6.4, a.Value) || q.Within(6.3, a.Value) {
		t.Errorf("with a tolerance of %g Hz 6.4 should be right and 6.3 wrong", q.Tolerance)
	}
}

// The first zero of J0 is at 2.404826 and J1 there is 0.519147.
// Source: Abramowitz and Stegun, tables 9.5 and 9.1.
func TestTheFirstLineAtTheCarriersNull(t *testing.T) {
	l := load(t, "vibrato")
	p, q := l.At(3, 0), l.Steps[3].Question
	p.Module("push").Settings["level"] = patch.Setting{Value: 20 * math.Log10(2.404826*1.1), Unit: "dB"}
	a, err := lesson.Answer(t.Context(), p, l.Memory, q)
	if err != nil {
		t.Fatal(err)
	}
	if want := 20 * math.Log10(0.519147); math.Abs(a.Value-want) > 0.01 || math.Abs(*a.Theory-want) > 0.001 {
		t.Errorf("measured %.4f dB, theory %.4f; want %.4f", a.Value, *a.Theory, want)
	}
}

func TestWhatCannotBeMeasuredIsSaid(t *testing.T) {
	l := load(t, "beating")
	p, q := l.At(0, 0), l.Steps[0].Question
	p.Module("other pane").Settings["frequency"] = patch.Setting{Value: 500, Unit: "Hz"}
	if _, err := lesson.Answer(t.Context(), p, l.Memory, q); err == nil || !strings.Contains(err.Error(), "does not move") {
		t.Errorf("two tones of one frequency: %v; want no beats", err)
	}
	p = l.At(0, 0)
	p.Modules, p.Cords = p.Modules[:1], nil
	if _, err := lesson.Answer(t.Context(), p, l.Memory, q); err == nil || !strings.Contains(err.Error(), "no output out / left any more") {
		t.Errorf("a patch without its output: %v", err)
	}
	l = load(t, "tremolo")
	p, q = l.At(2, 1), l.Steps[2].Question
	p.Module("lamp").Settings["leak"] = patch.Setting{Value: 0, Unit: "%"}
	if a, err := lesson.Answer(t.Context(), p, l.Memory, q); err == nil && (a.Theory != nil || a.Why == "") {
		t.Errorf("a line re nothing: %+v", a)
	}
	l = load(t, "hiss")
	p, q = l.At(0, 1), l.Steps[0].Question
	p.Module("vent").Settings["width"] = patch.Setting{Value: 10, Unit: "Q"}
	a, err := lesson.Answer(t.Context(), p, l.Memory, q)
	if err != nil || a.Theory != nil || !strings.Contains(a.Why, "written in Q") {
		t.Errorf("a width in Q: %+v, %v; want it measured, and said that the formula counts in Hz", a, err)
	}
	if math.Abs(a.Value-100) > 5 { // the definition of Q: 1 kHz / 10
		t.Errorf("Q 10 at 1 kHz measures %g Hz; want 100", a.Value)
	}
}

func TestAnswersCanBeCalledOff(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	stop()
	l := load(t, "hiss")
	if _, err := lesson.Answer(ctx, l.At(0, 0), l.Memory, l.Steps[0].Question); !errors.Is(err, context.Canceled) {
		t.Errorf("%v; want it called off", err)
	}
}

func TestAllGivesFreshLessons(t *testing.T) {
	a := load(t, "pulse")
	p := a.At(0, 1)
	p.Module("relay").Settings["width"] = patch.Setting{Value: 1, Unit: "%"}
	if b := load(t, "pulse"); b.Patch.Module("relay").Settings["width"].Value != 50 || a.Patch.Module("relay").Settings["width"].Value != 50 {
		t.Error("a patch of a step shares its settings with the lesson")
	}
	if len(assets.Lessons()) != len(lesson.All()) {
		t.Error("a lesson is missing")
	}
}

func TestACountHasNoDecimals(t *testing.T) {
	for _, test := range []struct {
		value float64
		unit  string
		want  string
	}{
		{3, "", "3"},
		{-0.0001, "", "0"},
		{0.4, "", "0.400"},
		{2, "Hz", "2.000 Hz"}, // measured, and so exact
		{-12.04, "dB", "-12.04 dB"},
	} {
		if got := lesson.Words(test.value, test.unit); got != test.want {
			t.Errorf("%g %s is written %q, want %q", test.value, test.unit, got, test.want)
		}
	}
}
