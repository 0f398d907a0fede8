package look

// Trace draws samples from left to right over the whole picture: the value lo
// at the lower edge, hi at the upper. Where more than two samples fall on a
// column of pixels their least and greatest are drawn, so that no peak is
// lost. Samples that are not finite leave a gap. Fewer than two draw nothing.
func (p *Pen) Trace(samples []float32, lo, hi float32) {
	b := p.to.Bounds()
	p.TraceIn(samples, lo, hi, 0, 0, float32(b.Dx()), float32(b.Dy()))
}

// TraceIn is Trace within a part of the picture, in pixels.
func (p *Pen) TraceIn(samples []float32, lo, hi, x0, y0, x1, y1 float32) {
	if len(samples) < 2 || !(hi > lo) || x1 <= x0 {
		return
	}
	level := func(v float32) float32 {
		// Half a line stays free at both edges, so that full scale is a whole line.
		return y1 - p.Width/2 - (v-lo)/(hi-lo)*(y1-y0-p.Width)
	}
	columns := int(x1 - x0)
	if len(samples) > 2*columns {
		p.columns(samples, columns, x0, level)
		return
	}
	p.points(samples, x0, x1, level)
}

func (p *Pen) points(samples []float32, x0, x1 float32, level func(float32) float32) {
	step := (x1 - x0) / float32(len(samples)-1)
	down := false
	for i, v := range samples {
		if v-v != 0 { // NaN or infinite
			down = false
			continue
		}
		x := x0 + float32(i)*step
		if down {
			p.Line(x, level(v))
		} else {
			p.Move(x, level(v))
		}
		down = true
	}
	p.Ink()
}

func (p *Pen) columns(samples []float32, columns int, x0 float32, level func(float32) float32) {
	upper, lower := p.upper[:0], p.lower[:0]
	half := p.Width / 2
	flush := func() {
		if len(upper) > 1 {
			for i := len(lower) - 1; i >= 0; i-- {
				upper = append(upper, lower[i])
			}
			p.polygon(upper)
		}
		upper, lower = upper[:0], lower[:0]
	}
	for c := range columns {
		// One sample of the next column belongs to this one: the line has no breaks.
		from, to := c*len(samples)/columns, min((c+1)*len(samples)/columns+1, len(samples))
		least, most, ok := Extent(samples[from:to])
		if !ok {
			flush()
			continue
		}
		x, top, foot := x0+float32(c)+0.5, level(most)-half, level(least)+half
		upper = append(upper, point{x, top})
		lower = append(lower, point{x, foot})
		// Between columns the outline is slanted; a bar keeps a lone peak from thinning out.
		bar := half * 0.6
		p.polygon([]point{{x - bar, top}, {x + bar, top}, {x + bar, foot}, {x - bar, foot}})
	}
	flush()
	p.upper, p.lower = upper, lower
	p.set()
}

// Extent returns the least and greatest of the finite samples; ok is false if
// there is none.
func Extent(samples []float32) (least, most float32, ok bool) {
	for _, v := range samples {
		switch {
		case v-v != 0:
		case !ok:
			least, most, ok = v, v, true
		case v < least:
			least = v
		case v > most:
			most = v
		}
	}
	return least, most, ok
}
