package ruler

import (
	"regexp"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"lampblack/app/window/look"
)

// helpText sets the help of a kind: paragraphs broken to the width there is,
// and tables of a word and its meaning (lines that are indented).
type helpText struct {
	widget.BaseWidget
	blocks []helpBlock
	width  float32
}

// helpBlock is a paragraph, or a row of a table if it has a word.
type helpBlock struct{ word, text string }

func newHelpText(help string) *helpText {
	h := &helpText{blocks: readHelp(look.Shown(help))}
	h.ExtendBaseWidget(h)
	return h
}

var column = regexp.MustCompile(`\s{2,}`)

// readHelp parts the help of a kind into paragraphs and rows. A line indented
// by four begins a row, one indented deeper goes on with it.
func readHelp(help string) []helpBlock {
	var blocks []helpBlock
	open := false // the last block may grow
	for _, line := range strings.Split(help, "\n") {
		text := strings.TrimSpace(line)
		indent := len(line) - len(strings.TrimLeft(line, " \t"))
		last := len(blocks) - 1
		switch {
		case text == "":
			open = false
		case open && (indent == 0 && blocks[last].word == "" || indent > 4):
			blocks[last].text += " " + text
		case indent > 0:
			word, meaning := text, ""
			if at := column.FindStringIndex(text); at != nil {
				word, meaning = text[:at[0]], text[at[1]:]
			}
			blocks = append(blocks, helpBlock{word, meaning})
			open = true
		default:
			blocks = append(blocks, helpBlock{text: text})
			open = true
		}
	}
	return blocks
}

// Resize breaks the lines again when the width changes.
func (h *helpText) Resize(size fyne.Size) {
	if size.Width != h.width {
		h.width = size.Width
		h.Refresh()
	}
	h.BaseWidget.Resize(size)
}

// CreateRenderer is fyne's.
func (h *helpText) CreateRenderer() fyne.WidgetRenderer {
	r := &helpRenderer{h: h}
	r.Refresh()
	return r
}

type helpRenderer struct {
	h      *helpText
	lines  []fyne.CanvasObject
	height float32
}

func (r *helpRenderer) Refresh() {
	r.lines = r.lines[:0]
	em, line := look.Em(), look.Body.Height()
	width := min(r.h.width, 42*em) // a line that is longer reads badly
	indent := r.tableWidth()
	y := float32(0)
	for i, b := range r.h.blocks {
		if i > 0 && (b.word == "") != (r.h.blocks[i-1].word == "") || i > 0 && b.word == "" {
			y += 0.5 * em
		}
		x, style := float32(0), look.Body
		if b.word != "" {
			r.put(look.Emphasis, b.word, em, y)
			x, style = 2*em+indent, look.Body
			if look.Emphasis.Measure(b.word).Width > indent && b.text != "" {
				y += line
			}
		}
		if b.text == "" {
			y += line
			continue
		}
		for _, text := range style.Wrap(b.text, max(width-x, 8*em)) {
			r.put(style, text, x, y)
			y += line
		}
	}
	r.height = y
	canvas.Refresh(r.h)
}

// tableWidth is how wide the words of tables are, long ones left out.
func (r *helpRenderer) tableWidth() (width float32) {
	for _, b := range r.h.blocks {
		if w := look.Emphasis.Measure(b.word).Width; w > width && w < 9*look.Em() {
			width = w
		}
	}
	return width
}

func (r *helpRenderer) put(style look.Style, text string, x, y float32) {
	t := style.Draw(text)
	t.Resize(t.MinSize())
	t.Move(look.Whole(fyne.NewPos(x, y)))
	r.lines = append(r.lines, t)
}

func (r *helpRenderer) Layout(fyne.Size)             {}
func (r *helpRenderer) MinSize() fyne.Size           { return fyne.NewSize(10*look.Em(), r.height) }
func (r *helpRenderer) Objects() []fyne.CanvasObject { return r.lines }
func (r *helpRenderer) Destroy()                     {}
