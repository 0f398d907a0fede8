package engine

import (
	"context"
	"io"
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

	// Workers is how many goroutines compute the voices of the patch side by side;
	// 0: one for each processor, at most one for each voice. The bits do not depend
	// on it.
	Workers int

	// Fine is how many times the rate the patch is computed at before it is brought
	// down again by filters: 1, 2, 4 or 8, 0 counts as 1. What is modulated so fast
	// that its sidebands would fold has room for them there. It is another sound
	// than the live one, with other bits; see FineFor.
	Fine int

	Clips    map[string]*module.Clip // as in Settings, at Rate times Fine
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
// with any number of other goroutines (but see RenderOptions.Fine). The memory is played once from its start
// (again and again if it repeats and Seconds is not 0). A memory without notes
// holds the gate for the whole render, at A4 (pitch 0) and velocity 1.
//
// All samples are held at once, 8 bytes each: see Begin for a long render.
func Render(p patch.Patch, m memory.Memory, o RenderOptions) (*Rendered, error) {
	r, err := Begin(p, m, o)
	if err != nil {
		return nil, err
	}
	all := &Rendered{Stereo: r.Stereo(), Rate: o.Rate, Left: make([]float64, 0, r.fixed)}
	if all.Stereo {
		all.Right = make([]float64, 0, r.fixed)
	}
	for {
		left, right, err := r.Next()
		if err == io.EOF {
			break
		}
		if err != nil {
			return nil, err
		}
		all.Left = append(all.Left, left...)
		if all.Stereo {
			all.Right = append(all.Right, right...)
		}
	}
	if !all.Stereo {
		all.Right = all.Left
	}
	return all, nil
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

// SHA256 returns the Digest of all samples. It proves a render bit by bit.
func (r *Rendered) SHA256() [32]byte {
	d := NewDigest(r.Stereo)
	d.Add(r.Left, r.Right)
	return d.Sum()
}
