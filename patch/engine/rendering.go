package engine

import (
	"fmt"
	"io"
	"math"
	"runtime"

	"lampblack/patch"
	"lampblack/patch/memory"
)

// Rendering is a render on its way. It holds one block of samples and no more,
// however long the render is.
type Rendering struct {
	options     RenderOptions
	engine      *Engine
	crew        *crew // nil: the voices are computed one after the other
	stereo      bool
	fine        *descent // nil: computed at the rate itself
	left, right []float64
	done        int  // samples given
	fixed       int  // samples that are rendered in any case
	longest     int  // samples at most, the tail included
	quiet       int  // samples for which it has been silent
	ended       bool // the last sample has been given
}

// Begin begins a render, of which Next gives the samples; Render says what they
// are. An error tells what cannot be rendered.
func Begin(p patch.Patch, m memory.Memory, o RenderOptions) (*Rendering, error) {
	fine, err := newDescent(o)
	if err != nil {
		return nil, err
	}
	settings := Settings{Rate: o.Rate * max(o.Fine, 1), Clips: o.Clips, Kinds: o.Kinds}
	workers := o.workers(p)
	if workers > 1 {
		settings.wide = wideSamples
	}
	g, err := Compile(p, settings)
	if err != nil {
		return nil, err
	}
	if !(o.Seconds >= 0 && o.Seconds <= MaxSeconds) {
		return nil, fmt.Errorf("the length is %g s; it must be 0 to %d s; nothing was rendered", o.Seconds, MaxSeconds)
	}
	if !(o.Tail >= 0 && o.Tail <= MaxSeconds) {
		return nil, fmt.Errorf("the tail is %g s; it must be 0 to %d s; nothing was rendered", o.Tail, MaxSeconds)
	}
	r := &Rendering{options: o, engine: New(settings.Rate), stereo: g.Stereo(), fine: fine}
	r.engine.Swap(g)
	if workers > 1 {
		r.crew = newCrew(r.engine, workers, len(g.notes))
	}
	if err := r.plan(m); err != nil {
		return nil, err
	}
	if r.longest > MaxSamples {
		return nil, fmt.Errorf("the render would be %d samples long; it must be %d or fewer (%d s at this rate); nothing was rendered", r.longest, MaxSamples, MaxSamples/o.Rate)
	}
	size := o.block
	if size == 0 {
		size = renderBlock
	}
	r.left, r.right = make([]float64, size), make([]float64, size)
	return r, nil
}

// workers returns how many goroutines compute the voices of p.
func (o *RenderOptions) workers(p patch.Patch) int {
	n := o.Workers
	if n <= 0 {
		n = runtime.GOMAXPROCS(0)
	}
	return min(n, VoicesOf(p, o.Kinds).Count)
}

// Stereo reports whether a cord ends in the right side of an output; if not,
// both sides are the same.
func (r *Rendering) Stereo() bool { return r.stereo }

// Samples returns the fewest and the most samples that the render may have. They
// differ only if it ends when it has become silent.
func (r *Rendering) Samples() (least, most int) { return r.fixed, r.longest }

// Next gives the next samples of both sides, which are the caller's until the
// next call; they are one slice if not Stereo. After the last it gives io.EOF. It
// gives the error of the options' Context once that is done.
func (r *Rendering) Next() (left, right []float64, err error) {
	if c := r.options.Context; c != nil && c.Err() != nil {
		return nil, nil, c.Err()
	}
	n := min(len(r.left), r.longest-r.done)
	if r.ended || n <= 0 {
		if r.options.Progress != nil {
			r.options.Progress(1)
		}
		return nil, nil, io.EOF
	}
	if r.options.Progress != nil {
		r.options.Progress(float64(r.done) / float64(r.longest))
	}
	left, right = r.left[:n], r.right[:n]
	if r.fine != nil {
		r.fine.block(left, right, r.compute)
	} else {
		r.compute(left, right)
	}
	n, r.ended = r.listen(left, right)
	r.done += n
	if !r.stereo {
		return left[:n], left[:n], nil
	}
	return left[:n], right[:n], nil
}

// compute computes samples at the rate of the engine.
func (r *Rendering) compute(left, right []float64) {
	if r.crew != nil {
		r.crew.block(left, right)
	} else {
		r.engine.Block(left, right)
	}
}

// listen counts how long it has been silent after the fixed part, and returns
// how many of these samples belong to the render and whether it has ended.
func (r *Rendering) listen(left, right []float64) (int, bool) {
	if r.fixed == r.longest {
		return len(left), false
	}
	enough := int(SilentSeconds * float64(r.options.Rate))
	for i := range left {
		if max(math.Abs(left[i]), math.Abs(right[i])) > SilentLevel || r.done+i < r.fixed {
			r.quiet = 0
		} else if r.quiet++; r.quiet >= enough {
			return i + 1, true
		}
	}
	return len(left), false
}

// plan starts the notes and works out the length.
func (r *Rendering) plan(m memory.Memory) error {
	rate := float64(r.options.Rate)
	seconds := r.options.Seconds
	if len(m.Notes) == 0 {
		if seconds == 0 {
			seconds = DefaultSeconds
		}
		r.engine.NoteOn(0, 1)
		r.fixed = int(math.Round(seconds * rate))
		r.longest = r.fixed
		return nil
	}
	if seconds == 0 {
		m.Repeat = false
	}
	if err := r.engine.SetMemory(m); err != nil {
		return err
	}
	r.engine.Play(0)
	if seconds > 0 {
		r.fixed = int(math.Round(seconds * rate))
		r.longest = r.fixed
		return nil
	}
	tail := r.options.Tail
	if tail == 0 {
		tail = DefaultTail
	}
	pass := m.Length / m.Tempo()
	if pass > MaxSeconds {
		return fmt.Errorf("one pass of the memory lasts %g s at this speed; a render is %d s long at most; nothing was rendered", pass, MaxSeconds)
	}
	r.fixed = int(math.Round(pass * rate))
	r.longest = r.fixed + int(math.Round(tail*rate))
	return nil
}
