package command

import (
	"context"
	"fmt"

	"lampblack/patch"
	"lampblack/patch/engine"
	"lampblack/scope/predict"
)

// listening plays a patch and hears several outputs of it.
type listening struct {
	engine *engine.Engine
	ctx    context.Context
}

// hear holds a note from the start on, and returns n samples of each output from
// sample after on.
func (l *listening) hear(at []patch.Socket, c predict.Conditions, after, n int) ([][]float32, error) {
	taps, out := make([]*engine.Tap, len(at)), make([][]float32, len(at))
	for i, socket := range at {
		taps[i] = l.engine.Tap(socket.Module, socket.Name)
		out[i] = make([]float32, 0, n)
	}
	if c.Held {
		l.engine.NoteOn(c.Pitch, c.Velocity)
	}
	left, right, news := make([]float64, 480), make([]float64, 480), make([]float32, 480)
	for done := 0; done < after+n; done += len(left) {
		if l.ctx.Err() != nil {
			return nil, l.ctx.Err()
		}
		l.engine.Block(left, right)
		if done+len(left) <= after {
			continue
		}
		for i, t := range taps {
			if !t.ReadAt(int64(done+len(left)), news) {
				return nil, fmt.Errorf("%s could not be heard", at[i])
			}
			from := max(after-done, 0)
			to := min(len(news), from+n-len(out[i]))
			out[i] = append(out[i], news[from:to]...)
		}
	}
	return out, nil
}
