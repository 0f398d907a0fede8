package picture

import (
	"image/color"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"lampblack/scope/picture/contrast"
)

func TestPrintedInksCanBeRead(t *testing.T) {
	for _, ink := range []*Ink{&Soot, &Paper} {
		for _, c := range []struct {
			what   string
			colour color.NRGBA
			least  float64
			source string
		}{
			{"words", ink.Drawn, 4.5, "WCAG 2.2, 1.4.3"},
			{"words that explain, numbers", ink.Quiet, 4.5, "WCAG 2.2, 1.4.3"},
			{"words of a modulation", ink.Modulation, 4.5, "WCAG 2.2, 1.4.3"},
			{"words of A", ink.Left, 4.5, "WCAG 2.2, 1.4.3"},
			{"words of B", ink.Right, 4.5, "WCAG 2.2, 1.4.3"},
			{"axes", ink.Line, 3, "WCAG 2.2, 1.4.11"},
			{"the left channel's peaks", ink.thin(ink.Left), 3, "WCAG 2.2, 1.4.11"},
			{"the right channel's peaks", ink.thin(ink.Right), 3, "WCAG 2.2, 1.4.11"},
			{"the strongest shade of a spectrogram", palette(*ink)[shades-1].(color.NRGBA), 4.5, "WCAG 2.2, 1.4.11"},
		} {
			if got := contrast.Ratio(c.colour, ink.Ground); got < c.least {
				t.Errorf("%s: %s have a contrast of %.2f; at least %g (%s)", ink.Name, c.what, got, c.least, c.source)
			}
		}
	}
}

// What moves lies on a hem of the ground's colour, which is what is next to it on
// every shade of a spectrogram: its own contrast to the ground is what counts.
func TestMovementsHaveAHem(t *testing.T) {
	for _, name := range []string{"spectrogram", "spectrogram, stereo", "frames"} {
		for _, ink := range []*Ink{&Soot, &Paper} {
			s, found := asSVG(t, everyPicture()[name], Options{Ink: ink}), 0
			for i, p := range s.paths {
				at := p.points
				if !strings.Contains(p.style, "stroke:"+hex(ink.Modulation)) || len(at) > 1 && at[0][1] == at[len(at)-1][1] {
					continue // the key's
				}
				found++
				if under := s.paths[i-1]; !strings.Contains(under.style, "stroke:"+hex(ink.Ground)) || under.points[0] != at[0] {
					t.Errorf("%s, %s: a movement lies on no hem", name, ink.Name)
				}
			}
			if found == 0 {
				t.Errorf("%s, %s: nothing moves", name, ink.Name)
			}
		}
	}
}

var dashOf = regexp.MustCompile(`stroke-dasharray="([^"]*)"|stroke-dasharray:([^;]*)`)

// Of two curves in one field no two are of one dash: what colour tells is told in
// black and white as well. The key has the same lines as the curves. Curves are
// the paths of more than 20 points; a waveform's two channels stand in fields of
// their own, which bear their names.
func TestCurvesDifferByDash(t *testing.T) {
	for name, draw := range everyPicture() {
		if strings.HasPrefix(name, "waveform") {
			continue
		}
		for _, ink := range []*Ink{&Soot, &Paper} {
			s := asSVG(t, draw, Options{Ink: ink, Width: 800, Height: 500})
			colourOf := map[string]string{}
			for _, p := range s.paths {
				if len(p.points) <= 20 || !strings.Contains(p.style, "stroke:#") || strings.Contains(p.style, "stroke:none") {
					continue
				}
				colour := strings.ToUpper(strings.SplitN(strings.SplitN(p.style, "stroke:", 2)[1], ";", 2)[0])
				if name == "modulation" || strings.HasPrefix(name, "summary") && colour == hex(ink.Modulation) {
					continue // a drawing of its own in each row
				}
				dash := ""
				if m := dashOf.FindStringSubmatch(p.style); m != nil {
					dash = m[1] + m[2]
				}
				key := dash
				if strings.HasPrefix(name, "summary") || strings.HasPrefix(name, "envelope") {
					key += side(colour, ink) // several fields, and peaks of the colour of their channel
				}
				if was, ok := colourOf[key]; ok && was != colour && key == dash {
					t.Errorf("%s, %s: curves of %s and %s have the dash %q", name, ink.Name, was, colour, dash)
				}
				colourOf[key] = colour
				if right := colour == hex(ink.Right) || colour == hex(ink.thin(ink.Right)); right != (dash != "") && !strings.HasPrefix(name, "lines") && (right || colour == hex(ink.Left)) {
					t.Errorf("%s, %s: a curve of %s has the dash %q", name, ink.Name, colour, dash)
				}
			}
		}
	}
}

// side names the channel that a colour belongs to.
func side(colour string, ink *Ink) string {
	switch colour {
	case hex(ink.Left), hex(ink.thin(ink.Left)):
		return "left"
	case hex(ink.Right), hex(ink.thin(ink.Right)):
		return "right"
	}
	return colour
}

func hex(c color.NRGBA) string {
	const digits = "0123456789ABCDEF"
	text := "#"
	for _, v := range []uint8{c.R, c.G, c.B} {
		text += string(digits[v>>4]) + string(digits[v&15])
	}
	return text
}

// Words of another size are as much larger as was asked for: the SVG tells their
// size. The largest and the smallest still fit on a page.
func TestWordsCanBeEnlarged(t *testing.T) {
	sizes := regexp.MustCompile(`font-size:([0-9.]+)px|font-size="([0-9.]+)`)
	small := Options{Width: 800, Height: 500}
	for name, draw := range everyPicture() {
		want := 1.5
		if strings.HasPrefix(name, "summary") {
			want = MaxSummaryText
			if err := draw(io.Discard, Options{Text: 1.5}); err == nil {
				t.Errorf("%s was drawn with words that leave no room for pictures", name)
			}
		}
		usual, large := asSVG(t, draw, small), asSVG(t, draw, Options{Text: want, Width: 800, Height: 500})
		a, b := sizes.FindStringSubmatch(string(usual.bytes)), sizes.FindStringSubmatch(string(large.bytes))
		if a == nil || b == nil {
			t.Fatalf("%s: no size of words is told", name)
		}
		if ratio := number64(t, b[1]+b[2]) / number64(t, a[1]+a[2]); math.Abs(ratio-want) > 0.01 {
			t.Errorf("%s: words are %.3f times as large", name, ratio)
		}
	}
	if err := everyPicture()["scope"](io.Discard, Options{Text: 4}); err == nil {
		t.Error("words four times as large were drawn")
	}
}

func number64(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}
