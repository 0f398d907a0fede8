package window

import (
	"errors"
	"fmt"
	"io"

	"fyne.io/fyne/v2"

	"lampblack/app/desk"
	"lampblack/app/lesson"
	"lampblack/app/window/lessons"
	"lampblack/patch"
)

// makeLessons makes the column of lessons, which takes the place of the contents
// while it is open.
func (w *Window) makeLessons() {
	w.lessons = lessons.New(w.session)
	w.lessons.Close = w.closeLessons
	w.lessons.Look = w.lookAt
	w.lessons.Enlarge = w.enlargeFor
	w.lessons.Choose = w.chooseControl
	w.lessons.Open = w.openLesson
	w.lessons.Keyboard = func() { w.Canvas().Focus(w.lessons) }
}

// turnLessons opens the lessons, brings the keyboard back to them, or, if it is
// there, closes them.
func (w *Window) turnLessons() {
	if w.covered() {
		return
	}
	if w.lessons.Visible() && w.Canvas().Focused() == fyne.Focusable(w.lessons) {
		w.closeLessons()
		return
	}
	w.showLessons()
	w.lessons.Come()
}

func (w *Window) showLessons() {
	w.contents.Hide()
	w.lessons.Show()
	w.page.Refresh()
}

// closeLessons gives the contents their place back. The bench stays as it is.
func (w *Window) closeLessons() {
	w.lookAt("")
	w.lessons.Leave()
	w.contents.Show()
	w.page.Refresh()
	w.Canvas().Focus(w.sheet)
}

// find gives the keyboard to the find field of the contents.
func (w *Window) find() {
	if w.lessons.Visible() {
		w.closeLessons()
	}
	w.contents.Find()
}

// lookAt shows an instrument. Scope, spectrum and meters are always seen in their
// column, so that the sheet keeps its place; a spectrogram is large or not at all.
func (w *Window) lookAt(instrument string) {
	switch large := w.instruments.Enlarged(); {
	case instrument == large:
	case instrument == "spectrogram":
		w.besideLesson(func() { w.instruments.EnlargeNamed(instrument) })
	case large != "":
		w.besideLesson(w.instruments.GiveBack)
	}
}

// enlargeFor gives an instrument the place of the sheet, or the sheet its place
// back if that instrument has it.
func (w *Window) enlargeFor(instrument string) {
	w.besideLesson(func() {
		if w.instruments.Enlarged() == instrument {
			w.instruments.GiveBack()
			return
		}
		w.instruments.EnlargeNamed(instrument)
	})
}

// besideLesson changes what is large; the keyboard stays with the lesson.
func (w *Window) besideLesson(change func()) {
	learning := w.Canvas().Focused() == fyne.Focusable(w.lessons)
	change()
	if learning {
		w.Canvas().Focus(w.lessons)
	}
}

// chooseControl shows the ruler of a control, and if it is to be turned brings
// the keyboard there.
func (w *Window) chooseControl(at patch.Socket, turn bool) {
	if sel := w.session.Selection(); sel.Cord >= 0 || w.session.Chosen() != at.Module {
		w.session.Select(desk.Selection{Modules: []string{at.Module}, Cord: -1, Note: -1})
	}
	if r := w.rulers.Find(at.Name); r != nil && turn {
		w.Canvas().Focus(r)
	}
}

// openLesson lets the person choose a lesson file.
func (w *Window) openLesson() {
	w.openFile(fileQuestion{
		title: "Open a lesson (JSON)", confirm: "open", endings: []string{".json"},
		fault: "the file could not be opened: %v; no lesson was opened", told: desk.AtSheet,
	}, w.readLesson)
}

// readLesson reads a lesson file outside.
func (w *Window) readLesson(file fyne.URIReadCloser) {
	w.session.Elsewhere(func() func() {
		defer file.Close()
		data, err := io.ReadAll(io.LimitReader(file, lesson.MaxFile+1))
		if err == nil && len(data) > lesson.MaxFile {
			err = errors.New("it is larger than 1 MiB, the most that a lesson may have")
		}
		return func() {
			if err != nil {
				w.told(fmt.Errorf("%s could not be read: %w; no lesson was opened", file.URI().Name(), err))
				return
			}
			w.useLesson(data, file.URI())
		}
	})
}

// useLesson opens a lesson that was read from a file, and shows it.
func (w *Window) useLesson(data []byte, from fyne.URI) {
	where := ""
	if from.Scheme() == "file" {
		where = from.Path()
	}
	w.showLessons()
	w.lessons.Read(data, from.Name(), where)
}
