package look

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
)

// Rule is a hairline across the room it is given. It follows changes of the
// theme.
type Rule struct {
	widget.BaseWidget
	upright bool
	tint    func(*Ink) color.NRGBA
}

// NewRule returns a level hairline.
func NewRule() *Rule { return newRule(false) }

// NewUprightRule returns an upright hairline.
func NewUprightRule() *Rule { return newRule(true) }

func newRule(upright bool) *Rule {
	r := &Rule{upright: upright, tint: func(i *Ink) color.NRGBA { return i.Line }}
	r.ExtendBaseWidget(r)
	return r
}

// Tint draws the rule in another colour of the palette and returns r.
func (r *Rule) Tint(pick func(*Ink) color.NRGBA) *Rule {
	r.tint = pick
	r.Refresh()
	return r
}

// CreateRenderer is fyne's.
func (r *Rule) CreateRenderer() fyne.WidgetRenderer {
	return &ruleRenderer{r, canvas.NewRectangle(r.tint(Now()))}
}

type ruleRenderer struct {
	r    *Rule
	line *canvas.Rectangle
}

func (r *ruleRenderer) Layout(size fyne.Size) {
	if r.r.upright {
		r.line.Move(fyne.NewPos((size.Width-1)/2, 0))
		r.line.Resize(fyne.NewSize(1, size.Height))
		return
	}
	r.line.Move(fyne.NewPos(0, (size.Height-1)/2))
	r.line.Resize(fyne.NewSize(size.Width, 1))
}

func (r *ruleRenderer) Refresh() {
	r.line.FillColor = r.r.tint(Now())
	r.line.Refresh()
}

func (r *ruleRenderer) MinSize() fyne.Size           { return fyne.NewSize(1, 1) }
func (r *ruleRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.line} }
func (r *ruleRenderer) Destroy()                     {}
