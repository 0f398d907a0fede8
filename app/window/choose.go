package window

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/storage"

	"lampblack/app/desk"
	"lampblack/app/window/plate"
)

// fileQuestion is a question for a file.
type fileQuestion struct {
	title, confirm string
	endings        []string // of the files that are offered
	fault          string   // what is said where it can't be had, with %v for why
	told           desk.Place
}

// openFile asks for a file to be read.
func (w *Window) openFile(a fileQuestion, use func(fyne.URIReadCloser)) {
	w.choose(a, dialog.NewFileOpen(func(file fyne.URIReadCloser, err error) {
		switch {
		case err != nil:
			w.refuse(a, err)
		case file != nil:
			use(file)
		}
	}, w))
}

// saveFile asks for a file to be written.
func (w *Window) saveFile(a fileQuestion, name string, use func(fyne.URIWriteCloser)) {
	if len(a.endings) > 1 {
		a.title += " (" + plate.Alternatives(a.endings) + ")"
	}
	d := dialog.NewFileSave(func(file fyne.URIWriteCloser, err error) {
		switch {
		case err != nil:
			w.refuse(a, err)
		case file != nil:
			use(file)
		}
	}, w)
	d.SetFileName(name)
	w.choose(a, d)
}

func (w *Window) refuse(a fileQuestion, err error) {
	w.session.Notify(desk.Notice{Place: a.told, Text: fmt.Sprintf(a.fault, err), Fault: true})
}

// choose shows the question over most of the page, unless something lies over it
// already.
func (w *Window) choose(a fileQuestion, d *dialog.FileDialog) {
	if w.covered() {
		return
	}
	w.hands.ReleaseAll()
	d.SetFilter(storage.NewExtensionFileFilter(a.endings)) // nothing else is offered
	d.Resize(fyne.NewSize(w.Canvas().Size().Width*0.7, w.Canvas().Size().Height*0.75))
	d.SetTitleText(a.title)
	d.SetConfirmText(a.confirm)
	d.SetDismissText("leave it")
	w.choosing = d
	d.Show()
}
