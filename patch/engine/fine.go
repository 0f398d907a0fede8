package engine

import (
	"fmt"

	"lampblack/patch/dsp/oversample"
)

// descent brings a render that is computed at a higher rate down to its own.
type descent struct {
	factor    int
	side      [2]oversample.Converter
	high      [2][]float64 // samples of the higher rate
	first     int          // samples of the lower rate that come before the first of the render
	remainder int          // samples of silence that stand before it at the higher rate
}

// newDescent returns what o.Fine asks for, or nil if nothing.
func newDescent(o RenderOptions) (*descent, error) {
	switch o.Fine {
	case 0, 1:
		return nil, nil
	case 2, 4, 8:
	default:
		return nil, fmt.Errorf("fine is %d; it must be 1, 2, 4 or 8; nothing was rendered", o.Fine)
	}
	if o.Rate > MaxRate/o.Fine {
		return nil, fmt.Errorf("%d times %d samples a second are %d; a patch is computed at %d at most; nothing was rendered", o.Fine, o.Rate, o.Fine*o.Rate, MaxRate)
	}
	d := &descent{factor: o.Fine}
	for k := range d.side {
		d.side[k] = oversample.New(o.Fine)
		d.high[k] = make([]float64, renderBlock*o.Fine)
	}
	// The filters are symmetric. What comes down is late by half of what the way up
	// and down takes; silence before the first sample makes that a whole number of
	// samples, which are left out.
	late := oversample.Latency(o.Fine) / 2
	d.remainder = (o.Fine - late%o.Fine) % o.Fine
	d.first = (late + d.remainder) / o.Fine
	return d, nil
}

// block fills left and right with the next samples of the render.
func (d *descent) block(left, right []float64, compute func(left, right []float64)) {
	for d.first > 0 {
		n := min(d.first, renderBlock, max(len(left), 1))
		d.down(make([]float64, n), make([]float64, n), compute)
		d.first -= n
	}
	for len(left) > 0 {
		n := min(len(left), renderBlock)
		d.down(left[:n], right[:n], compute)
		left, right = left[n:], right[n:]
	}
}

// down brings len(left) times factor samples down.
func (d *descent) down(left, right []float64, compute func(left, right []float64)) {
	n := len(left) * d.factor
	skip := d.remainder
	d.remainder = 0
	clear(d.high[0][:skip])
	clear(d.high[1][:skip])
	compute(d.high[0][skip:n], d.high[1][skip:n])
	var step [8]float64
	for i := range left {
		copy(step[:d.factor], d.high[0][i*d.factor:])
		left[i] = d.side[0].Down(&step)
		copy(step[:d.factor], d.high[1][i*d.factor:])
		right[i] = d.side[1].Down(&step)
	}
}
