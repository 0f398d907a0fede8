package movement

import (
	"testing"

	"lampblack/app/desk"
	"lampblack/app/window/look/golden"
	"lampblack/app/window/windowtest"
	"lampblack/patch"
)

// busy is a bench with everything that a row can show.
func busy(t testing.TB, theme string) *page {
	g := open(t, theme, "slow", "oscillator", "oscillator", "hold", "filter", "envelope", "amplifier")
	for _, names := range [][2]string{{"slow", "sway"}, {"oscillator", "bronze"}, {"oscillator 2", "clapper"}, {"filter", "reed"}, {"amplifier", "vent"}} {
		g.does(desk.RenameModule(names[0], names[1]))
	}
	g.sets("sway", "rate", "1.5 Hz")
	g.sets("clapper", "frequency", "220 Hz")
	g.sets("bronze", "frequency", "1 kHz")
	g.sets("hold", "rate", "4 Hz")
	g.sets("reed", "cutoff", "9 kHz")
	g.joins("clapper/out", "bronze/frequency", "0.5 oct")
	g.joins("sway/out", "reed/cutoff", "1 oct")
	g.joins("hold/out", "reed/cutoff", "-0.6 oct")
	g.joins("envelope/out", "reed/cutoff", "0.3 oct")
	g.joins("hold/out", "reed/peak", "6 dB")
	g.joins("envelope/out", "vent/level", "1 x")
	g.joins("sway/out", "reed/width", "0.5 oct")
	return g
}

func TestPicture(t *testing.T) {
	for _, theme := range windowtest.Themes {
		for _, size := range []struct {
			name          string
			width, height float32
		}{{"", 520, 440}, {"-wide", 900, 560}} {
			g := busy(t, theme)
			w := g.Show(g.leaf, size.width, size.height)
			g.plate.Show(true)
			w.Canvas().Capture()
			g.NoteOn(0, 0.8)
			g.opens(3)
			g.NoteOff(0)
			g.sounds(1)
			g.plate.choose(1)
			for i, r := range g.plate.rows {
				if r.At == (patch.Socket{Module: "reed", Name: "cutoff"}) {
					g.plate.choose(i)
				}
			}
			g.sounds(3)
			g.Until("the full swings", func() bool { return g.plate.causes.List()[0].Worked })
			g.leaf.Refresh()
			golden.Check(t, theme+size.name+".png", w.Canvas())
		}
	}
}

func TestFortyRowsPicture(t *testing.T) {
	for _, theme := range windowtest.Themes {
		g := many(t, theme)
		w := g.Show(g.leaf, 480, 400)
		g.plate.Show(true)
		w.Canvas().Capture()
		g.opens(4)
		g.plate.choose(17)
		g.sounds(3)
		g.Until("the full swings", func() bool { return g.plate.causes.List()[0].Worked })
		g.leaf.Refresh()
		golden.Check(t, "forty-"+theme+".png", w.Canvas())
	}
}
