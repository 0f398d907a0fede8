package look

import (
	"image/color"
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"
)

// luminance is the relative luminance of WCAG 2.1 ("relative luminance",
// section 3 Glossary), written from its formula.
func luminance(c color.NRGBA) float64 {
	channel := func(v uint8) float64 {
		s := float64(v) / 255
		if s <= 0.03928 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	return 0.2126*channel(c.R) + 0.7152*channel(c.G) + 0.0722*channel(c.B)
}

// contrast is the contrast ratio of WCAG 2.1, section 3 Glossary.
func contrast(a, b color.NRGBA) float64 {
	la, lb := luminance(a), luminance(b)
	return (max(la, lb) + 0.05) / (min(la, lb) + 0.05)
}

func TestContrastOfWhiteAndBlackIs21(t *testing.T) {
	if got := contrast(rgb(0xFFFFFF), rgb(0)); math.Abs(got-21) > 1e-9 {
		t.Errorf("contrast of white and black is %g; WCAG 2.1 says 21", got)
	}
}

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
				if got := contrast(pair.colour, grounds[on]); got < pair.least {
					t.Errorf("%s: %s has a contrast of %.2f to %s; at least %g", ink.Name, pair.what, got, on, pair.least)
				}
			}
		}
		// A swept range lies over a scale: its edges are lines of modulation, and on it
		// stand the setting and the value now.
		for what, c := range map[string]color.NRGBA{"the setting": ink.Drawn, "the value now": ink.Modulation} {
			if got := contrast(c, band); got < line {
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
			if got := contrast(c.a, c.b); got < c.least {
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
	lightness := func(c color.NRGBA) float64 { return 116*math.Cbrt(luminance(c)) - 16 }
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
