package meters

import (
	"math"
	"testing"

	"lampblack/app/window/calm"
	"lampblack/app/window/windowtest"
)

// bursts are full scale and silence, by turns at a rate in Hz.
func bursts(seconds, hz float64) []float64 {
	out := sine(seconds, 0, 997, 0)
	for i := range out {
		if math.Mod(hz*float64(i)/rate, 1) >= 0.5 {
			out[i] = 0
		}
	}
	return out
}

// WCAG 2.2, 2.3.1, of the whole plate, which has no guard: its needles are thin and
// its chart drifts. The fastest that the momentary loudness, a mean over 400 ms, can
// swing through is 1.25 Hz.
func TestNothingFlashes(t *testing.T) {
	for _, theme := range windowtest.Themes {
		for _, hz := range []float64{1.25, 7.5} {
			if hz != 1.25 && theme != "soot" {
				continue // what one theme brightens the other darkens
			}
			s := newStand(t, theme)
			left := bursts(5, hz)
			right := make([]float64, len(left))
			for i := range right { // what is loud at the left is silent at the right
				right[i] = math.Sin(2*math.Pi*997*float64(i)/rate) - left[i]
			}
			s.play(left, right)
			w := s.alone(1100, 640)
			s.listen(3)
			f := windowtest.Flashes(t, w, 33, true, func(int) {
				s.Listen(1.0 / 30)
				s.p.Beat()
			})
			t.Logf("%s, bursts at %g Hz: %d opposing changes in a second, %.1f %% of 10 degrees with one frame", theme, hz, f.Most, 100*f.Largest)
			if !f.Moved {
				t.Error("nothing moves: the test says nothing")
			}
			if f.Most > 2*calm.Flashes {
				t.Errorf("%s, bursts at %g Hz: %d opposing changes in a second; at most %d", theme, hz, f.Most, 2*calm.Flashes)
			}
			// As long as no frame comes near the limit it needs no guard.
			if f.Largest > calm.Part/2 {
				t.Errorf("%s, bursts at %g Hz: %.1f %% of 10 degrees change with one frame: it needs a guard", theme, hz, 100*f.Largest)
			}
		}
	}
}
