package picture

import (
	"bytes"
	"fmt"
	"io"

	"gonum.org/v1/plot/vg"
)

// amendments set right what gonum's SVG files (vgsvg, v0.17) say of what they
// carry: the images are PNG, and the fonts of the house OpenType.
var amendments = [][2]string{
	{"data:image/jpg;base64,iVBOR", "data:image/png;base64,iVBOR"},
	{"<image x=", `<image preserveAspectRatio="none" x=`}, // or a picture would not fill its field
	{"data:font/ttf;charset=utf-8;base64,T1RU", "data:font/otf;base64,T1RU"},
}

func (p *page) finishSVG(w io.Writer) error {
	var file bytes.Buffer
	if _, err := p.file.WriteTo(&file); err != nil {
		return err
	}
	svg := file.Bytes()
	for _, a := range amendments {
		svg = bytes.ReplaceAll(svg, []byte(a[0]), []byte(a[1]))
	}
	lines := bytes.Split(svg, []byte("\n"))
	texts := 0
	for i, l := range lines {
		switch {
		case bytes.Contains(l, []byte("data:font/otf")): // the format stands after the font's bytes
			lines[i] = bytes.Replace(l, []byte(`format("truetype")`), []byte(`format("opentype")`), 1)
		case bytes.HasPrefix(l, []byte("<text ")):
			// A program that does not read the fonts sets others as wide as these.
			lines[i] = anchored(l, p.said[texts])
			texts++
		}
	}
	_, err := w.Write(bytes.Join(lines, []byte("\n")))
	return err
}

// anchored lets a program that does not read the fonts set others as wide as
// these, or if it cannot do that either, at least from the same end.
func anchored(line []byte, s saying) []byte {
	line = line[len("<text "):]
	head := fmt.Sprintf(`<text textLength="%s" lengthAdjust="spacingAndGlyphs" `, digits(s.width))
	if name := anchors[s.part]; name != "" {
		var x float64
		if _, err := fmt.Sscanf(string(line), `x="%g"`, &x); err == nil {
			_, rest, _ := bytes.Cut(line[len(`x="`):], []byte(`"`))
			head += fmt.Sprintf(`text-anchor="%s" x="%s"`, name, digits(vg.Length(x)+vg.Length(s.part)*s.width))
			line = rest
		}
	}
	return append([]byte(head), line...)
}

// anchors are the ends from which words are set (SVG 1.1, 10.9.1).
var anchors = map[float64]string{float64(centre): "middle", float64(right): "end"}
