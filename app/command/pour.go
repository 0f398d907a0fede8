package command

import (
	"cmp"
	"io"
	"math"

	"lampblack/patch/engine"
	"lampblack/patch/recording"
)

// rendered is what became of a render.
type rendered struct {
	channels, samples int
	peak              float64 // 1 = full scale
	clipped           int     // samples beyond full scale
	sum               [32]byte
}

// ahead is how many pieces may be computed before the first is written.
const ahead = 8

// piece is a run of samples, one slice a channel.
type piece struct {
	channels [][]float64
	err      error
}

// pour writes a render to w as its samples come: one goroutine computes, this one
// writes, and no more than a few pieces are held.
func pour(begun *engine.Rendering, w io.Writer, r rendering) (rendered, error) {
	channels := 1
	if begun.Stereo() {
		channels = 2
	}
	least, most := begun.Samples()
	_, seeks := w.(io.Seeker)
	if least != most && !seeks {
		return pourWhole(begun, w, r, channels)
	}
	file, err := recording.NewWAVWriter(w, channels, r.rate, forms[r.bits], most)
	if err != nil {
		return rendered{}, err
	}
	a := account{rendered: rendered{channels: channels}}
	if r.json {
		a.digest = engine.NewDigest(channels == 2)
	}
	if err := compute(begun, channels, func(c [][]float64) error { return cmp.Or(file.Add(c...), a.add(c)) }); err != nil {
		return rendered{}, err
	}
	return a.closed(), file.Close()
}

// pourWhole is pour for a pipe and a render whose length is not known before its
// end: a WAV file begins with its length.
func pourWhole(begun *engine.Rendering, w io.Writer, r rendering, channels int) (rendered, error) {
	a := account{rendered: rendered{channels: channels}, digest: engine.NewDigest(channels == 2)}
	all := make([][]float64, channels)
	err := compute(begun, channels, func(c [][]float64) error {
		for k := range all {
			all[k] = append(all[k], c[k]...)
		}
		return a.add(c)
	})
	if err != nil {
		return rendered{}, err
	}
	return a.closed(), recording.WriteWAV(w, all, r.rate, forms[r.bits])
}

// compute hands over the pieces of a render, computed in a goroutine of its own,
// and returns when that has ended.
func compute(begun *engine.Rendering, channels int, take func([][]float64) error) error {
	full, free := make(chan piece, ahead), make(chan piece, ahead)
	stop := make(chan struct{})
	for range ahead {
		free <- piece{channels: make([][]float64, channels)}
	}
	go func() {
		defer close(full)
		for {
			select {
			case p := <-free:
				left, right, err := begun.Next()
				p.channels[0] = append(p.channels[0][:0], left...)
				if channels == 2 {
					p.channels[1] = append(p.channels[1][:0], right...)
				}
				if p.err = err; err == io.EOF {
					return
				}
				full <- p
				if err != nil {
					return
				}
			case <-stop:
				return
			}
		}
	}()
	var failed error
	for p := range full {
		if failed == nil {
			if failed = p.err; failed == nil {
				failed = take(p.channels)
			}
			if failed != nil {
				close(stop)
			}
		}
		free <- p
	}
	return failed
}

// account keeps the peak, the clipped samples and the digest.
type account struct {
	rendered
	digest *engine.Digest // or nil
}

func (a *account) add(channels [][]float64) error {
	a.samples += len(channels[0])
	for _, samples := range channels {
		for _, x := range samples {
			if x := math.Abs(x); x > a.peak {
				a.peak = x
			}
		}
	}
	if a.peak > 1 {
		a.clipped += recording.Clipped(channels)
	}
	if a.digest != nil {
		a.digest.Add(channels[0], channels[len(channels)-1])
	}
	return nil
}

func (a *account) closed() rendered {
	if a.digest != nil {
		a.sum = a.digest.Sum()
	}
	return a.rendered
}
