// Package window is the page on the screen: its parts, its keys, its start.
//
//	Open -> notebook, session, loudspeaker -> New -> contents | sheet | instruments
//
// Every part draws from the session and watches it; none knows another. What
// is dragged, the theme and which hints were put away are kept in the desktop's
// preferences, everything else in the notebook. It is the only part of the
// program with a screen. Held by tests: golden pictures in both themes and
// sizes, stories of the main job on a real session, and the time of a redraw.
package window

import (
	"fmt"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"

	"lampblack/app/desk"
	"lampblack/app/timing"
	"lampblack/app/window/contents"
	"lampblack/app/window/instruments"
	"lampblack/app/window/keys"
	"lampblack/app/window/leaf"
	"lampblack/app/window/lessons"
	"lampblack/app/window/look"
	"lampblack/app/window/note"
	"lampblack/app/window/ruler"
	"lampblack/app/window/sheet"
	"lampblack/app/window/strip"
	"lampblack/app/window/told"
	"lampblack/app/window/transport"
	"lampblack/assets"
)

// Name is the program's name in the title of its window and in the desktop.
const Name = "Lampblack"

// Window is the page in a window of the desktop.
type Window struct {
	fyne.Window
	leaf.Ends
	session *desk.Session
	hands   *keys.Hands

	page        *page
	contents    *contents.Column
	lessons     *lessons.Column
	line        *transport.Line
	sheet       *sheet.Sheet
	rulers      *ruler.Rulers
	strip       *strip.Strip
	instruments *instruments.Panel
	note        *note.Column
	offer       *offer
	foot        *leaf.Leaf
	keys        *keys.Page
	later       *errands
	leave       func() // ends the program; closes the window where it is shown by itself
	deaf        bool   // the window closes: keys change nothing any more
	built       bool   // the demo job has been made
	progress    desk.Notice
	quiet       int // beats since anything was heard or done
	looked      time.Time
	choosing    *dialog.FileDialog // the last one that was opened
	larger      float32            // how many times as large as usual text is
	counts      *timing.Counts     // how fast it is; nil if nobody measures
}

// New returns a window that shows a session; it is not shown yet.
func New(app fyne.App, s *desk.Session) *Window {
	app.Settings().SetTheme(look.Theme(app.Preferences().StringWithFallback(themeKey, "soot")))
	w := &Window{Window: app.NewWindow(Name), session: s, hands: keys.NewHands(s), larger: 1}
	w.leave = w.Close
	w.SetIcon(icon())
	w.makeParts()
	w.lay()
	w.listen()
	w.retitle()
	for _, t := range []desk.Topic{desk.Contents, desk.Patch} {
		w.Until(s.Watch(t, w.retitle))
	}
	for _, t := range []desk.Topic{desk.Patch, desk.Memory, desk.Select, desk.Probes, desk.Transport, desk.Note, desk.Sound} {
		w.Until(s.Watch(t, func() { w.quiet = 0 }))
	}
	w.Until(look.Live.Watch(w.lookElsewhere))
	w.Resize(lastSize())
	return w
}

// firstSize fits the smallest screen that the page is made for, with room for
// the desktop's own bars.
var firstSize = fyne.NewSize(1280, 780)

// lastSize is the size that the window had when it was closed last.
func lastSize() fyne.Size {
	width, height := preferences().Float(widthKey), preferences().Float(heightKey)
	if !(width >= 600 && width <= 16000 && height >= 400 && height <= 16000) {
		return firstSize
	}
	return fyne.NewSize(float32(width), float32(height))
}

// keepSize remembers the size, unless the window fills the screen.
func (w *Window) keepSize() {
	size := w.Canvas().Size()
	if w.FullScreen() || size.Width <= 0 {
		return
	}
	preferences().SetFloat(widthKey, float64(size.Width))
	preferences().SetFloat(heightKey, float64(size.Height))
}

const widthKey, heightKey = "window width", "window height"

func (w *Window) makeParts() {
	s := w.session
	w.contents = contents.New(s)
	w.makeLessons()
	w.contents.Picture = w.savePicture
	w.line = transport.New(s)
	w.sheet = sheet.New(s)
	w.rulers = ruler.NewRulers(s)
	w.strip = strip.New(s, w.hands)
	w.instruments = instruments.New(s)
	w.instruments.Large().Changed = w.enlarged
	w.instruments.Save = w.save
	w.note = note.New(s)
	w.offer = newOffer(s, func() { w.page.Refresh() })
	w.offer.taught = w.lessons.Visible
	w.foot = leaf.New(w.writeFoot)
	w.keys = keys.NewPage(w.CloseKeys)
	w.keys.Hints = w.showHints
	w.keys.Hide()
}

