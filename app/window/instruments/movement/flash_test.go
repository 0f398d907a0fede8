package movement

import (
	"fmt"
	"testing"

	"lampblack/app/desk"
	"lampblack/app/window/calm"
	"lampblack/app/window/windowtest"
	"lampblack/patch"
)

// beaten is a bench on which controls are moved by a square of a rate in Hz and by
// noise that the square lets through and shuts off.
func beaten(t testing.TB, theme string, hz float64, moved string, filters int) *page {
	g := open(t, theme, "oscillator", "noise", "amplifier")
	g.sets("oscillator", "shape", "pulse")
	g.sets("oscillator", "frequency", fmt.Sprintf("%g Hz", hz))
	g.sets("amplifier", "depth", "100 %")
	g.joins("noise/out", "amplifier/in", "")
	g.joins("oscillator/out", "amplifier/modulation", "")
	for range filters {
		e, name := desk.AddModule("filter", patch.Point{}, g.Patch())
		g.does(e)
		g.joins(moved+"/out", name+"/cutoff", "5 oct")
	}
	return g
}

// WCAG 2.2, 2.3.1: six opposing changes of luminance over a quarter of 10 degrees in
// any second at most, of the whole page, whatever moves a control. Without the
// guard noise that comes and goes flashes, or the test could not fail.
func TestNothingFlashes(t *testing.T) {
	worst := 0
	for _, c := range []struct {
		name, theme string
		hz          float64
		moved       string
		filters     int
		seconds     int // number in times
		guarded     bool
	}{
		{"a square, 4 periods", "soot", 7.5, "oscillator", 1, 0, false}, // thin: it needs no guard
		{"bursts of noise, 4 periods", "soot", 7.5, "amplifier", 1, 0, true},
		{"bursts of noise in 20 ms", "soot", 10, "amplifier", 1, 1, true},
		{"bursts of noise in 20 ms", "paper", 7.5, "amplifier", 1, 1, true},
		{"bursts of noise in 20 ms", "soot", 7.5, "amplifier", 1, 1, false},
		{"30 rows of bursts of noise in 20 ms", "soot", 10, "amplifier", 30, 1, true},
	} {
		g := beaten(t, c.theme, c.hz, c.moved, c.filters)
		g.plate.seconds = c.seconds
		w := g.Show(g.leaf, 1100, 640)
		w.Canvas().Capture()
		g.opens(0.3)
		g.leaf.Refresh()
		f := windowtest.Flashes(t, w, 36, c.guarded, func(int) { g.sounds(1.0 / 30) })
		t.Logf("%s, %s at %g Hz, guarded %v: %d opposing changes in a second, %.1f %% of 10 degrees with one frame",
			c.theme, c.name, c.hz, c.guarded, f.Most, 100*f.Largest)
		if !f.Moved {
			t.Errorf("%s: nothing moves: the test says nothing", c.name)
		}
		if !c.guarded && c.moved == "amplifier" {
			worst = max(worst, f.Most)
		} else if f.Most > 2*calm.Flashes {
			t.Errorf("%s, %s at %g Hz: %d opposing changes in a second; at most %d", c.theme, c.name, c.hz, f.Most, 2*calm.Flashes)
		}
	}
	if worst <= 2*calm.Flashes {
		t.Errorf("without the guard there are %d opposing changes: the worst case is none", worst)
	}
}
