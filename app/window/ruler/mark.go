package ruler

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"lampblack/app/window/look"
)

// helpMark is the question mark that opens and closes a kind's help.
type helpMark struct {
	widget.BaseWidget
	text    *canvas.Text
	ring    *canvas.Circle
	tapped  func()
	focused bool
}

func newHelpMark(tapped func()) *helpMark {
	m := &helpMark{text: &canvas.Text{Text: "?", Alignment: fyne.TextAlignCenter}, ring: &canvas.Circle{StrokeWidth: 1}, tapped: tapped}
	m.ExtendBaseWidget(m)
	return m
}

// open shows a cross while the help is open.
func (m *helpMark) open(on bool) {
	m.text.Text = "?"
	if on {
		m.text.Text = "×"
	}
	m.Refresh()
}

// Tapped opens or closes the help.
func (m *helpMark) Tapped(*fyne.PointEvent) { m.tapped() }

// FocusGained is fyne's.
func (m *helpMark) FocusGained() { m.focused = true; m.Refresh() }

// FocusLost is fyne's.
func (m *helpMark) FocusLost() { m.focused = false; m.Refresh() }

// TypedRune is fyne's.
func (m *helpMark) TypedRune(rune) {}

// TypedKey opens or closes the help.
func (m *helpMark) TypedKey(ev *fyne.KeyEvent) {
	if ev.Name == fyne.KeyReturn || ev.Name == fyne.KeyEnter || ev.Name == fyne.KeySpace {
		m.tapped()
	}
}

// CreateRenderer is fyne's.
func (m *helpMark) CreateRenderer() fyne.WidgetRenderer {
	r := &markRenderer{m}
	r.Refresh()
	return r
}

type markRenderer struct{ m *helpMark }

func (r *markRenderer) Layout(size fyne.Size) {
	side := min(size.Width, size.Height)
	at := fyne.NewPos((size.Width-side)/2, (size.Height-side)/2)
	r.m.ring.Move(at)
	r.m.ring.Resize(fyne.NewSquareSize(side))
	r.m.text.Move(fyne.NewPos(0, (size.Height-r.m.text.MinSize().Height)/2))
	r.m.text.Resize(fyne.NewSize(size.Width, r.m.text.MinSize().Height))
}

func (r *markRenderer) MinSize() fyne.Size { return fyne.NewSquareSize(1.4 * look.Em()) }

func (r *markRenderer) Refresh() {
	look.Quiet.Dress(r.m.text)
	r.m.text.Color = look.Now().Drawn
	r.m.ring.StrokeColor = look.Now().Line
	if r.m.focused {
		r.m.ring.StrokeColor = look.Now().Drawn
	}
	canvas.Refresh(r.m)
}

func (r *markRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.m.ring, r.m.text}
}
func (r *markRenderer) Destroy() {}
