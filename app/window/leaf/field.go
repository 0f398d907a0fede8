package leaf

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// Field is a place to write on the bare page: no box, no ground of its own.
type Field struct {
	widget.Entry
	Done   func(text string) // Enter (in a field of several lines Ctrl+Enter), or the keyboard went elsewhere; may be nil
	Escape func()            // Escape; nil gives the keyboard back to the window
	Enter  func(text string) // Enter in a field of one line, before Done; may be nil
	object fyne.CanvasObject
}

// NewField returns a field of one line, or of several that are broken at words.
func NewField(lines bool, hint string) *Field {
	f := &Field{}
	f.MultiLine = lines
	f.Wrapping = fyne.TextWrapOff
	if lines {
		f.Wrapping = fyne.TextWrapWord
	}
	f.PlaceHolder = hint
	f.Scroll = fyne.ScrollNone
	if lines {
		f.Scroll = fyne.ScrollVerticalOnly
	}
	f.ExtendBaseWidget(f)
	f.OnSubmitted = f.submit
	f.object = container.NewThemeOverride(f, bare{})
	return f
}

// Object is what is laid on a leaf.
func (f *Field) Object() fyne.CanvasObject { return f.object }

// TakeKeyboard brings the keyboard of c to a field that has just been laid on a
// leaf. The toolkit (fyne v2.7.1) drops the parts and the theme of what was not
// seen for a minute, and would not find the field: they are made anew first.
func (f *Field) TakeKeyboard(c fyne.Canvas) {
	f.object.Refresh()
	if c != nil {
		c.Focus(f)
	}
}

// Fill writes text unless it is there already or is being written now.
func (f *Field) Fill(text string) {
	if f.Text != text {
		f.SetText(text)
	}
}

func (f *Field) submit(text string) {
	if f.Enter != nil {
		f.Enter(text)
	}
	if f.Done != nil {
		f.Done(text)
	}
}

// AcceptsTab is fyne's: Tab goes on to what comes next, in a note as well.
func (f *Field) AcceptsTab() bool { return false }

// FocusLost is fyne's.
func (f *Field) FocusLost() {
	f.Entry.FocusLost()
	if f.Done != nil {
		f.Done(f.Text)
	}
}

// TypedKey is fyne's.
func (f *Field) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyEscape:
		if f.Escape != nil {
			f.Escape()
			return
		}
		if c := canvasOf(f); c != nil {
			c.Unfocus()
		}
	case fyne.KeyF1, fyne.KeyF2, fyne.KeyF3, fyne.KeyF4, fyne.KeyF5, fyne.KeyF6,
		fyne.KeyF7, fyne.KeyF8, fyne.KeyF9, fyne.KeyF10, fyne.KeyF11, fyne.KeyF12:
		PassKey(f, e)
	default:
		f.Entry.TypedKey(e)
	}
}

// TypedShortcut is fyne's: what an entry does not know goes to the window.
func (f *Field) TypedShortcut(s fyne.Shortcut) {
	if custom, ok := s.(*desktop.CustomShortcut); ok {
		if c := canvasOf(f); c != nil && !textShortcut(custom) {
			if t, ok := c.(fyne.Shortcutable); ok {
				t.TypedShortcut(s)
				return
			}
		}
	}
	f.Entry.TypedShortcut(s)
}

// textShortcut tells whether a shortcut moves within the text.
func textShortcut(s *desktop.CustomShortcut) bool {
	switch s.KeyName {
	case fyne.KeyLeft, fyne.KeyRight, fyne.KeyUp, fyne.KeyDown, fyne.KeyHome, fyne.KeyEnd, fyne.KeyBackspace, fyne.KeyDelete:
		return true
	}
	return false
}

// bare is the theme of now without the box of an entry.
type bare struct{}

func (bare) Color(name fyne.ThemeColorName, v fyne.ThemeVariant) color.Color {
	switch name {
	case theme.ColorNameInputBackground, theme.ColorNameInputBorder:
		return color.Transparent
	}
	return now().Color(name, v)
}

func (bare) Font(s fyne.TextStyle) fyne.Resource        { return now().Font(s) }
func (bare) Icon(name fyne.ThemeIconName) fyne.Resource { return now().Icon(name) }

func (bare) Size(name fyne.ThemeSizeName) float32 {
	switch name {
	case theme.SizeNameInputBorder:
		return 0
	case theme.SizeNameInnerPadding:
		return 0
	case theme.SizeNameScrollBar, theme.SizeNameScrollBarSmall:
		return 2
	}
	return now().Size(name)
}

func now() fyne.Theme { return fyne.CurrentApp().Settings().Theme() }
