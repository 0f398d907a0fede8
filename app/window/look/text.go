package look

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
)

// Text is one line of text in a style. It follows changes of the theme, and is
// cut with an ellipsis where it has too little room if Cut is set.
type Text struct {
	widget.BaseWidget
	style Style
	text  string
	tint  func(*Ink) color.NRGBA
	align fyne.TextAlign
	Cut   bool // may be narrower than its text
}

// NewText returns a line of text.
func NewText(style Style, text string) *Text {
	t := &Text{style: style, text: text}
	t.ExtendBaseWidget(t)
	return t
}

// Tint sets the text in another colour of the palette and returns t.
func (t *Text) Tint(pick func(*Ink) color.NRGBA) *Text {
	t.tint = pick
	t.Refresh()
	return t
}

// Align sets where the text stands in its room and returns t.
func (t *Text) Align(a fyne.TextAlign) *Text {
	t.align = a
	t.Refresh()
	return t
}

// Cutting lets the text be narrower than it is long and returns t.
func (t *Text) Cutting() *Text {
	t.Cut = true
	return t
}

// Text returns what is written.
func (t *Text) Text() string { return t.text }

// SetText writes another text. Nothing is redrawn if it is the same.
func (t *Text) SetText(text string) {
	if text == t.text {
		return
	}
	t.text = text
	t.Refresh()
}

// CreateRenderer is fyne's.
func (t *Text) CreateRenderer() fyne.WidgetRenderer {
	r := &textRenderer{t: t, line: &canvas.Text{}}
	r.dress()
	return r
}

type textRenderer struct {
	t    *Text
	line *canvas.Text
}

func (r *textRenderer) dress() {
	r.t.style.Dress(r.line)
	if r.t.tint != nil {
		r.line.Color = r.t.tint(Now())
	}
	r.line.Alignment = r.t.align
	r.line.Text = r.t.text
	if r.t.Cut && r.t.Size().Width > 0 {
		r.line.Text = r.t.style.Fit(r.t.text, r.t.Size().Width, 1)
	}
}

func (r *textRenderer) Layout(size fyne.Size) {
	r.dress()
	r.line.Resize(size)
}

func (r *textRenderer) MinSize() fyne.Size {
	size := r.t.style.Measure(r.t.text)
	if r.t.Cut {
		size.Width = min(size.Width, 3*Em())
	}
	return size
}

func (r *textRenderer) Refresh() {
	r.dress()
	r.line.Refresh()
}

func (r *textRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.line} }
func (r *textRenderer) Destroy()                     {}
