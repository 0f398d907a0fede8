package window

import (
	"runtime"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"lampblack/app/window/instruments"
	"lampblack/app/window/keys"
	"lampblack/app/window/look"
)

// listen connects the keyboard, dropped files and the desktop's focus.
func (w *Window) listen() {
	c := w.Canvas()
	c.SetOnTypedKey(w.typed)
	if d, ok := c.(desktop.Canvas); ok {
		d.SetOnKeyDown(w.keyDown)
		d.SetOnKeyUp(w.keyUp)
	}
	w.rulers.OnKey = w.passed
	for _, s := range w.shortcuts() {
		c.AddShortcut(s.key, func(fyne.Shortcut) {
			if w.deaf {
				return
			}
			if s.over || w.Canvas().Overlays().Top() == nil {
				s.do()
			}
		})
	}
	w.SetOnDropped(w.dropped)
	fyne.CurrentApp().Lifecycle().SetOnExitedForeground(w.hands.ReleaseAll)
	w.Until(look.Live.Watch(w.watchHands))
}

// deafen takes what is being written, and lets go of the keyboard: what is pressed
// while the window closes must not come to a session that has ended.
func (w *Window) deafen() {
	w.Canvas().Unfocus()
	w.deaf = true
}

// passed takes a key that a part of the page had no use for.
func (w *Window) passed(e *fyne.KeyEvent, down bool) {
	if down {
		w.keyDown(e)
		return
	}
	w.keyUp(e)
}

// watchHands lets notes go when a text gets the keyboard while they are held:
// their keys going up is told to the text.
func (w *Window) watchHands() {
	if w.hands.Held() > 0 && w.writing() {
		w.hands.ReleaseAll()
	}
}

// writing tells whether a text has the keyboard: keys are letters then.
func (w *Window) writing() bool {
	_, plays := w.Canvas().Focused().(desktop.Keyable)
	text, ok := w.Canvas().Focused().(interface{ SelectedText() string })
	return plays && ok && text != nil
}

// keyDown plays. Keys held with Control and the like are commands.
func (w *Window) keyDown(e *fyne.KeyEvent) {
	if w.deaf || w.covered() || modifiers()&^fyne.KeyModifierShift != 0 {
		return
	}
	if at, ok := keys.Find(runtime.GOOS, string(e.Name), e.Physical.ScanCode); ok {
		w.hands.Press(at)
	}
}

func (w *Window) keyUp(e *fyne.KeyEvent) {
	if at, ok := keys.Find(runtime.GOOS, string(e.Name), e.Physical.ScanCode); ok {
		w.hands.Release(at)
	}
}

func modifiers() fyne.KeyModifier {
	if d, ok := fyne.CurrentApp().Driver().(desktop.Driver); ok {
		return d.CurrentKeyModifiers()
	}
	return 0
}

// typed takes the keys that no part of the page had a use for.
func (w *Window) typed(e *fyne.KeyEvent) {
	if w.deaf {
		return
	}
	if w.Canvas().Overlays().Top() != nil {
		if e.Name == fyne.KeyEscape && w.choosing != nil {
			w.choosing.Hide()
		}
		return
	}
	switch e.Name {
	case fyne.KeySpace:
		w.playOrStop()
	case fyne.KeyLeftBracket:
		w.hands.Shift(-1)
	case fyne.KeyRightBracket:
		w.hands.Shift(1)
	case fyne.KeyF1:
		w.ShowKeys()
	case fyne.KeyF3:
		if !w.covered() {
			by := 1
			if modifiers()&fyne.KeyModifierShift != 0 {
				by = -1
			}
			w.instruments.NextLarge(by)
		}
	case fyne.KeyF4:
		w.instruments.ToggleFreeze()
	case fyne.KeyF6:
		w.nextPart()
	case fyne.KeyF10:
		w.turnLessons()
	case fyne.KeyF11:
		w.SetFullScreen(!w.FullScreen())
	case fyne.KeyF12:
		w.hands.ReleaseAll()
		w.session.Panic()
	case fyne.KeyEscape:
		if w.keys.Visible() {
			w.CloseKeys()
			return
		}
		if w.instruments.Large().Visible() {
			w.instruments.GiveBack()
			return
		}
		w.Canvas().Unfocus()
	default:
		w.forSheet(e)
	}
}

