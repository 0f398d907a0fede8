package look

import (
	"image/color"
	"math"
	"testing"

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

func TestEveryInkCanBeRead(t *testing.T) {
	for _, ink := range []Ink{Soot, Paper} {
		for _, pair := range []struct {
			what   string
			colour color.NRGBA
			least  float64
			source string
		}{
			{"text", ink.Drawn, 4.5, "WCAG 2.1, 1.4.3"},
			{"quiet text", ink.Quiet, 4.5, "WCAG 2.1, 1.4.3"},
			{"text of probe A", ink.ProbeA, 4.5, "WCAG 2.1, 1.4.3"},
			{"text of probe B", ink.ProbeB, 4.5, "WCAG 2.1, 1.4.3"},
			{"text of a modulation", ink.Modulation, 4.5, "WCAG 2.1, 1.4.3"},
			{"lines", ink.Line, 3, "WCAG 2.1, 1.4.11"},
		} {
			for _, ground := range []color.NRGBA{ink.Ground, ink.Block} {
				if got := contrast(pair.colour, ground); got < pair.least {
					t.Errorf("%s: %s has a contrast of %.2f to %v; at least %g (%s)", ink.Name, pair.what, got, ground, pair.least, pair.source)
				}
			}
		}
		if got := contrast(ink.Drawn, ink.Wash); got < 4.5 {
			t.Errorf("%s: text on a chosen row has a contrast of %.2f", ink.Name, got)
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
