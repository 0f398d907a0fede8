package instruments

import (
	"testing"

	"lampblack/app/desk"
	"lampblack/app/window/calm"
	"lampblack/app/window/windowtest"
	"lampblack/patch"
)

// jumps is the large spectrum with the rings of two reeds that hum in unison: their
// phases are not known, so that every line has a range. A frequency stays for so
// many frames.
func jumps(t *testing.T, theme string, stays, frames int, guarded bool) windowtest.Flashed {
	th := newTheory(t, theme)
	th.put("hum", "oscillator", "shape", "saw", "frequency", "55 Hz")
	th.put("reed", "oscillator", "shape", "saw", "frequency", "55 Hz")
	th.put("both", "mixer")
	th.cord("hum/out", "both/1", "")
	th.cord("reed/out", "both/2", "")
	w := th.Bench.Show(th.largeOf("both/out"), 1100, 640)
	th.p.set(func(w *switches) { w.linear, w.table = true, false })
	w.Canvas().Capture()
	th.measured(0.2)
	f := windowtest.Flashes(t, w, frames, guarded, func(i int) {
		if i%stays == 0 {
			v := patch.Setting{Value: []float64{5000, 55}[i/stays%2], Unit: "Hz"}
			th.Do(desk.SetControl("hum", "frequency", v))
			th.Do(desk.SetControl("reed", "frequency", v))
		}
		th.measured(1.0 / 30)
	})
	t.Logf("%s, rings that jump at %g Hz, guarded %v: %d opposing changes in a second, %.1f %% of 10 degrees with one frame",
		theme, 15/float64(stays), guarded, f.Most, 100*f.Largest)
	if !f.Moved {
		t.Error("nothing moves: the test says nothing")
	}
	return f
}

// WCAG 2.2, 2.3.1, of the rings over the spectrum, which wait together: each by
// itself they made 11 changes. Without the guard they flash, or the test could not
// fail.
func TestTheRingsDoNotFlash(t *testing.T) {
	if f := jumps(t, "paper", 3, 33, true); f.Most > 2*calm.Flashes {
		t.Errorf("%d opposing changes in a second; at most %d", f.Most, 2*calm.Flashes)
	}
	if f := jumps(t, "paper", 3, 24, false); f.Most <= 2*calm.Flashes {
		t.Errorf("without the guard there are %d opposing changes: the worst case is none", f.Most)
	}
}
