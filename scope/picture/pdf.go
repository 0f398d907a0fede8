package picture

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"image"
	"image/color"
	"io"
	"math"
	"strconv"
	"unicode/utf16"

	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// pdfCanvas is a page of PDF 1.4 to draw on. It is here because gonum's own
// (vgpdf, v0.17) takes only fonts with TrueType outlines and one byte for a
// letter: neither the fonts of the house nor a minus sign could be set.
//
// Source: ISO 32000-1:2008, the sections named at the functions.
type pdfCanvas struct {
	width, height vg.Length
	title         string
	content       bytes.Buffer
	colour        color.NRGBA
	saved         []color.NRGBA
	fonts         []*pdfFont
	images        []image.Image
	alphas        []uint8
}

func newPDF(width, height vg.Length, title string) *pdfCanvas {
	c := &pdfCanvas{width: width, height: height, title: title}
	vg.Initialize(c)
	return c
}

func (c *pdfCanvas) say(format string, args ...any) { fmt.Fprintf(&c.content, format, args...) }

// digits writes a length with a thousandth of a point.
func digits(v vg.Length) string {
	return strconv.FormatFloat(math.Round(float64(v)*1000)/1000, 'f', -1, 64)
}

// Size implements vg.CanvasSizer.
func (c *pdfCanvas) Size() (width, height vg.Length) { return c.width, c.height }

// SetLineWidth implements vg.Canvas.
func (c *pdfCanvas) SetLineWidth(w vg.Length) { c.say("%s w\n", digits(w)) }

// SetLineDash implements vg.Canvas.
func (c *pdfCanvas) SetLineDash(pattern []vg.Length, offset vg.Length) {
	c.say("[")
	for _, d := range pattern {
		c.say("%s ", digits(d))
	}
	c.say("] %s d\n", digits(offset))
}

// SetColor implements vg.Canvas.
func (c *pdfCanvas) SetColor(k color.Color) {
	if k == nil {
		k = color.Black
	}
	n := color.NRGBAModel.Convert(k).(color.NRGBA)
	if n.A != c.colour.A {
		c.say("/G%d gs\n", n.A)
		if !bytes.Contains(c.alphas, []byte{n.A}) {
			c.alphas = append(c.alphas, n.A)
		}
	}
	c.colour = n
	rgb := fmt.Sprintf("%.4g %.4g %.4g", float64(n.R)/255, float64(n.G)/255, float64(n.B)/255)
	c.say("%s rg %[1]s RG\n", rgb)
}

// Rotate implements vg.Canvas.
func (c *pdfCanvas) Rotate(rad float64) {
	sin, cos := math.Sincos(rad)
	c.say("%.6f %.6f %.6f %.6f 0 0 cm\n", cos, sin, -sin, cos)
}

// Translate implements vg.Canvas.
func (c *pdfCanvas) Translate(pt vg.Point) { c.say("1 0 0 1 %s %s cm\n", digits(pt.X), digits(pt.Y)) }

// Scale implements vg.Canvas.
func (c *pdfCanvas) Scale(x, y float64) { c.say("%.6f 0 0 %.6f 0 0 cm\n", x, y) }

// Push implements vg.Canvas.
func (c *pdfCanvas) Push() {
	c.say("q\n")
	c.saved = append(c.saved, c.colour)
}

// Pop implements vg.Canvas.
func (c *pdfCanvas) Pop() {
	c.say("Q\n")
	c.colour = c.saved[len(c.saved)-1]
	c.saved = c.saved[:len(c.saved)-1]
}

// Stroke implements vg.Canvas.
func (c *pdfCanvas) Stroke(path vg.Path) {
	c.path(path)
	c.say("S\n")
}

// Fill implements vg.Canvas.
func (c *pdfCanvas) Fill(path vg.Path) {
	c.path(path)
	c.say("f\n")
}

