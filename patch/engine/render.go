package engine

import (
	"context"
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"math"

	"lampblack/patch"
	"lampblack/patch/memory"
	"lampblack/patch/module"
)

// Limits and defaults of a render, in seconds.
const (
	MaxSeconds     = 3600 // the longest render; over 96 kHz it is shorter, see MaxSamples
	DefaultSeconds = 4    // of a patch with an empty memory, if no length is asked for
	DefaultTail    = 10   // the longest wait for silence after the memory's pass
	SilentSeconds  = 0.5  // how long a tail has to be silent to have ended
)

// MaxSamples bounds a render: an hour at 96 kHz, which is 2.8 GB a side.
const MaxSamples = MaxSeconds * 96_000

// SilentLevel is what counts as silence at the end of a tail: -90 dBFS.
const SilentLevel = 3.1622776601683795e-5

// renderBlock is how many samples are computed between two looks at the context.
const renderBlock = 4096

// RenderOptions are what Render needs beside patch and memory.
type RenderOptions struct {
	Rate int // samples a second, MinRate to MaxRate

	// Seconds is the length of the render, 0 to MaxSeconds. With 0 it is one pass
	// of the memory and then the tail, until both sides have stayed under
	// SilentLevel for SilentSeconds, Tail at most. With 0 and an empty memory it
	// is DefaultSeconds.
	Seconds float64
	Tail    float64 // the longest tail in seconds if Seconds is 0; 0 is DefaultTail

	Clips    map[string]*module.Clip // as in Settings
	Kinds    Catalogue               // as in Settings
	Context  context.Context         // ends the render early with its error; nil: never
	Progress func(done float64)      // called now and then with 0 to 1, from the calling goroutine; may be nil

	block int // samples computed at once, for tests: the bits do not depend on it
}

// Rendered is the sound of a patch. +-1.0 is full scale; nothing is beyond
// MaxOutput.
type Rendered struct {
	Left, Right []float64 // of equal length; the same slice if not Stereo
	Stereo      bool      // a cord ends in the right side of an output
	Rate        int       // samples a second
}

// Render computes what the patch sounds like, from silence, as an Engine with
// these settings gives it live, to the bit: on any processor, at any block size,
// with any number of other goroutines. The memory is played once from its start
// (again and again if it repeats and Seconds is not 0). A memory without notes
// holds the gate for the whole render, at A4 (pitch 0) and velocity 1.
func Render(p patch.Patch, m memory.Memory, o RenderOptions) (*Rendered, error) {
	g, err := Compile(p, Settings{Rate: o.Rate, Clips: o.Clips, Kinds: o.Kinds})
	if err != nil {
		return nil, err
	}
	if !(o.Seconds >= 0 && o.Seconds <= MaxSeconds) {
		return nil, fmt.Errorf("the length is %g s; it must be 0 to %d s; nothing was rendered", o.Seconds, MaxSeconds)
	}
	if !(o.Tail >= 0 && o.Tail <= MaxSeconds) {
		return nil, fmt.Errorf("the tail is %g s; it must be 0 to %d s; nothing was rendered", o.Tail, MaxSeconds)
	}
	r := renderer{options: o, engine: New(o.Rate), out: &Rendered{Stereo: g.Stereo(), Rate: o.Rate}}
	r.engine.Swap(g)
	if err := r.plan(m); err != nil {
		return nil, err
	}
	if r.longest > MaxSamples {
		return nil, fmt.Errorf("the render would be %d samples long; it must be %d or fewer (%d s at this rate); nothing was rendered", r.longest, MaxSamples, MaxSamples/o.Rate)
	}
	if err := r.run(); err != nil {
		return nil, err
	}
	return r.out, nil
}

// renderer is a render on its way.
type renderer struct {
	options RenderOptions
	engine  *Engine
	out     *Rendered
	fixed   int // samples that are rendered in any case
	longest int // samples at most, the tail included
	quiet   int // samples for which it has been silent
}

// plan starts the notes and works out the length.
func (r *renderer) plan(m memory.Memory) error {
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

// run renders block after block.
func (r *renderer) run() error {
	size := r.options.block
	if size == 0 {
		size = renderBlock
	}
	left, right := make([]float64, size), make([]float64, size)
	o := r.out
	o.Left = make([]float64, 0, r.fixed)
	if o.Stereo {
		o.Right = make([]float64, 0, r.fixed)
	}
	for len(o.Left) < r.longest {
		if c := r.options.Context; c != nil && c.Err() != nil {
			return c.Err()
		}
		r.progress()
		n := min(size, r.longest-len(o.Left))
		r.engine.Block(left[:n], right[:n])
		n, ended := r.listen(left[:n], right[:n])
		o.Left = append(o.Left, left[:n]...)
		if o.Stereo {
			o.Right = append(o.Right, right[:n]...)
		}
		if ended {
			break
		}
	}
	if !o.Stereo {
		o.Right = o.Left
	}
	if r.options.Progress != nil {
		r.options.Progress(1)
	}
	return nil
}

// listen counts how long it has been silent after the fixed part, and returns
// how many of these samples belong to the render and whether it has ended.
func (r *renderer) listen(left, right []float64) (int, bool) {
	if r.fixed == r.longest {
		return len(left), false
	}
	enough := int(SilentSeconds * float64(r.options.Rate))
	for i := range left {
		if max(math.Abs(left[i]), math.Abs(right[i])) > SilentLevel || len(r.out.Left)+i < r.fixed {
			r.quiet = 0
		} else if r.quiet++; r.quiet >= enough {
			return i + 1, true
		}
	}
	return len(left), false
}

func (r *renderer) progress() {
	if r.options.Progress != nil && r.longest > 0 {
		r.options.Progress(float64(len(r.out.Left)) / float64(r.longest))
	}
}

// Peak returns the largest absolute value of all samples, 1.0 being full scale.
func (r *Rendered) Peak() float64 {
	peak := 0.0
	for _, side := range [][]float64{r.Left, r.Right} {
		for _, x := range side {
			peak = max(peak, math.Abs(x))
		}
	}
	return peak
}

// Channels returns the sides that differ: one, or two if Stereo.
func (r *Rendered) Channels() [][]float64 {
	if r.Stereo {
		return [][]float64{r.Left, r.Right}
	}
	return [][]float64{r.Left}
}

// SHA256 returns the SHA-256 (FIPS 180-4) of the samples, each as the eight bytes
// of an IEEE 754 double, least significant first; left and right alternate if
// Stereo, otherwise it is the left side alone. It proves a render bit by bit.
func (r *Rendered) SHA256() [32]byte {
	h := sha256.New()
	buffer := make([]byte, 0, 1<<16)
	channels := r.Channels()
	for i := range r.Left {
		for _, c := range channels {
			buffer = binary.LittleEndian.AppendUint64(buffer, math.Float64bits(c[i]))
		}
		if len(buffer) > 1<<16-16 {
			h.Write(buffer)
			buffer = buffer[:0]
		}
	}
	h.Write(buffer)
	return [32]byte(h.Sum(nil))
}
