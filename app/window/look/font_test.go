package look

import (
	"bytes"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"golang.org/x/image/font/sfnt"
)

// A character that a font lacks would be taken from whatever font the machine
// happens to have, so the program shows none of those.
const shown = "ABCXYZabcxyz0123456789 .,;:!?()[]+-−×÷=±/%&'\"“”‘’–—…·°µ¼½¾→←↑↓♯♭ÄÖÜäöüßéèñçåøŁłŠšΔαβτω≤≥≈√∞★"

func TestFontsHaveEveryCharacterShown(t *testing.T) {
	for _, f := range []fyne.Resource{textFont, italicFont, semiboldFont, capsFont, figuresFont} {
		parsed, err := sfnt.Parse(f.Content())
		if err != nil {
			t.Fatalf("%s: %v", f.Name(), err)
		}
		for _, r := range shown {
			if (r == '♯' || r == '♭') && (f == italicFont || f == semiboldFont) {
				continue // the original has none; pitches are set in figures or text
			}
			if g, err := parsed.GlyphIndex(nil, r); err != nil || g == 0 {
				t.Errorf("%s has no %q", f.Name(), r)
			}
		}
		name, err := parsed.Name(nil, sfnt.NameIDFamily)
		if err != nil || bytes.Contains([]byte(name), []byte("Libertine")) {
			t.Errorf("%s is called %q; the name Linux Libertine is reserved (OFL 1.1, clause 3)", f.Name(), name)
		}
	}
}

func TestFiguresStandUnderEachOther(t *testing.T) {
	test.NewTempApp(t)
	test.ApplyTheme(t, Theme("soot"))
	want := Figures.Measure("00000").Width
	for _, text := range []string{"11111", "12345", "98706", "−4444", "+7777"} {
		if got := Figures.Measure(text).Width; got < want-0.1 || got > want+0.1 {
			t.Errorf("%q is %g wide, 00000 is %g", text, got, want)
		}
	}
}
