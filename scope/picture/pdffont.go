package picture

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"slices"
	"strings"

	stdfont "golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// pdfFont is a font on its way into a PDF file: a composite font whose codes are
// the numbers of its glyphs (ISO 32000-1:2008, 9.7), with a table that leads
// back to the letters (9.10.3), so that text can be searched and copied.
type pdfFont struct {
	font   *opentype.Font
	buffer sfnt.Buffer
	em     fixed.Int26_6 // a size at which one unit of the font is one 64th
	used   map[sfnt.GlyphIndex]rune
}

func newPDFFont(f *opentype.Font) *pdfFont {
	return &pdfFont{font: f, em: fixed.Int26_6(f.UnitsPerEm()), used: map[sfnt.GlyphIndex]rune{}}
}

// thousandths turns what sfnt measures at em into the unit of PDF.
func (f *pdfFont) thousandths(x fixed.Int26_6) int {
	return (int(x)*1000 + int(f.em)/2) / int(f.em)
}

// show writes words for the operator TJ, set as close as the font wants.
func (f *pdfFont) show(words string) string {
	var b strings.Builder
	b.WriteByte('<')
	before := sfnt.GlyphIndex(0)
	for i, r := range words {
		g, err := f.font.GlyphIndex(&f.buffer, r)
		if err != nil {
			g = 0
		}
		if k, err := f.font.Kern(&f.buffer, before, g, f.em, stdfont.HintingNone); err == nil && i > 0 && k != 0 {
			fmt.Fprintf(&b, "> %d <", -f.thousandths(k))
		}
		fmt.Fprintf(&b, "%04X", uint16(g))
		f.used[g], before = r, g
	}
	b.WriteByte('>')
	return b.String()
}

// write puts the font into the file and returns the number of its object.
func (f *pdfFont) write(file *pdfFile) (int, error) {
	var source bytes.Buffer
	if _, err := f.font.WriteSourceTo(&f.buffer, &source); err != nil {
		return 0, fmt.Errorf("a font of the picture cannot be read: %w", err)
	}
	name, err := f.font.Name(&f.buffer, sfnt.NameIDPostScript)
	if err != nil {
		name = "Unnamed"
	}
	metrics, err := f.font.Metrics(&f.buffer, f.em, stdfont.HintingNone)
	if err != nil {
		return 0, fmt.Errorf("a font of the picture cannot be read: %w", err)
	}
	bounds, err := f.font.Bounds(&f.buffer, f.em, stdfont.HintingNone)
	if err != nil {
		return 0, fmt.Errorf("a font of the picture cannot be read: %w", err)
	}
	// Outlines of the kind of PostScript go in bare (9.9, table 126), those of the
	// kind of TrueType with the tables around them.
	key, kind, gids := "FontFile2", "CIDFontType2", " /CIDToGIDMap /Identity"
	var program int
	if cff := table(source.Bytes(), "CFF "); cff != nil {
		key, kind, gids = "FontFile3", "CIDFontType0", ""
		program = file.stream("/Subtype /CIDFontType0C", cff)
	} else {
		program = file.stream(fmt.Sprintf("/Length1 %d", source.Len()), source.Bytes())
	}
	slant := 0.0
	if post := f.font.PostTable(); post != nil {
		slant = post.ItalicAngle
	}
	descriptor := file.object("<< /Type /FontDescriptor /FontName /%s /Flags 4 /FontBBox [%d %d %d %d] /ItalicAngle %g /Ascent %d /Descent %d /CapHeight %d /StemV 80 /%s %d 0 R >>",
		name, f.thousandths(bounds.Min.X), -f.thousandths(bounds.Max.Y), f.thousandths(bounds.Max.X), -f.thousandths(bounds.Min.Y), slant,
		f.thousandths(metrics.Ascent), -f.thousandths(metrics.Descent), f.thousandths(metrics.CapHeight), key, program)
	widths, letters := f.tables()
	descendant := file.object("<< /Type /Font /Subtype /%s /BaseFont /%s /CIDSystemInfo << /Registry (Adobe) /Ordering (Identity) /Supplement 0 >> /FontDescriptor %d 0 R /W [%s]%s >>",
		kind, name, descriptor, widths, gids)
	back := file.stream("", []byte(letters))
	return file.object("<< /Type /Font /Subtype /Type0 /BaseFont /%s /Encoding /Identity-H /DescendantFonts [%d 0 R] /ToUnicode %d 0 R >>", name, descendant, back), nil
}

// tables returns the widths of the glyphs in use (9.7.4.3) and the way back to
// their letters.
func (f *pdfFont) tables() (widths, letters string) {
	var glyphs []sfnt.GlyphIndex
	for g := range f.used {
		glyphs = append(glyphs, g)
	}
	slices.Sort(glyphs)
	var w, l strings.Builder
	l.WriteString("/CIDInit /ProcSet findresource begin 12 dict begin begincmap\n/CMapName /Letters def /CMapType 2 def\n1 begincodespacerange <0000> <FFFF> endcodespacerange\n")
	for part := range slices.Chunk(glyphs, 100) { // a list has a hundred entries at most
		fmt.Fprintf(&l, "%d beginbfchar\n", len(part))
		for _, g := range part {
			advance, err := f.font.GlyphAdvance(&f.buffer, g, f.em, stdfont.HintingNone)
			if err == nil {
				fmt.Fprintf(&w, "%d [%d] ", g, f.thousandths(advance))
			}
			fmt.Fprintf(&l, "<%04X> %s\n", uint16(g), strings.Replace(pdfText(string(f.used[g])), "FEFF", "", 1))
		}
		l.WriteString("endbfchar\n")
	}
	l.WriteString("endcmap CMapName currentdict /CMap defineresource pop end end\n")
	return w.String(), l.String()
}

// table returns a table of an OpenType font, or nil.
//
// Source: ISO/IEC 14496-22, 4.5.1 and 4.5.2.
func table(font []byte, tag string) []byte {
	if len(font) < 12 {
		return nil
	}
	for i := range int(binary.BigEndian.Uint16(font[4:])) {
		record := font[min(12+16*i, len(font)):]
		if len(record) < 16 {
			return nil
		}
		if string(record[:4]) == tag {
			at, n := uint64(binary.BigEndian.Uint32(record[8:])), uint64(binary.BigEndian.Uint32(record[12:]))
			if at+n > uint64(len(font)) {
				return nil
			}
			return font[at : at+n]
		}
	}
	return nil
}
