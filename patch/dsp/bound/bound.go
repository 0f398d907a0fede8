// Package bound keeps what comes in from outside within sensible numbers.
package bound

// Most is the largest sample, either way, that is let in: 60 dB over full
// scale, beyond all that modules give out.
const Most = 1000

// In returns x if it lies within +-Most. If not it sets clamped and returns the
// nearer end, or 0 for what is no number.
func In(x float64, clamped *bool) float64 {
	if x >= -Most && x <= Most {
		return x
	}
	*clamped = true
	return nearest(x)
}

func nearest(x float64) float64 {
	switch {
	case x > Most:
		return Most
	case x < -Most:
		return -Most
	}
	return 0
}

// Flush returns 0 for what lies within +-1e-15 (-300 dB), else y: what fades
// then ends in exact silence, and in no numbers so small that some processors
// slow down on them.
func Flush(y float64) float64 {
	if y < 1e-15 && y > -1e-15 {
		return 0
	}
	return y
}
