package lesson

import (
	"math"
	"strings"
	"testing"

	"lampblack/patch"
)

func TestTheWorkingHasTheNumbersOfThePatchInIt(t *testing.T) {
	l, err := Find("beating")
	if err != nil {
		t.Fatal(err)
	}
	p := l.At(0, 0)
	p.Module("other pane").Settings["frequency"] = patch.Setting{Value: 506.5, Unit: "Hz"}
	if got, err := l.Steps[0].Question.Working(p); err != nil || got != "abs(506.5 − 500)" {
		t.Errorf("worked out as %q, %v", got, err)
	}
	p.Modules = p.Modules[:1]
	if _, err := l.Steps[0].Question.Working(p); err == nil {
		t.Error("a number that the patch does not have is not missed")
	}
}

func TestEveryWorkingComesToItsTheory(t *testing.T) {
	plain := strings.NewReplacer("−", "-", "×", "*", "π", "pi")
	for _, l := range All() {
		for i, step := range l.Steps {
			q, p := step.Question, l.At(i, 0.3)
			working, err := q.Working(p)
			if err != nil || (working == "") != (q.Theory.Value == "") {
				t.Errorf("%s, step %d: the working is %q of %q, %v", l.Name, i+1, working, q.Theory.Value, err)
			}
			if err != nil || working == "" {
				continue
			}
			of, _ := q.values(p)
			want, err := q.expression(q.Theory.Value, of)
			got, wrong := q.expression(plain.Replace(working), nil)
			if err != nil || wrong != nil || math.Abs(got-want) > 1e-4*math.Abs(want) {
				t.Errorf("%s, step %d: %s comes to %g (%v), its theory to %g (%v)", l.Name, i+1, working, got, wrong, want, err)
			}
		}
	}
}