// forSheet gives keys of the sheet to it while nothing else has the keyboard;
// a module can be added from anywhere.
func (w *Window) forSheet(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyInsert:
	case fyne.KeyDelete, fyne.KeyF2, fyne.KeyReturn, fyne.KeyEnter, fyne.KeyLeft, fyne.KeyRight, fyne.KeyUp, fyne.KeyDown:
		if w.Canvas().Focused() != nil {
			return
		}
	default:
		return
	}
	if w.keys.Visible() {
		return
	}
	if large := w.instruments.Large(); large.Visible() {
		w.forLarge(large, e)
		return
	}
	w.Canvas().Focus(w.sheet)
	w.sheet.TypedKey(e)
}

// forLarge gives arrow keys to the instrument that has the place of the sheet. A
// module is added where it is seen; nothing is removed that is not.
func (w *Window) forLarge(large *instruments.Large, e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyInsert:
		w.instruments.GiveBack()
		w.sheet.TypedKey(e)
	case fyne.KeyLeft, fyne.KeyRight, fyne.KeyUp, fyne.KeyDown:
		if w.Canvas().Focused() == nil {
			w.Canvas().Focus(large)
			large.TypedKey(e)
		}
	}
}

func (w *Window) playOrStop() {
	if w.session.Playing() || w.session.Recording() {
		w.session.Stop()
		return
	}
	w.session.Play()
}

// parts are what takes the keyboard, in the order in which F6 goes: from the
// sheet down, and round the page.
func (w *Window) parts() []fyne.Focusable {
	parts := []fyne.Focusable{w.sheet}
	if large := w.instruments.Large(); large.Visible() {
		parts[0] = large
	}
	if rulers := w.rulers.Keyboard(); rulers != nil {
		parts = append(parts, rulers)
	}
	if w.strip.Visible() {
		parts = append(parts, w.strip)
	}
	parts = append(parts, w.instruments, w.note.Note())
	if w.lessons.Visible() {
		return append(parts, w.lessons, w.line)
	}
	return append(parts, w.contents.Keyboard(), w.line)
}

// nextPart brings the keyboard to the next part of the page, the one before
// with Shift.
func (w *Window) nextPart() {
	parts := w.parts()
	at := -1
	for i, p := range parts {
		if p == w.Canvas().Focused() {
			at = i
		}
	}
	next := at + 1
	if modifiers()&fyne.KeyModifierShift != 0 {
		next = at - 1
	}
	w.Canvas().Focus(parts[(next+len(parts))%len(parts)])
}

// shortcut is a key held with Control (Command on a Mac).
type shortcut struct {
	key  fyne.Shortcut
	do   func()
	over bool // also while something lies over the page
}

func (w *Window) shortcuts() []shortcut {
	s := w.session
	with := func(k fyne.KeyName, more fyne.KeyModifier) fyne.Shortcut {
		return &desktop.CustomShortcut{KeyName: k, Modifier: fyne.KeyModifierShortcutDefault | more}
	}
	return []shortcut{
		{key: &fyne.ShortcutUndo{}, do: s.Undo},
		{key: &fyne.ShortcutRedo{}, do: s.Redo},
		{key: with(fyne.KeyZ, fyne.KeyModifierShift), do: s.Redo},
		{key: with(fyne.KeyK, 0), do: w.note.Keep},
		{key: with(fyne.KeyS, 0), do: w.note.Keep},
		{key: with(fyne.KeyN, 0), do: s.NewSound},
		{key: with(fyne.KeyF, 0), do: w.find},
		{key: with(fyne.KeyO, 0), do: w.bringFile},
		{key: with(fyne.KeyP, 0), do: w.contents.Draw},
		{key: with(fyne.KeyR, 0), do: s.ToggleRecord},
		{key: with(fyne.KeyE, 0), do: s.StopAtEnd},
		{key: with(fyne.KeyL, 0), do: s.ToggleRepeat},
		{key: with(fyne.KeyT, 0), do: w.TurnPage, over: true},
		{key: with(fyne.KeyQ, 0), do: func() { w.leave() }, over: true},
	}
}
