package instruments

import (
	"fmt"
	"image"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"lampblack/app/desk"
	"lampblack/app/window/calm"
	"lampblack/app/window/look"
	"lampblack/app/window/windowtest"
	"lampblack/patch"
	"lampblack/patch/kind"
)

// gated is noise that a pulse lets through and shuts off at a rate in Hz, and the
// pulse itself.
const gated = `{"lampblack patch": 1, "modules": [
  {"name": "hiss", "kind": "noise"},
  {"name": "beat", "kind": "oscillator", "settings": {"frequency": "%g Hz", "shape": "pulse"}},
  {"name": "gate", "kind": "amplifier", "settings": {"depth": "100 %%"}},
  {"name": "out", "kind": "output"}],
 "cords": [
  {"from": "hiss / out", "to": "gate / in"}, {"from": "beat / out", "to": "gate / modulation"},
  {"from": "gate / out", "to": "out / left"}]}`

// flashes plays 2 s on a large instrument and returns the most opposing changes of
// luminance over a quarter of 10 degrees in any second, measured in what is drawn.
func flashes(t *testing.T, theme string, which instrument, hz float64, probed string, set func(*switches)) (most int) {
	b := windowtest.New(t, theme)
	file, err := patch.Read([]byte(fmt.Sprintf(gated, hz)))
	if err != nil {
		t.Fatal(err)
	}
	file = patch.Resolve(file, kind.Catalogue)
	if !b.Do(desk.Edit{Name: "load", Apply: func(w *desk.Bench) error { w.Patch = file; return nil }}) {
		t.Fatal("the patch was refused")
	}
	b.SetProbe(desk.ProbeA, patch.Socket{Module: probed, Name: "out"})
	p := New(b.Session)
	w := b.Show(p.Large(), 1100, 640)
	p.set(set)
	p.Enlarge(which)
	w.Canvas().Capture() // the toolkit lays out: sizes are known from here on
	p.Beat()
	frame := map[instrument]func(w, h int) image.Image{
		ofScope: p.large.plates[ofScope].(*scopePlate).picture.draw, ofSpectrum: p.large.plates[ofSpectrum].(*spectrumPlate).picture.draw, ofGram: p.measure.gram.draw,
	}[which]
	size := map[instrument]func() (w, h int){
		ofScope:    func() (int, int) { return sizeOf(p.large.plates[ofScope].(*scopePlate).picture.raster) },
		ofSpectrum: func() (int, int) { return sizeOf(p.large.plates[ofSpectrum].(*spectrumPlate).picture.raster) },
		ofGram:     func() (int, int) { return sizeOf(p.measure.gram.raster) },
	}[which]
	wide, high := size()
	var meter calm.Meter
	var changes []int
	for i := range 60 {
		b.Listen(1.0 / 30)
		now += time.Second / 30
		p.Beat()
		if meter.Saw(frame(wide, high).(*image.RGBA), look.Now().Ground, 1) {
			changes = append(changes, i)
		}
	}
	for k, first := range changes {
		n := 0
		for _, at := range changes[k:] {
			if at-first < 30 {
				n++
			}
		}
		most = max(most, n)
	}
	return most
}

var now time.Duration // of the tests' own clock

// The worst that the instruments can be given: squares and bursts of noise at the
// rates to which people are most sensitive, on the largest picture, with afterglow
// and without, and clicks in a spectrogram. WCAG 2.2, 2.3.1: three flashes, six
// opposing changes, in any second at most. Without the guard some of these flash
// more often: the last lines hold that, or the test could not fail.
func TestNothingFlashes(t *testing.T) {
	defer func(was func() time.Duration) { calm.Clock = was }(calm.Clock)
	cases := []struct {
		name   string
		which  instrument
		probed string
		set    func(*switches)
	}{
		{"a square on the scope, with afterglow", ofScope, "beat", func(w *switches) { w.fade, w.time, w.value[0] = 1, 5e-3, 0.25 }},
		{"bursts of noise on the scope", ofScope, "gate", func(w *switches) { w.time = 5e-3 }},
		{"bursts of noise on the scope, with afterglow", ofScope, "gate", func(w *switches) { w.time, w.fade = 5e-3, 0.1 }},
		{"bursts of noise in the spectrum", ofSpectrum, "gate", func(*switches) {}},
		{"bursts of noise in the spectrogram", ofGram, "gate", func(w *switches) { w.gramTime = 5 }},
	}
	unguarded := 0
	for _, theme := range windowtest.Themes {
		for _, hz := range []float64{5, 7.5, 10} {
			if hz != 7.5 && theme != "soot" {
				continue // what one theme brightens the other darkens
			}
			for _, c := range cases {
				set := func(w *switches) { *w = usual(); c.set(w) }
				calm.Clock = func() time.Duration { return now }
				if most := flashes(t, theme, c.which, hz, c.probed, set); most > 2*calm.Flashes {
					t.Errorf("%s, %s at %g Hz: %d opposing changes in a second; at most %d", theme, c.name, hz, most, 2*calm.Flashes)
				}
				if hz == 7.5 {
					calm.Clock = func() time.Duration { now += time.Hour; return now } // it never waits
					most := flashes(t, theme, c.which, hz, c.probed, set)
					t.Logf("%s, %s at %g Hz: unguarded %d opposing changes in a second", theme, c.name, hz, most)
					unguarded = max(unguarded, most)
				}
			}
		}
	}
	if unguarded <= 2*calm.Flashes {
		t.Errorf("without the guard there are %d opposing changes: the worst case is none", unguarded)
	}
}

func sizeOf(o interface{ Size() fyne.Size }) (w, h int) {
	return int(o.Size().Width), int(o.Size().Height)
}
