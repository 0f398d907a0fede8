package instruments

import (
	"math"
	"strings"
	"testing"

	"lampblack/app/desk"
	"lampblack/app/window/instruments/expect"
	"lampblack/app/window/windowtest"
	"lampblack/patch"
)

// theory is a bench with a patch, its instruments, and the large spectrum that
// shows what is expected.
type theory struct {
	*windowtest.Bench
	p *Panel
	e *expected
	t testing.TB
}

func newTheory(t testing.TB, theme string) *theory {
	b := windowtest.New(t, theme)
	return &theory{Bench: b, t: t}
}

// put adds a module; settings are pairs of control and text.
func (th *theory) put(name, kind string, settings ...string) {
	th.t.Helper()
	add, got := desk.AddModule(kind, patch.Point{X: 10, Y: 10}, th.Patch())
	th.Do(add)
	if got != name {
		th.Do(desk.RenameModule(got, name))
	}
	for i := 0; i < len(settings); i += 2 {
		s, err := patch.ParseSetting(settings[i+1], th.Kind(name).Control(settings[i]))
		if err != nil {
			th.t.Fatal(err)
		}
		th.Do(desk.SetControl(name, settings[i], s))
	}
}

// cord joins "module/socket" to another; depth is empty into an input.
func (th *theory) cord(from, to, depth string) {
	th.t.Helper()
	a, b := socketOf(from), socketOf(to)
	var d patch.Setting
	if depth != "" {
		c := *th.Kind(b.Module).Control(b.Name)
		if i := c.Scale(th.Patch().Module(b.Module).Settings[b.Name].Unit); i > 0 {
			c.Scales = c.Scales[i : i+1]
		}
		var err error
		if d, err = patch.ParseDepth(depth, &c); err != nil {
			th.t.Fatal(err)
		}
	}
	if !th.Do(desk.Join(a, b, d)) {
		th.t.Fatalf("%s could not be joined to %s", from, to)
	}
}

func socketOf(text string) patch.Socket {
	module, name, _ := strings.Cut(text, "/")
	return patch.Socket{Module: module, Name: name}
}

// show opens the large spectrum with a probe on an output, and the table.
func (th *theory) show(at string) {
	th.SetProbe(desk.ProbeA, socketOf(at))
	th.p = New(th.Session)
	th.p.Enlarge(ofSpectrum)
	th.p.set(func(w *switches) { w.expected, w.table = 1, true })
	th.e = th.p.large.plates[ofSpectrum].(*spectrumPlate).expected
}

// settle lets the patch sound until it was measured over the longest stretch.
func (th *theory) settle() {
	th.t.Helper()
	th.measured(1.2)
}

// measured lets it sound so long, at the pace of the screen, and waits for what is
// asked and measured meanwhile.
func (th *theory) measured(seconds float64) {
	for range int(seconds*30 + 0.5) {
		th.Listen(1.0 / 30)
		th.p.Beat()
		th.Until("an answer", func() bool { return !th.e.busy && !th.e.sound.busy })
	}
}

// row is the row at a frequency.
func (th *theory) row(hz float64) *expect.Row {
	th.t.Helper()
	for i := range th.e.rows {
		if r := &th.e.rows[i]; !r.Band && math.Abs(r.Hz-hz) < 0.02 {
			return r
		}
	}
	th.t.Fatalf("no line is expected at %g Hz", hz)
	return nil
}

// holds checks that all rows above floor agree as the issue of a still sound
// demands, and tells the figures.
func (th *theory) holds(what string, floor, within float64) {
	th.t.Helper()
	db, hz, lines := expect.Worst(th.e.rows, floor)
	left := math.NaN()
	if th.e.sound.rest != nil {
		left = th.e.sound.rest.Level
	}
	th.t.Logf("%s: %d lines above %g dB within %.6f dB and %.6f Hz, left %.1f dB, over %.2f s", what, lines, floor, db, hz, left, th.e.sound.seconds)
	above := 0
	for i := range th.e.rows {
		if th.e.rows[i].Level >= floor {
			above++
		}
	}
	if len(th.e.is.Why) > 0 || lines == 0 || lines != above || db > within || hz > 0.01 {
		th.t.Errorf("%s: %d of %d lines read, within %.6f dB and %.6f Hz, why %q; want %g dB and 0.01 Hz", what, lines, above, db, hz, th.e.is.Why, within)
	}
}
