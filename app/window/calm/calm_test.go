package calm

import (
	"image"
	"image/color"
	"math"
	"testing"
	"time"
)

var bone, soot = color.NRGBA{0xEC, 0xE5, 0xD6, 0xFF}, color.NRGBA{0x15, 0x13, 0x0F, 0xFF}

// painted is a picture of 700 x 400 units; lit tells what is lit.
func painted(lit func(x, y int) bool) *image.RGBA {
	frame := image.NewRGBA(image.Rect(0, 0, 700, 400))
	for y := range 400 {
		for x := range 700 {
			if lit(x, y) {
				frame.Set(x, y, bone)
			}
		}
	}
	return frame
}

// shown plays 4 s of frames, 30 a second, through a guard, and returns the most
// changes over an area in any second, and how many frames waited. It counts with a
// meter of its own, from what is on the screen.
func shown(frame func(second float64) *image.RGBA) (most, waited int) {
	var g Guard
	var m Meter
	var changes []time.Duration
	onScreen := frame(0)
	for i := range 120 {
		now := time.Duration(i) * time.Second / 30
		if g.Waits(now) {
			waited++
		} else {
			onScreen = frame(now.Seconds())
			g.Saw(onScreen, soot, 1, now)
		}
		if m.Saw(onScreen, soot, 1) {
			changes = append(changes, now)
		}
	}
	for i := range changes {
		n := 0
		for _, at := range changes[i:] {
			if at-changes[i] < time.Second {
				n++
			}
		}
		most = max(most, n)
	}
	return most, waited
}

// Whatever its rate, a field that flickers makes no more than three flashes, six
// opposing changes, in any second (WCAG 2.2, 2.3.1).
func TestAFieldThatFlickersIsHeld(t *testing.T) {
	on, off := painted(func(x, y int) bool { return x < 400 && y < 300 }), painted(func(int, int) bool { return false })
	for _, hz := range []float64{0.5, 1, 1.5, 2, 2.5, 3, 3.5, 4, 5, 6, 7, 8, 10, 12.5, 15} {
		most, waited := shown(func(second float64) *image.RGBA {
			if math.Mod(second*hz, 1) < 0.5 {
				return on
			}
			return off
		})
		if most > 2*Flashes {
			t.Errorf("at %g Hz there are %d changes in a second; at most %d", hz, most, 2*Flashes)
		}
		if hz <= 1 && waited > 0 {
			t.Errorf("at %g Hz %d frames wait", hz, waited)
		}
		if hz == 10 && waited == 0 {
			t.Error("at 10 Hz nothing waits")
		}
	}
}

// What is small, thin, fine or drifts is not held up: it is no flash.
func TestWhatIsNoFlashIsNotHeld(t *testing.T) {
	for name, frame := range map[string]func(second float64) *image.RGBA{
		"a trace that jumps from edge to edge, 7 times a second": func(second float64) *image.RGBA {
			at := 20
			if math.Mod(second*7, 1) < 0.5 {
				at = 380
			}
			return painted(func(_, y int) bool { return y == at })
		},
		"a quarter of the rectangle, less a bit": func(second float64) *image.RGBA {
			on := math.Mod(second*7, 1) < 0.5
			return painted(func(x, y int) bool { return on && x < 160 && y < 128 })
		},
		// With each of 30 frames a tenth of the area rises: they do not rise together.
		"stripes of 40 units that drift, 3 a second": func(second float64) *image.RGBA {
			return painted(func(x, _ int) bool { return math.Mod(float64(x)/40+second*3, 1) < 0.4 })
		},
		"a balanced pattern of 2 units that turns": func(second float64) *image.RGBA {
			turn := int(second * 14)
			return painted(func(x, y int) bool { return (x/2+y/2+turn)%2 == 0 })
		},
	} {
		if _, waited := shown(frame); waited > 0 {
			t.Errorf("%s: %d frames wait", name, waited)
		}
	}
}

// The areas that the meter tells are those that were painted.
func TestTheMeterTellsTheArea(t *testing.T) {
	for _, unit := range []float64{1, 2} {
		var m Meter
		dark := image.NewRGBA(image.Rect(0, 0, int(700*unit), int(400*unit)))
		light := image.NewRGBA(dark.Bounds())
		for y := range int(80 * unit) {
			for x := range int(120 * unit) {
				light.Set(x, y, bone)
			}
		}
		m.Saw(dark, soot, unit)
		m.Saw(light, soot, unit)
		if want := 120. * 80 / (341 * 256); math.Abs(m.Rises-want) > 0.001 || m.Falls != 0 {
			t.Errorf("%.4f of the rectangle rose, %.4f fell; want %.4f", m.Rises, m.Falls, want)
		}
		m.Saw(dark, soot, unit)
		if m.Rises != 0 || m.Falls == 0 {
			t.Errorf("back again %.4f rise and %.4f fall", m.Rises, m.Falls)
		}
	}
}

// Two pictures beside each other that share their turns are drawn in the same ones,
// and make no more changes than one would.
func TestPicturesBesideEachOtherWaitTogether(t *testing.T) {
	var turns Turns
	guards := []*Guard{{Turns: &turns}, {Turns: &turns}}
	on, off := painted(func(int, int) bool { return true }), painted(func(int, int) bool { return false })
	drawn := [2][]int{}
	for i := range 60 {
		for k, g := range guards {
			now := time.Duration(i)*time.Second/30 + time.Duration(k)*5*time.Millisecond
			if !g.Waits(now) {
				drawn[k] = append(drawn[k], i)
				g.Saw([]*image.RGBA{on, off}[(i/2+k)%2], soot, 1, now)
			}
		}
	}
	a, b := drawn[0], drawn[1]
	if len(a) == 60 || len(b) < 6 {
		t.Errorf("%d and %d of 60 frames are drawn", len(a), len(b))
	}
	for i := 1; i <= min(len(a), len(b), 4); i++ { // once they are held
		if a[len(a)-i] != b[len(b)-i] {
			t.Errorf("one is drawn in frame %d, the other in %d", a[len(a)-i], b[len(b)-i])
		}
	}
}

// A picture that has waited is told, once it may be drawn.
func TestWhatWaitedIsLate(t *testing.T) {
	var g Guard
	on, off := painted(func(int, int) bool { return true }), painted(func(int, int) bool { return false })
	now := time.Duration(0)
	for i := 0; !g.Waits(now); i++ {
		g.Saw([]*image.RGBA{on, off}[i%2], soot, 1, now)
		now += 33 * time.Millisecond
	}
	if g.Late(now) {
		t.Error("it is late at once")
	}
	if now += hold; !g.Late(now) || g.Waits(now) {
		t.Error("it waits for ever")
	}
	g.Saw(on, soot, 1, now)
	if g.Late(now + time.Second) {
		t.Error("what was drawn is late")
	}
}

func BenchmarkGuard(b *testing.B) {
	var g Guard
	frame := painted(func(x, y int) bool { return (x+y)%9 == 0 })
	for b.Loop() {
		g.Saw(frame, soot, 1, g.drawn+33*time.Millisecond)
	}
}