// showHints brings back what was put away, and closes the page of keys.
func (w *Window) showHints() {
	told.Restore("first", "memory", "contents", "instruments")
	w.CloseKeys()
	w.page.Refresh()
}

// enlarged gives the place of the sheet and the memory to an instrument, or
// back, and the keyboard with it.
func (w *Window) enlarged() {
	large := w.instruments.Large()
	if large.Visible() {
		w.sheet.Hide()
		w.strip.Hide()
		w.Canvas().Focus(large)
	} else {
		w.sheet.Show()
		w.strip.Show()
		w.Canvas().Focus(w.sheet)
	}
	w.page.Refresh()
}

// Stop ends all watching of the session: the window is closed.
func (w *Window) Stop() {
	w.Ends.Stop()
	for _, part := range []interface{ Stop() }{w.contents, w.lessons, w.line, w.sheet, w.rulers, w.strip, w.instruments, w.note, w.offer} {
		part.Stop()
	}
}

func (w *Window) lay() {
	g := newPage()
	g.contents, g.lessons, g.foot = w.contents, w.lessons, w.foot
	g.line, g.offer, g.sheet, g.rulers, g.mem = w.line, w.offer, w.sheet, w.rulers, w.strip
	g.instruments, g.note, g.large = w.instruments, w.note, w.instruments.Large()
	g.offerHeight = w.offer.height
	w.page = g
	w.SetPadded(false)
	w.SetContent(container.NewStack(g, w.keys))
}

// retitle names the job in the title of the window.
func (w *Window) retitle() {
	title := Name
	if job, _, ok := w.session.CueOf(); ok {
		title = fmt.Sprintf("%s — %s", Name, job.Name)
	}
	if w.Title() != title {
		w.SetTitle(title)
	}
}

// restAfter is how many beats of quiet go before what moves slows down.
const restAfter = 90

// resting tells whether nothing has been heard or done for a while. Modules run
// on, and so do their traces, but a program that is only looked at should not
// keep the machine busy.
func (w *Window) resting() bool {
	s := w.session
	if s.Playing() || s.Recording() || s.AuditionPlaying() != 0 || w.hands.Held() > 0 || w.instruments.Heard() {
		w.quiet = 0
	}
	w.quiet++
	return w.quiet > restAfter
}

// lookElsewhere sees every other second whether another window or a command has
// written into the notebook.
func (w *Window) lookElsewhere() {
	if now := time.Now(); now.Sub(w.looked) >= 2*time.Second {
		w.looked = now
		w.session.LookElsewhere()
	}
}

// themeKey is where the chosen theme is kept in the preferences.
const themeKey = "theme"

// Theme returns the name of the theme that is shown.
func (w *Window) Theme() string { return look.Now().Name }

// TurnPage changes between soot and paper, and remembers it.
func (w *Window) TurnPage() {
	next := "paper"
	if w.Theme() == "paper" {
		next = "soot"
	}
	preferences().SetString(themeKey, next)
	w.dress(next)
}

// EnlargeText makes all text scale times as large as usual, and the page with
// it.
func (w *Window) EnlargeText(scale float32) {
	w.larger = scale
	w.dress(w.Theme())
}

// dress shows a theme in the size of text that the desktop asks for.
func (w *Window) dress(theme string) {
	fyne.CurrentApp().Settings().SetTheme(look.ThemeWithText(theme, look.TextSize*w.larger))
	w.Content().Refresh()
}

// ShowKeys lays the page of keys over the window.
func (w *Window) ShowKeys() {
	w.hands.ReleaseAll()
	w.keys.Show()
	w.keys.Refresh()
	w.Canvas().Focus(w.keys)
}

// CloseKeys puts the page of keys away.
func (w *Window) CloseKeys() {
	w.keys.Hide()
	w.Canvas().Unfocus()
}

// writeFoot writes the quiet words under the contents.
func (w *Window) writeFoot(p *leaf.Pen) {
	base, x := p.Em*1.2, p.Em*1.3
	word, end := p.Word("keys", look.Quiet, x, base, "keys: F1")
	word.Tap = w.ShowKeys
	word, end = p.Word("lessons", look.Quiet, end+p.Em*1.1, base, "lessons: F10")
	word.Tap = w.turnLessons
	next := "paper"
	if p.Ink.Name == "paper" {
		next = "soot"
	}
	at := p.Width - p.Em*1.3 - p.Wide(look.Quiet, next)
	if at > end {
		word, _ = p.Word("theme", look.Quiet, at, base, next)
		word.Tap = w.TurnPage
	}
}

func icon() fyne.Resource {
	const name = "icon/lampblack-256.png"
	file, err := assets.Files.ReadFile(name)
	if err != nil {
		return nil // a window without an icon is still a window
	}
	return fyne.NewStaticResource(name, file)
}
