package look

import (
	"image/color"
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"

	"lampblack/scope/picture/contrast"
)

// Every pair of colours that text or lines are seen in. Source: WCAG 2.2, 1.4.3
// (text) and 1.4.11 (what is needed to understand a picture or to find a control).
func TestEveryInkCanBeRead(t *testing.T) {
	const text, line = 4.5, 3.
	for _, ink := range []Ink{Soot, Paper} {
		grounds := map[string]color.NRGBA{"the ground": ink.Ground, "a block": ink.Block, "a chosen row": ink.Wash}
		band := over(ink.Band, ink.Ground)
		for _, pair := range []struct {
			what   string
			colour color.NRGBA
			least  float64
			on     []string
		}{
			{"text", ink.Drawn, text, []string{"the ground", "a block", "a chosen row"}},
			{"quiet text", ink.Quiet, text, []string{"the ground", "a block", "a chosen row"}},
			{"text of probe A", ink.ProbeA, text, []string{"the ground", "a block", "a chosen row"}},
			{"text of probe B", ink.ProbeB, text, []string{"the ground", "a block", "a chosen row"}},
			{"text of a modulation", ink.Modulation, text, []string{"the ground", "a block"}},
			{"the line of a modulation", ink.Modulation, line, []string{"the ground", "a block", "a chosen row"}},
			{"lines", ink.Line, line, []string{"the ground", "a block", "a chosen row"}},
		} {
			for _, on := range pair.on {
				if got := contrast.Ratio(pair.colour, grounds[on]); got < pair.least {
					t.Errorf("%s: %s has a contrast of %.2f to %s; at least %g", ink.Name, pair.what, got, on, pair.least)
				}
			}
		}
		// A swept range lies over a scale: its edges are lines of modulation, and on it
		// stand the setting and the value now.
		for what, c := range map[string]color.NRGBA{"the setting": ink.Drawn, "the value now": ink.Modulation} {
			if got := contrast.Ratio(c, band); got < line {
				t.Errorf("%s: %s has a contrast of %.2f to the swept range", ink.Name, what, got)
			}
		}
	}
}

// over is a colour that lets some of the ground through.
func over(c, ground color.NRGBA) color.NRGBA {
	mix := func(a, b uint8) uint8 { return uint8((uint32(a)*uint32(c.A) + uint32(b)*(255-uint32(c.A))) / 255) }
	return color.NRGBA{mix(c.R, ground.R), mix(c.G, ground.G), mix(c.B, ground.B), 0xFF}
}

// The toolkit's own widgets are held to the same: text in a field, in a dialog, on
// a selection, on a button; bars to scroll with.
func TestTheToolkitsWidgetsCanBeRead(t *testing.T) {
	for i, v := range []fyne.ThemeVariant{theme.VariantDark, theme.VariantLight} {
		ink, themed := []Ink{Soot, Paper}[i], Theme("")
		at := func(name fyne.ThemeColorName) color.NRGBA {
			return over(color.NRGBAModel.Convert(themed.Color(name, v)).(color.NRGBA), ink.Ground)
		}
		overlay := at(theme.ColorNameOverlayBackground)
		for _, c := range []struct {
			what  string
			a, b  color.NRGBA
			least float64
		}{
			{"text", at(theme.ColorNameForeground), at(theme.ColorNameBackground), 4.5},
			{"text in a field", at(theme.ColorNameForeground), at(theme.ColorNameInputBackground), 4.5},
			{"what stands in an empty field", at(theme.ColorNamePlaceHolder), at(theme.ColorNameInputBackground), 4.5},
			{"text in a dialog", at(theme.ColorNameForeground), overlay, 4.5},
			{"quiet text in a dialog", at(theme.ColorNameDisabled), overlay, 4.5},
			{"text on a main button", at(theme.ColorNameForegroundOnPrimary), at(theme.ColorNamePrimary), 4.5},
			{"selected text", at(theme.ColorNameForeground), over(themed.Color(theme.ColorNameSelection, v).(color.NRGBA), ink.Block), 4.5},
			{"the border of a field", at(theme.ColorNameInputBorder), at(theme.ColorNameBackground), 3},
			{"a scroll bar", at(theme.ColorNameScrollBar), at(theme.ColorNameBackground), 3},
		} {
			if got := contrast.Ratio(c.a, c.b); got < c.least {
				t.Errorf("%s: %s has a contrast of %.2f; at least %g", ink.Name, c.what, got, c.least)
			}
		}
	}
}

// A colour that only hue tells apart is lost in black and white and to many
// eyes: the two probes and modulation also differ in lightness from the paper,
// and A from B by at least a tenth of the way from black to white (L* of CIE
// 15:2004, from Y).
func TestProbesDifferInLightness(t *testing.T) {
	lightness := func(c color.NRGBA) float64 { return 116*math.Cbrt(contrast.Luminance(c)) - 16 }
	for _, ink := range []Ink{Soot, Paper} {
		if d := math.Abs(lightness(ink.ProbeA) - lightness(ink.ProbeB)); d < 8 {
			t.Errorf("%s: probes A and B differ by %.1f L*", ink.Name, d)
		}
	}
}

func TestThemeFollowsTheDesktopUnlessChosen(t *testing.T) {
	for _, c := range []struct {
		name string
		dark bool
		want *Ink
	}{{"", true, &Soot}, {"", false, &Paper}, {"soot", false, &Soot}, {"paper", true, &Paper}, {"nonsense", true, &Soot}} {
		v := theme.VariantLight
		if c.dark {
			v = theme.VariantDark
		}
		if got := Theme(c.name).Color(theme.ColorNameBackground, v); got != c.want.Ground {
			t.Errorf("theme %q, dark %v: ground is %v, want that of %s", c.name, c.dark, got, c.want.Name)
		}
	}
}

func TestThemeKnowsEveryColourOfFyne(t *testing.T) {
	for _, name := range Names {
		test.AssertAllColorNamesDefined(t, Theme(name), name)
	}
}
