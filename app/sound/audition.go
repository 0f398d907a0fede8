package sound

import "sync/atomic"

// audition is a kept sound being played beside the source.
type audition struct {
	left, right []float64 // of equal length
	at          int       // sound thread only
	ended       atomic.Bool
	stop        atomic.Bool
	gain        float64 // fades at the end of a stop; sound thread only
}

const auditionFade = 2000 // samples from full to silent when it is stopped

// addTo mixes the next samples into left and right.
func (a *audition) addTo(left, right []float64) {
	for i := range left {
		if a.at >= len(a.left) || a.gain <= 0 {
			a.ended.Store(true)
			return
		}
		left[i] += a.left[a.at] * a.gain
		right[i] += a.right[a.at] * a.gain
		a.at++
		if a.stop.Load() {
			a.gain -= 1.0 / auditionFade
		}
	}
}