// path writes a path (8.5.2).
func (c *pdfCanvas) path(path vg.Path) {
	var now vg.Point
	for _, comp := range path {
		switch comp.Type {
		case vg.MoveComp:
			c.say("%s %s m\n", digits(comp.Pos.X), digits(comp.Pos.Y))
		case vg.LineComp:
			c.say("%s %s l\n", digits(comp.Pos.X), digits(comp.Pos.Y))
		case vg.ArcComp:
			c.arc(comp)
			continue
		case vg.CurveComp:
			a := comp.Control[0]
			b := comp.Control[len(comp.Control)-1]
			if len(comp.Control) == 1 { // a quadratic curve, raised to a cubic one
				a, b = now.Add(a.Sub(now).Scale(2./3)), comp.Pos.Add(b.Sub(comp.Pos).Scale(2./3))
			}
			c.say("%s %s %s %s %s %s c\n", digits(a.X), digits(a.Y), digits(b.X), digits(b.Y), digits(comp.Pos.X), digits(comp.Pos.Y))
		case vg.CloseComp:
			c.say("h\n")
		}
		now = comp.Pos
	}
}

// arc writes an arc as cubic curves of an eighth of a circle at most, which are
// exact to a hundred-thousandth of the radius.
func (c *pdfCanvas) arc(a vg.PathComp) {
	pieces := max(1, math.Ceil(math.Abs(a.Angle)/(math.Pi/4)))
	step := a.Angle / pieces
	reach := 4. / 3 * math.Tan(step/4)
	on := func(angle, tangent float64) string {
		sin, cos := math.Sincos(angle)
		r := float64(a.Radius)
		return digits(a.Pos.X+vg.Length(r*(cos-tangent*sin))) + " " + digits(a.Pos.Y+vg.Length(r*(sin+tangent*cos)))
	}
	c.say("%s l\n", on(a.Start, 0))
	for i := range int(pieces) {
		from := a.Start + float64(i)*step
		c.say("%s %s %s c\n", on(from, reach), on(from+step, -reach), on(from+step, 0))
	}
}

// FillString implements vg.Canvas (9.4).
func (c *pdfCanvas) FillString(f font.Face, pt vg.Point, words string) {
	if f.Font.Size == 0 || words == "" {
		return
	}
	number, in := c.font(f)
	c.say("BT /F%d %s Tf %s %s Td [%s] TJ ET\n", number, digits(f.Font.Size), digits(pt.X), digits(pt.Y), in.show(words))
}

// font returns the page's font of that face, and its number.
func (c *pdfCanvas) font(f font.Face) (int, *pdfFont) {
	for i, known := range c.fonts {
		if known.font == f.Face {
			return i, known
		}
	}
	c.fonts = append(c.fonts, newPDFFont(f.Face))
	return len(c.fonts) - 1, c.fonts[len(c.fonts)-1]
}

// DrawImage implements vg.Canvas (8.9).
func (c *pdfCanvas) DrawImage(r vg.Rectangle, i image.Image) {
	c.say("q %s 0 0 %s %s %s cm /I%d Do Q\n", digits(r.Size().X), digits(r.Size().Y), digits(r.Min.X), digits(r.Min.Y), len(c.images))
	c.images = append(c.images, i)
}

