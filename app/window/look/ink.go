package look

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
)

// Ink is the palette of a theme. Text colours have a contrast of at least 4.5
// to 1 against both grounds, lines one of 3 to 1 (WCAG 2.2, success criteria
// 1.4.3 and 1.4.11); on a chosen row that holds for text in Drawn, Quiet and the
// probes' colours, and for lines. Faint is the ruling of the paper and Wash tells
// nothing alone: what they say stands in figures, or in a word, beside them.
type Ink struct {
	Name string // "soot" or "paper"

	Ground color.NRGBA // what everything stands on
	Block  color.NRGBA // the inside of a module, an entry or a chosen row

	Drawn color.NRGBA // text, traces, index lines, outlines of what is chosen
	Quiet color.NRGBA // text that explains
	Line  color.NRGBA // outlines, rules, divisions that carry meaning
	Faint color.NRGBA // the ruling of the paper, which carries none
	Wash  color.NRGBA // behind a chosen row or a selected text

	ProbeA     color.NRGBA // vermilion
	ProbeB     color.NRGBA // Prussian blue
	Modulation color.NRGBA // ochre
	Band       color.NRGBA // ochre, laid over a scale where modulation has been
}

// Soot is bone on lampblack, as if scratched into it.
var Soot = Ink{
	Name:   "soot",
	Ground: rgb(0x15130F), Block: rgb(0x1C1915),
	Drawn: rgb(0xECE5D6), Quiet: rgb(0x9C9282), Line: rgb(0x7D7566), Faint: rgb(0x2A2620), Wash: rgb(0x302A22),
	ProbeA: rgb(0xF2694D), ProbeB: rgb(0x79AEE3), Modulation: rgb(0xD9A441), Band: color.NRGBA{0xD9, 0xA4, 0x41, 0x70},
}

// Paper is ink on laid paper.
var Paper = Ink{
	Name:   "paper",
	Ground: rgb(0xF3ECDD), Block: rgb(0xFAF5E9),
	Drawn: rgb(0x1B1916), Quiet: rgb(0x6A6152), Line: rgb(0x857B6A), Faint: rgb(0xDDD3BF), Wash: rgb(0xEAE0CC),
	ProbeA: rgb(0xB8341C), ProbeB: rgb(0x1F4E80), Modulation: rgb(0x8A620F), Band: color.NRGBA{0xC9, 0x93, 0x26, 0x78},
}

// Now returns the palette of the theme that the program shows at the moment.
// Objects ask for it whenever they are refreshed and keep no colour.
func Now() *Ink {
	app := fyne.CurrentApp()
	if app == nil {
		return &Soot
	}
	settings := app.Settings()
	if t, ok := settings.Theme().(*lampblack); ok {
		return t.ink(settings.ThemeVariant())
	}
	return inkFor(settings.ThemeVariant())
}

func inkFor(v fyne.ThemeVariant) *Ink {
	if v == theme.VariantLight {
		return &Paper
	}
	return &Soot
}

func rgb(hex uint32) color.NRGBA {
	return color.NRGBA{uint8(hex >> 16), uint8(hex >> 8), uint8(hex), 0xFF}
}

// Fade returns c with its opacity multiplied by part, 0 to 1.
func Fade(c color.NRGBA, part float64) color.NRGBA {
	c.A = uint8(float64(c.A)*min(max(part, 0), 1) + 0.5)
	return c
}
