package response

import (
	"testing"

	"lampblack/app/desk"
	"lampblack/app/window/calm"
	"lampblack/app/window/leaf"
	"lampblack/app/window/plate"
	"lampblack/app/window/windowtest"
	"lampblack/patch"
)

// WCAG 2.2, 2.3.1, of the whole plate, while a control is dragged to and fro. Lines
// and bars are thin; what fills an area is the line of a comb with many teeth.
// Without the guard it flashes, or the test could not fail.
func TestNothingFlashes(t *testing.T) {
	worst := 0
	for _, c := range []struct {
		name, theme, module, control, from, to string
		frames                                 int // for which a value stays
		guarded                                bool
	}{
		{"a filter's line", "soot", "pane", "cutoff", "40 Hz", "15 kHz", 2, false},
		{"the bars of a narrow pulse", "paper", "reed", "shape", "pulse", "sine", 2, false},
		{"a comb's line", "soot", "delay", "time", "0.1 ms", "60 ms", 2, false},
		{"a comb's line", "soot", "delay", "time", "0.1 ms", "60 ms", 2, true},
		{"a comb's line", "paper", "delay", "time", "0.1 ms", "60 ms", 3, true},
	} {
		b, p := bench(t, c.theme)
		add, _ := desk.AddModule("delay", patch.Point{}, b.Patch())
		b.Do(add)
		set(t, b, "delay", "feedback", "95 %")
		set(t, b, "reed", "width", "1 %")
		set(t, b, "reed", "frequency", "220 Hz")
		p.set.by = notMeasured // the line comes at once, as it does while a hand moves
		host := leaf.New(func(pen *leaf.Pen) {
			p.Write(pen, plate.Box{X: 12, Y: 12, Width: pen.Width - 24, Height: pen.Height - 24})
		})
		w := b.Show(host, 1100, 640)
		choose(b, c.module)
		p.Show(true)
		answered(b, p)
		w.Canvas().Capture()
		f := windowtest.Flashes(t, w, 33, c.guarded, func(i int) {
			if i%c.frames == 0 {
				set(t, b, c.module, c.control, []string{c.from, c.to}[i/c.frames%2])
				answered(b, p)
			}
			p.Beat()
		})
		t.Logf("%s, %s dragged at %g Hz, guarded %v: %d opposing changes in a second, %.1f %% of 10 degrees with one frame",
			c.theme, c.name, 15/float64(c.frames), c.guarded, f.Most, 100*f.Largest)
		if !f.Moved {
			t.Errorf("%s: nothing moves: the test says nothing", c.name)
		}
		if (c.guarded || c.module != "delay") && f.Most > 2*calm.Flashes {
			t.Errorf("%s, %s: %d opposing changes in a second; at most %d", c.theme, c.name, f.Most, 2*calm.Flashes)
		}
		if !c.guarded {
			worst = max(worst, f.Most)
		}
	}
	if worst <= 2*calm.Flashes {
		t.Errorf("without the guard there are %d opposing changes: the worst case is none", worst)
	}
}
