package look

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
)

// Style is a way to set a text.
type Style int

const (
	Body     Style = iota // what is read
	Quiet                 // what explains: smaller, in the quiet ink
	Caps                  // names of places and modules, in small capitals
	Figures               // values: tabular figures, trailing zeros kept
	Title                 // a job, a take: larger small capitals
	Emphasis              // italic
	Small                 // labels of scales: small quiet figures
)

var styles = [...]struct {
	font  fyne.Resource
	scale float32
	quiet bool
}{
	Body:     {textFont, 1, false},
	Quiet:    {textFont, 0.92, true},
	Caps:     {capsFont, 1.1, false},
	Figures:  {figuresFont, 1, false},
	Title:    {capsFont, 1.25, false},
	Emphasis: {italicFont, 1, false},
	Small:    {figuresFont, 0.85, true},
}

// Font returns the font of the style.
func (s Style) Font() fyne.Resource { return styles[s].font }

// Size returns the style's size at the text size of now, in fyne's units.
func (s Style) Size() float32 { return styles[s].scale * Em() }

// Color returns the style's colour out of ink.
func (s Style) Color(ink *Ink) color.NRGBA {
	if styles[s].quiet {
		return ink.Quiet
	}
	return ink.Drawn
}

// Dress gives a text the style's font, size and colour of now. Views that draw
// many texts call it from their Refresh.
func (s Style) Dress(t *canvas.Text) {
	t.FontSource, t.TextSize, t.Color = s.Font(), s.Size(), s.Color(Now())
	t.TextStyle.Italic = s == Emphasis // or the toolkit cuts off what leans over the end
}

// Draw returns a bare text in the style. It keeps the colour of now: whoever
// holds it dresses it again when refreshed. NewText does so by itself.
func (s Style) Draw(text string) *canvas.Text {
	t := &canvas.Text{Text: text}
	s.Dress(t)
	return t
}

// Measure returns the room that text takes in the style.
func (s Style) Measure(text string) fyne.Size { return s.MeasureAt(text, 1) }

// MeasureAt returns the room that text takes when the style is enlarged scale
// times.
func (s Style) MeasureAt(text string, scale float32) fyne.Size {
	size, _ := fyne.CurrentApp().Driver().RenderedTextSize(text, s.Size()*scale, fyne.TextStyle{}, s.Font())
	return size
}

// Height returns the height of a line in the style.
func (s Style) Height() float32 { return s.Measure("0").Height }

// Fit returns text cut with an ellipsis so that it is at most width wide at
// scale times the style's size; "" if not even the ellipsis fits.
func (s Style) Fit(text string, width, scale float32) string {
	if s.MeasureAt(text, scale).Width <= width {
		return text
	}
	letters := []rune(text)
	lo, hi := 0, len(letters)
	for lo < hi { // the longest beginning that fits
		mid := (lo + hi + 1) / 2
		if s.MeasureAt(string(letters[:mid])+"…", scale).Width <= width {
			lo = mid
		} else {
			hi = mid - 1
		}
	}
	if lo == 0 {
		return ""
	}
	return string(letters[:lo]) + "…"
}
