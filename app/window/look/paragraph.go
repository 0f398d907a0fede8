package look

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
)

// Paragraph is a text of several lines, broken at words to the width it is
// given; line feeds are kept. Its least height is that of its lines at the
// width that it had last.
type Paragraph struct {
	widget.BaseWidget
	style Style
	text  string
	width float32
}

// NewParagraph returns a paragraph.
func NewParagraph(style Style, text string) *Paragraph {
	p := &Paragraph{style: style, text: text}
	p.ExtendBaseWidget(p)
	return p
}

// Text returns what is written.
func (p *Paragraph) Text() string { return p.text }

// SetText writes another text.
func (p *Paragraph) SetText(text string) {
	if text == p.text {
		return
	}
	p.text = text
	p.Refresh()
}

// Resize breaks the lines again when the width changes.
func (p *Paragraph) Resize(size fyne.Size) {
	if size.Width != p.width {
		p.width = size.Width
		p.Refresh()
	}
	p.BaseWidget.Resize(size)
}

// HeightFor returns the height that the text takes when it is width wide.
func (p *Paragraph) HeightFor(width float32) float32 {
	return float32(len(p.style.Wrap(p.text, width))) * p.style.Height()
}

// CreateRenderer is fyne's.
func (p *Paragraph) CreateRenderer() fyne.WidgetRenderer {
	r := &paragraphRenderer{p: p}
	r.Refresh()
	return r
}

type paragraphRenderer struct {
	p     *Paragraph
	lines []fyne.CanvasObject
}

func (r *paragraphRenderer) Refresh() {
	lines := []string{r.p.text}
	if r.p.width > 0 {
		lines = r.p.style.Wrap(r.p.text, r.p.width)
	}
	r.lines = r.lines[:0]
	for _, line := range lines {
		r.lines = append(r.lines, r.p.style.Draw(line))
	}
	r.place()
	canvas.Refresh(r.p)
}

func (r *paragraphRenderer) place() {
	height := r.p.style.Height()
	for i, line := range r.lines {
		line.Move(Whole(fyne.NewPos(0, float32(i)*height)))
		line.Resize(fyne.NewSize(r.p.width, height))
	}
}

func (r *paragraphRenderer) Layout(fyne.Size) { r.place() }

func (r *paragraphRenderer) MinSize() fyne.Size {
	return fyne.NewSize(6*Em(), float32(max(len(r.lines), 1))*r.p.style.Height())
}

func (r *paragraphRenderer) Objects() []fyne.CanvasObject { return r.lines }
func (r *paragraphRenderer) Destroy()                     {}

// Wrap breaks text into lines that are at most width wide. A word longer than
// a line stands alone and is cut by nobody.
func (s Style) Wrap(text string, width float32) []string {
	var lines []string
	for _, part := range strings.Split(text, "\n") {
		line := ""
		for _, word := range strings.Fields(part) {
			switch longer := line + " " + word; {
			case line == "":
				line = word
			case s.Measure(longer).Width <= width:
				line = longer
			default:
				lines = append(lines, line)
				line = word
			}
		}
		lines = append(lines, line)
	}
	return lines
}

// Sentence returns the first sentence of a longer text: what a list or a
// heading says of it.
func Sentence(text string) string {
	text = strings.Join(strings.Fields(text), " ")
	if i := strings.Index(text, ". "); i >= 0 {
		return text[:i+1]
	}
	return text
}