// WriteTo implements io.WriterTo. It holds no clock: the same picture gives the
// same file.
func (c *pdfCanvas) WriteTo(w io.Writer) (int64, error) {
	file := &pdfFile{}
	file.WriteString("%PDF-1.4\n%\xE2\xE3\xCF\xD3\n")
	fonts, images, states := "", "", ""
	for i, f := range c.fonts {
		ref, err := f.write(file)
		if err != nil {
			return 0, err
		}
		fonts += fmt.Sprintf("/F%d %d 0 R ", i, ref)
	}
	for i, img := range c.images {
		images += fmt.Sprintf("/I%d %d 0 R ", i, file.picture(img))
	}
	for _, a := range c.alphas {
		alpha := float64(a) / 255
		states += fmt.Sprintf("/G%d << /ca %.4g /CA %.4g >> ", a, alpha, alpha)
	}
	content := file.stream("", c.content.Bytes())
	info := file.object("<< /Title %s /Producer (Lampblack) >>", pdfText(c.title))
	page, pages := file.next(), file.next()
	file.put(page, "<< /Type /Page /Parent %d 0 R /MediaBox [0 0 %s %s] /Contents %d 0 R /Resources << /Font << %s>> /XObject << %s>> /ExtGState << %s>> >> >>",
		pages, digits(c.width), digits(c.height), content, fonts, images, states)
	file.put(pages, "<< /Type /Pages /Count 1 /Kids [%d 0 R] >>", page)
	root := file.object("<< /Type /Catalog /Pages %d 0 R >>", pages)
	file.end(root, info)
	n, err := w.Write(file.Bytes())
	return int64(n), err
}

// pdfText writes a text string (7.9.2.2): UTF-16 after a byte order mark.
func pdfText(s string) string {
	hex := "<FEFF"
	for _, u := range utf16.Encode([]rune(s)) {
		hex += fmt.Sprintf("%04X", u)
	}
	return hex + ">"
}

// pdfFile is a file in the making: numbered objects, and where each begins
// (7.3.10, 7.5).
type pdfFile struct {
	bytes.Buffer
	begins []int // by number, from 1
}

// next returns the number of an object that is put later.
func (f *pdfFile) next() int {
	f.begins = append(f.begins, 0)
	return len(f.begins)
}

func (f *pdfFile) put(number int, format string, args ...any) {
	f.begins[number-1] = f.Len()
	fmt.Fprintf(f, "%d 0 obj\n"+format+"\nendobj\n", append([]any{number}, args...)...)
}

func (f *pdfFile) object(format string, args ...any) int {
	n := f.next()
	f.put(n, format, args...)
	return n
}

// stream puts compressed bytes with further entries of their dictionary.
func (f *pdfFile) stream(entries string, data []byte) int {
	var packed bytes.Buffer
	z := zlib.NewWriter(&packed)
	_, _ = z.Write(data) // into memory
	_ = z.Close()
	return f.object("<< %s /Length %d /Filter /FlateDecode >>\nstream\n%s\nendstream", entries, packed.Len(), packed.Bytes())
}

// picture puts an image: with a palette as it is, others in three colours.
func (f *pdfFile) picture(i image.Image) int {
	b := i.Bounds()
	size := fmt.Sprintf("/Type /XObject /Subtype /Image /Width %d /Height %d /BitsPerComponent 8 /Interpolate false", b.Dx(), b.Dy())
	if p, ok := i.(*image.Paletted); ok && p.Stride == b.Dx() {
		palette := ""
		for _, k := range p.Palette {
			n := color.NRGBAModel.Convert(k).(color.NRGBA)
			palette += fmt.Sprintf("%02X%02X%02X", n.R, n.G, n.B)
		}
		return f.stream(fmt.Sprintf("%s /ColorSpace [/Indexed /DeviceRGB %d <%s>]", size, len(p.Palette)-1, palette), p.Pix)
	}
	var data []byte
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			n := color.NRGBAModel.Convert(i.At(x, y)).(color.NRGBA)
			data = append(data, n.R, n.G, n.B)
		}
	}
	return f.stream(size+" /ColorSpace /DeviceRGB", data)
}

// end puts the table of where everything begins.
func (f *pdfFile) end(root, info int) {
	table := f.Len()
	fmt.Fprintf(f, "xref\n0 %d\n0000000000 65535 f \n", len(f.begins)+1)
	for _, at := range f.begins {
		fmt.Fprintf(f, "%010d 00000 n \n", at)
	}
	fmt.Fprintf(f, "trailer\n<< /Size %d /Root %d 0 R /Info %d 0 R >>\nstartxref\n%d\n%%%%EOF\n", len(f.begins)+1, root, info, table)
}
