package lesson

import (
	"context"
	"errors"
	"fmt"

	"lampblack/patch/engine"
	"lampblack/patch/kind"
	"lampblack/scope"
)

// Checked is what Check found at one place of one step.
type Checked struct {
	Step int     // from 1
	Part float64 // of the way of the step's control, 0 to 1
	At   string  // where that stands ("45 Hz")
	Peak float64 // of what is heard, in dBFS
	Answered
}

// Check renders every step of a lesson at the start, in the middle and at the end
// of its way, and holds that nothing is louder than MaxPeak or silent, that every
// question can be measured, and that what is measured agrees with the theory
// within the question's tolerance. The error tells all that does not hold.
func Check(ctx context.Context, l Lesson) ([]Checked, error) {
	var all []Checked
	var faults []error
	for i, step := range l.Steps {
		for _, part := range []float64{0, 0.5, 1} {
			c, err := l.check(ctx, i, part)
			if ctx.Err() != nil {
				return all, ctx.Err()
			}
			all = append(all, c)
			if err != nil {
				faults = append(faults, fmt.Errorf("step %d, %s at %s: %w", i+1, step.Move.Control, c.At, err))
			}
		}
	}
	return all, errors.Join(faults...)
}

func (l Lesson) check(ctx context.Context, i int, part float64) (Checked, error) {
	step, p := l.Steps[i], l.At(i, part)
	c := Checked{Step: i + 1, Part: part, At: step.Move.at(p, part).String()}
	m := step.Question.Measure
	sound, err := engine.Render(p, l.Memory, engine.RenderOptions{Rate: Rate, Seconds: m.From + m.For, Kinds: kind.Catalogue, Context: ctx})
	if err != nil {
		return c, err
	}
	peak := sound.Peak()
	c.Peak = scope.DB(peak)
	var faults []error
	if peak > MaxPeak {
		faults = append(faults, fmt.Errorf("the peak is %.1f dBFS; a lesson may have -6 at most", c.Peak))
	}
	if c.Peak < -60 {
		faults = append(faults, fmt.Errorf("nothing is heard (peak %.1f dBFS)", c.Peak))
	}
	q := step.Question
	if c.Answered, err = Answer(ctx, p, l.Memory, q); err != nil {
		return c, errors.Join(append(faults, err)...)
	}
	switch {
	case c.Theory == nil:
		faults = append(faults, fmt.Errorf("there is no theory: %s", c.Why))
	case !q.Within(c.Value, *c.Theory):
		faults = append(faults, fmt.Errorf("measured is %s, theory says %s; the tolerance is %s", c.Text, Words(*c.Theory, q.Unit), Words(q.Tolerance, q.Unit)))
	}
	return c, errors.Join(faults...)
}
