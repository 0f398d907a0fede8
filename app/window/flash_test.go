package window

import (
	"image"
	"image/draw"
	"testing"
	"time"

	"lampblack/app/desk"
	"lampblack/app/window/calm"
	"lampblack/app/window/look"
	"lampblack/patch"
	"lampblack/patch/kind"
)

// blinking is a patch all of whose cords carry squares of 7.5 Hz at full scale, or
// bursts of noise: the traces on the sheet, the swept ranges, the column of
// instruments and the levels all move as violently as they can.
const blinking = `{"lampblack patch": 1, "modules": [
  {"name": "beat", "kind": "oscillator", "at": [24, 40], "settings": {"frequency": "7.5 Hz", "shape": "pulse"}},
  {"name": "hiss", "kind": "noise", "at": [24, 260]},
  {"name": "gate", "kind": "amplifier", "at": [264, 40], "settings": {"depth": "100 %"}},
  {"name": "tone", "kind": "oscillator", "at": [264, 260], "settings": {"frequency": "200 Hz"}},
  {"name": "out", "kind": "output", "at": [504, 40]}],
 "cords": [
  {"from": "hiss / out", "to": "gate / in"}, {"from": "beat / out", "to": "gate / modulation"},
  {"from": "beat / out", "to": "tone / frequency", "depth": "+3 oct"},
  {"from": "beat / out", "to": "gate / level", "depth": "+1 x"},
  {"from": "gate / out", "to": "out / left"}, {"from": "tone / out", "to": "out / right"}]}`

// WCAG 2.2, 2.3.1, for the page as a whole, as it is on the screen: three flashes,
// six opposing changes, in any second at most, over more than a quarter of any 10
// degrees.
func TestThePageDoesNotFlash(t *testing.T) {
	b, w := sit(t, "soot", 1280, 800)
	p, err := patch.Read([]byte(blinking))
	if err != nil {
		t.Fatal(err)
	}
	p = patch.Resolve(p, kind.Catalogue)
	if !b.Do(desk.Edit{Name: "load", Apply: func(w *desk.Bench) error { w.Patch = p.Clone(); return nil }}) {
		t.Fatal(b.Notices(desk.AtSheet))
	}
	b.SetProbe(desk.ProbeA, patch.Socket{Module: "gate", Name: "out"})
	b.SetProbe(desk.ProbeB, patch.Socket{Module: "beat", Name: "out"})
	b.Select(desk.Selection{Modules: []string{"tone"}, Cord: -1, Note: -1})
	defer func(was func() time.Duration) { calm.Clock = was }(calm.Clock)
	now := time.Duration(0)
	calm.Clock = func() time.Duration { return now }
	play(b, 0.5)
	var m calm.Meter
	var page *image.RGBA
	changes, largest, moved := 0, 0.0, false
	for range 30 { // a second
		now += time.Second / 30
		play(b, 1.0/30)
		shot := w.Canvas().Capture()
		last := page
		page = image.NewRGBA(shot.Bounds())
		draw.Draw(page, page.Bounds(), shot, shot.Bounds().Min, draw.Src)
		moved = moved || last != nil && string(last.Pix) != string(page.Pix)
		if m.Saw(page, look.Now().Ground, 1) {
			changes++
		}
		largest = max(largest, m.Rises, m.Falls)
	}
	if changes > 2*calm.Flashes {
		t.Errorf("%d opposing changes; at most %d", changes, 2*calm.Flashes)
	}
	if !moved {
		t.Error("nothing on the page moves: the test says nothing")
	}
	t.Logf("%d opposing changes; the largest part of 10 degrees that changed with one frame is %.1f %%", changes, 100*largest)
}
