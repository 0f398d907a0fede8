package picture

import (
	"fmt"
	"image/color"
	"regexp"
	"strings"
	"sync"
	"unicode"

	stdfont "golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/font/sfnt"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/font/liberation"
	"gonum.org/v1/plot/vg"

	"lampblack/assets"
)

// face is a way to set words.
type face int

const (
	text     face = iota // what is read
	italic               // what somebody wrote: a note
	semibold             // what is looked for
	caps                 // names, in small capitals
	figures              // values, in tabular figures
	foreign              // letters that the fonts of the house lack
)

var descriptions = [...]font.Font{
	text:     {Typeface: "Lampblack Text"},
	italic:   {Typeface: "Lampblack Text", Style: stdfont.StyleItalic},
	semibold: {Typeface: "Lampblack Text", Weight: stdfont.WeightSemiBold},
	caps:     {Typeface: "Lampblack Caps"},
	figures:  {Typeface: "Lampblack Figures"},
	foreign:  {Typeface: "Liberation", Variant: "Serif"},
}

// houseFonts reads the fonts of the house, once.
var houseFonts = sync.OnceValues(func() (*font.Cache, error) {
	faces := font.Collection{}
	for f, name := range []string{"Text-Regular", "Text-Italic", "Text-Semibold", "Caps-Regular", "Figures-Regular"} {
		file, err := assets.Files.ReadFile("fonts/Lampblack" + name + ".otf")
		if err != nil {
			return nil, fmt.Errorf("a font of the picture is not in the program: %w", err)
		}
		parsed, err := opentype.Parse(file)
		if err != nil {
			return nil, fmt.Errorf("the font %s of the picture cannot be read: %w", name, err)
		}
		faces = append(faces, font.Face{Font: descriptions[f], Face: parsed})
	}
	for _, f := range liberation.Collection() {
		if f.Font == descriptions[foreign] {
			faces = append(faces, f)
		}
	}
	return font.NewCache(faces), nil
})

// align is where a text stands to the place that is given for it.
type align float64

const (
	left   align = 0
	centre align = 0.5
	right  align = 1
)

// run is a part of a text that one font has all letters of.
type run struct {
	face  font.Face
	words string
	width vg.Length
}

// set breaks a text into runs, and returns how wide it is.
func (p *page) set(f face, size float64, words string) (runs []run, width vg.Length) {
	own, other := p.face(f, size), p.face(foreign, size)
	var buffer sfnt.Buffer
	begin := func(in font.Face, letters string) {
		w := in.Width(letters)
		runs, width = append(runs, run{in, letters, w}), width+w
	}
	var pending strings.Builder
	current := own
	for _, r := range words {
		if unicode.IsControl(r) || r == unicode.ReplacementChar {
			r = ' ' // no file may hold them
		}
		in := own
		if g, err := own.Face.GlyphIndex(&buffer, r); err != nil || g == 0 {
			in = other
		}
		if in.Face != current.Face && pending.Len() > 0 {
			begin(current, pending.String())
			pending.Reset()
		}
		current = in
		pending.WriteRune(r)
	}
	if pending.Len() > 0 {
		begin(current, pending.String())
	}
	return runs, width
}

func (p *page) face(f face, size float64) font.Face {
	return p.faces.Lookup(descriptions[f], p.pt(size))
}

// saying is how a run of words was set.
type saying struct {
	width vg.Length
	part  float64 // of the width that lies before the place that the words keep
}

// say draws one line of words with its base line at y and returns its width.
func (p *page) say(f face, size float64, c color.Color, x, y vg.Length, a align, words string) vg.Length {
	runs, width := p.set(f, size, words)
	x -= vg.Length(a) * width
	p.SetColor(c)
	for _, r := range runs {
		p.FillString(r.face, vg.Point{X: x, Y: y}, r.words)
		p.said = append(p.said, saying{r.width, alone(runs, a)})
		x += r.width
	}
	return width
}

// alone returns the alignment of words that are one run: those of several follow
// each other from the left.
func alone(runs []run, a align) float64 {
	if len(runs) > 1 {
		return 0
	}
	return float64(a)
}

// wide returns how wide words are.
func (p *page) wide(f face, size float64, words string) vg.Length {
	_, width := p.set(f, size, words)
	return width
}

// fit returns words cut with an ellipsis so that they are at most room wide.
func (p *page) fit(f face, size float64, words string, room vg.Length) string {
	if p.wide(f, size, words) <= room {
		return words
	}
	letters := []rune(words)
	lo, hi := 0, len(letters)
	for lo < hi { // the longest beginning that fits
		mid := (lo + hi + 1) / 2
		if p.wide(f, size, string(letters[:mid])+"…") <= room {
			lo = mid
		} else {
			hi = mid - 1
		}
	}
	if lo == 0 {
		return ""
	}
	return strings.TrimRight(string(letters[:lo]), " ,;:") + "…"
}

// wrap breaks words into at most most lines of that width; the last one ends in
// an ellipsis if not all was said.
func (p *page) wrap(f face, size float64, words string, room vg.Length, most int) []string {
	var lines []string
	for _, par := range strings.Split(strings.TrimSpace(words), "\n") {
		line := ""
		for _, word := range strings.Fields(unitBefore.ReplaceAllString(par, "$1"+glue+"$2$3")) {
			longer := strings.TrimSpace(line + " " + word)
			if line != "" && p.wide(f, size, longer) > room {
				lines = append(lines, line)
				longer = word
			}
			line = longer
		}
		if line != "" {
			lines = append(lines, line)
		}
	}
	if len(lines) > most {
		lines = lines[:most]
		if most > 0 {
			lines[most-1] = p.fit(f, size, lines[most-1]+" …", room)
		}
	}
	for i := range lines {
		lines[i] = p.fit(f, size, strings.ReplaceAll(lines[i], glue, " "), room)
	}
	return lines
}

// unitBefore finds a number and its unit, which no line's end may part.
var unitBefore = regexp.MustCompile(`(\d) (s|ms|min|Hz|kHz|dB|%|oct|cents?|semitones?|frames|LUFS)([\s,.;:)]|$)`)

// glue stands for the space between them while lines are broken.
const glue = "\x00"

var hyphen = regexp.MustCompile(`(^| )-(\d)`)

// signed gives the numbers in words that were typed the true minus sign.
func signed(words string) string { return hyphen.ReplaceAllString(words, "$1\u2212$2") }
