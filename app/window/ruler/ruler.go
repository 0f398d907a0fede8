package ruler

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"lampblack/app/desk"
	"lampblack/app/window/look"
	"lampblack/patch"
)

// Ruler shows and sets one control of a module, or the depth of one cord.
// Stop lets go of the session.
type Ruler struct {
	widget.BaseWidget
	session *desk.Session
	of      subject

	// OnKey gets the keys that a focused ruler has no use for, so that the
	// computer keyboard goes on playing; nil sends them to the window.
	OnKey func(ev *fyne.KeyEvent, down bool)
	// OnExplain is called with the help of the control under the pointer or in
	// focus, and with "" when it is left. It may be nil.
	OnExplain func(help string)
	// OnFocus is called when the keyboard comes to the ruler, OnTurn when the next
	// (1) or the last (-1) page of rulers is asked for. They may be nil.
	OnFocus func()
	OnTurn  func(by int)
	// OnTaller is called when the ruler needs another height. It may be nil.
	OnTaller func()

	nameWidth, valueWidth float32
	field                 *field
	typing                bool
	message               string // why what was typed was not taken
	focused               bool
	grip                  grip
	causes                causes
	stops                 []func()
	view                  *rulerRenderer
}

// NewRuler returns the ruler of a module's control.
func NewRuler(s *desk.Session, module, control string) *Ruler {
	return newRuler(s, controlOf{s, module, control})
}

// NewDepthRuler returns the ruler of the depth of the cord that joins from to
// to, a control.
func NewDepthRuler(s *desk.Session, from, to patch.Socket) *Ruler {
	return newRuler(s, depthOf{s, from, to})
}

func newRuler(s *desk.Session, of subject) *Ruler {
	r := &Ruler{session: s, of: of}
	r.field = newField(r.take, r.drop, r.leave)
	r.ExtendBaseWidget(r)
	r.stops = []func(){s.Watch(desk.Patch, r.Refresh), look.Live.WatchClosely(r.beat)}
	return r
}

// Stop ends watching the session.
func (r *Ruler) Stop() {
	for _, stop := range r.stops {
		stop()
	}
	r.stops = nil
}

// Name returns the name of what the ruler sets.
func (r *Ruler) Name() string { return r.of.name() }

// Written returns the value as it is written at the right.
func (r *Ruler) Written() string { return look.Shown(r.written()) }

func (r *Ruler) written() string {
	if r.of.signed() {
		return r.of.setting().Signed()
	}
	return r.of.setting().String()
}

// Message returns why what was typed was not taken, "" if it was.
func (r *Ruler) Message() string { return r.message }

// widths of the columns at the text size of now; the panel makes them equal.
func (r *Ruler) natural() (name, value float32) {
	value = look.Figures.Measure("Q 0.7071  ").Width + look.Quiet.Measure("in dB").Width
	for _, word := range r.of.scale().Choices {
		value = max(value, look.Figures.Measure(word).Width)
	}
	return look.Body.Measure(r.of.name()).Width, value
}

// printing says how the scale of a ruler that is laid out so is printed.
func (r *Ruler) printing(g row) print {
	p := print{
		width: g.scaleWidth(), gap: 0.6 * g.em, signed: r.of.signed(),
		measure: func(text string) float64 { return float64(look.Small.Measure(text).Width) },
	}
	if r.of.scale().Choices != nil {
		p.hang = float64(look.Small.Measure("−100").Width) / 2
	}
	return p
}

// geometry lays the ruler out in its present size.
func (r *Ruler) geometry() row {
	name, value := r.natural()
	name, value = max(name, r.nameWidth), max(value, r.valueWidth)
	overhang := look.Small.Measure("−100").Width / 2
	g := rowOf(float64(r.Size().Width), float64(look.Em()), float64(name), float64(value), float64(look.Small.Height()), float64(overhang))
	if s := r.of.scale(); s.Choices != nil && twoRows(divide(s, r.printing(g))) {
		g.twoRows()
	}
	// The last ems are left to the panel's scroll bar.
	g.unitX = g.width - float64(look.Em()+look.Quiet.Measure(r.otherText()).Width)
	return g
}

// otherText offers the other unit of a control that has two.
func (r *Ruler) otherText() string {
	switch other := r.of.other(); other {
	case "":
		return ""
	case "Q":
		return "as Q"
	default:
		return "in " + look.Shown(other)
	}
}

// Type opens the written value for editing; begin replaces it if not empty.
func (r *Ruler) Type(begin string) {
	text := look.Typed(r.Written())
	if begin != "" {
		text = begin
	}
	r.typing = true
	r.field.SetText(text)
	r.field.CursorColumn = len([]rune(text))
	r.Refresh()
	if c := fyne.CurrentApp().Driver().CanvasForObject(r); c != nil {
		c.Focus(r.field)
	}
	if begin == "" {
		r.field.TypedShortcut(&fyne.ShortcutSelectAll{})
	}
}

// take sets what was typed, or says what is allowed and keeps the focus.
func (r *Ruler) take() {
	if r.settle() {
		r.close(true)
	}
}

// settle sets what was typed; false if it can't be read.
func (r *Ruler) settle() bool {
	text := strings.TrimSpace(look.Typed(r.field.Text))
	if text == look.Typed(r.Written()) {
		return true
	}
	v, err := r.of.read(text)
	if err != nil {
		r.say(look.Shown(err.Error()) + "; " + r.of.name() + " stays at " + r.Written())
		return false
	}
	r.session.Settle()
	r.of.write(v)
	r.session.Settle()
	return true
}

func (r *Ruler) drop() { r.close(true) }

// leave is called while the focus moves elsewhere: what can be read is taken,
// what can't stays open with its message.
func (r *Ruler) leave() {
	if r.typing && r.settle() {
		r.close(false)
	}
}

func (r *Ruler) close(refocus bool) {
	r.typing = false
	r.say("")
	r.Refresh()
	if c := fyne.CurrentApp().Driver().CanvasForObject(r); c != nil && refocus {
		c.Focus(r)
	}
}

func (r *Ruler) say(message string) {
	if message == r.message {
		return
	}
	r.message = message
	r.Refresh()
	if r.OnTaller != nil {
		r.OnTaller()
	}
}

// beat moves the line of the value now; nothing is drawn if it stands still.
func (r *Ruler) beat() {
	if r.view != nil && r.Visible() {
		r.view.moveLive()
		r.beatCauses()
	}
}

// CreateRenderer is fyne's.
func (r *Ruler) CreateRenderer() fyne.WidgetRenderer {
	v := &rulerRenderer{
		r: r, name: &canvas.Text{}, value: &canvas.Text{}, unit: &canvas.Text{}, marks: look.NewRaster(nil),
		cords: &canvas.Text{}, setting: &canvas.Rectangle{},
		index: &canvas.Rectangle{}, usual: &canvas.Rectangle{}, band: &canvas.Rectangle{}, live: &canvas.Rectangle{}, bar: &canvas.Rectangle{},
	}
	v.marks.Generator = v.engrave
	r.view = v
	v.Refresh()
	return v
}
