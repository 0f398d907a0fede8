package picture

import (
	"bytes"
	"io"
)

// amendments set right what gonum's SVG files (vgsvg, v0.17) say of what they
// carry: the images are PNG, and the fonts of the house OpenType.
var amendments = [][2]string{
	{"data:image/jpg;base64,iVBOR", "data:image/png;base64,iVBOR"},
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
	// The format stands after the font's bytes, up to a line's end.
	lines := bytes.Split(svg, []byte("\n"))
	for i, l := range lines {
		if bytes.Contains(l, []byte("data:font/otf")) {
			lines[i] = bytes.Replace(l, []byte(`format("truetype")`), []byte(`format("opentype")`), 1)
		}
	}
	_, err := w.Write(bytes.Join(lines, []byte("\n")))
	return err
}
