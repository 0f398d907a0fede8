package lessons

import (
	"context"
	"errors"
	"math"
	"strconv"
	"strings"
	"time"

	"lampblack/app/lesson"
	"lampblack/app/window/look"
)

// calm is how long a control must stand still before it is measured again.
const calm = 150 * time.Millisecond

// question is what has been asked of the step that is shown.
type question struct {
	asked  bool // an answer is wanted, and follows what is turned
	busy   bool
	fresh  bool // it was asked for just now, not because something was turned
	show   bool // it is there: it must be seen
	number int  // of the question; an answer to an older one is dropped
	cancel context.CancelFunc

	answered lesson.Answered
	working  string // the theory's formula with numbers
	err      error
	yours    *float64 // what the learner has answered
	wrong    string   // why that is no number
}

// forget ends what is being measured, and lets go of the answer.
func (c *Column) forget() {
	if c.asks.cancel != nil {
		c.asks.cancel()
	}
	c.asks = question{number: c.asks.number + 1}
}

// ask measures the answer from the patch as it is.
func (c *Column) ask() {
	if !c.taught() {
		return
	}
	c.asks.asked, c.asks.fresh = true, true
	c.measure(0)
	if c.Standing() == "answer" { // what comes next
		c.Stand("next")
	}
}

// stale measures again after something was turned.
func (q *question) stale(c *Column) {
	if !q.asked {
		return
	}
	if !c.taught() {
		c.forget()
		return
	}
	c.measure(calm)
}

// measure works an answer out outside, after a while of calm. What was being
// measured before is given up.
func (c *Column) measure(after time.Duration) {
	if c.asks.cancel != nil {
		c.asks.cancel()
	}
	ctx, cancel := context.WithCancel(context.Background())
	c.asks.cancel, c.asks.busy = cancel, true
	c.asks.number++
	number, q := c.asks.number, c.at.Steps[c.step].Question
	b := c.session.Bench().Clone()
	b.Memory.Speed, b.Memory.Repeat = c.at.Memory.Speed, c.at.Memory.Repeat // those are for listening
	c.session.Elsewhere(func() func() {
		defer cancel()
		select {
		case <-ctx.Done():
			return nil
		case <-time.After(after):
		}
		a, err := lesson.Answer(ctx, b.Patch, b.Memory, q)
		working, _ := q.Working(b.Patch) // Answer says why, in a.Why
		if _, bare := readNumber(working); bare == nil && !strings.Contains(working, " ") {
			working = "" // a setting as it is: nothing was worked out
		}
		return func() {
			if number != c.asks.number {
				return
			}
			c.asks.busy, c.asks.answered, c.asks.working, c.asks.err = false, a, working, err
			c.asks.show, c.asks.fresh = c.asks.fresh, false
			c.redraw()
		}
	})
	c.redraw()
}

// answered takes what the learner has typed, and measures.
func (c *Column) answered(text string) {
	c.asks.yours, c.asks.wrong = nil, ""
	v, err := readNumber(text)
	switch {
	case err != nil:
		c.asks.wrong = err.Error()
	default:
		c.asks.yours = &v
	}
	c.Stand("answer")
	c.takeKeyboard()
	if err == nil {
		c.ask()
	}
	c.Refresh()
}

var errNoNumber = errors.New("type a number, such as 4.5; a unit behind it is not needed")

// readNumber reads a number, with or without something behind it.
func readNumber(text string) (float64, error) {
	words := strings.Fields(strings.ReplaceAll(look.Typed(text), ",", "."))
	if len(words) == 0 {
		return 0, errNoNumber
	}
	v, err := strconv.ParseFloat(words[0], 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, errNoNumber
	}
	return v, nil
}
