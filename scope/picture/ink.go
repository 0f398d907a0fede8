package picture

import "image/color"

// Ink is what a picture is drawn with. Words have a contrast of at least 4.5 to 1
// against the ground, lines that tell anything one of 3 to 1 (WCAG 2.2, 1.4.3 and
// 1.4.11); the ruling tells nothing that the marks at the axes do not.
type Ink struct {
	Name       string      // "paper" or "soot"
	Ground     color.NRGBA // what everything stands on
	Drawn      color.NRGBA // words, the strongest of a spectrogram
	Quiet      color.NRGBA // words that explain, numbers at the axes
	Line       color.NRGBA // axes
	Faint      color.NRGBA // ruling
	Left       color.NRGBA // the trace of the left or only channel, and of probe A
	Right      color.NRGBA // the trace of the right channel, and of probe B
	Modulation color.NRGBA // what moves a control
}

// The two inks of the house, those of the window.
var (
	// Paper is ink on laid paper.
	Paper = Ink{
		"paper", rgb(0xF3ECDD), rgb(0x1B1916), rgb(0x6A6152), rgb(0x857B6A), rgb(0xDDD3BF),
		rgb(0xB8341C), rgb(0x1F4E80), rgb(0x8A620F),
	}
	// Soot is bone on lampblack.
	Soot = Ink{
		"soot", rgb(0x15130F), rgb(0xECE5D6), rgb(0x9C9282), rgb(0x7D7566), rgb(0x2A2620),
		rgb(0xF2694D), rgb(0x79AEE3), rgb(0xD9A441),
	}
)

func rgb(hex uint32) color.NRGBA {
	return color.NRGBA{uint8(hex >> 16), uint8(hex >> 8), uint8(hex), 0xFF}
}

// thin returns the colour of a line that stands back behind another of that
// colour: three quarters of it, which is still 3 to 1 against the ground.
func (i *Ink) thin(c color.Color) color.NRGBA {
	return between(i.Ground, color.NRGBAModel.Convert(c).(color.NRGBA), 0.75)
}

// between returns the colour at part, 0 to 1, of the way from a to b.
func between(a, b color.NRGBA, part float64) color.NRGBA {
	mix := func(x, y uint8) uint8 { return uint8(float64(x) + part*(float64(y)-float64(x)) + 0.5) }
	return color.NRGBA{mix(a.R, b.R), mix(a.G, b.G), mix(a.B, b.B), 0xFF}
}
