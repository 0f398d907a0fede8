package window

import (
	"fmt"
	"io"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/storage"

	"lampblack/app/desk"
	"lampblack/app/window/plate"
	"lampblack/notebook"
)

// save lets the person choose where a file of an instrument is written, and
// writes it.
func (w *Window) save(f plate.File) {
	w.chooseFile("Write what the instrument shows", f.Name, f.Formats(), desk.AtInstruments, func(file fyne.URIWriteCloser) {
		w.finish(file, desk.AtInstruments, f.To(file, file.URI().Name()))
	})
}

// savePicture lets the person choose where the summary of a take is written, and
// draws it outside.
func (w *Window) savePicture(id notebook.TakeID) {
	s, ok := w.session.SummaryOf(id)
	if !ok {
		return
	}
	w.chooseFile("Draw "+s.Title+" on one page", s.Name, plate.Pictures, desk.AtContents, func(file fyne.URIWriteCloser) {
		name, theme := file.URI().Name(), w.Theme()
		w.session.Outside(s.Title+" is drawn as "+name, desk.AtContents, func(progress func(float64)) error {
			f := plate.File{Name: s.Name, Endings: plate.Pictures, WriteAs: func(to io.Writer, ending string) error {
				return s.Draw(to, ending, theme, progress)
			}}
			return f.To(file, name)
		}, func(err error) { w.finish(file, desk.AtContents, err) })
	})
}

// chooseFile asks for a file, of one of those endings if that can be had.
func (w *Window) chooseFile(title, name string, endings []string, told desk.Place, use func(fyne.URIWriteCloser)) {
	if w.covered() {
		return
	}
	w.hands.ReleaseAll()
	choose := dialog.NewFileSave(func(file fyne.URIWriteCloser, err error) {
		switch {
		case err != nil:
			w.session.Notify(desk.Notice{Place: told, Text: fmt.Sprintf("%s could not be written: %v", name, err), Fault: true})
		case file != nil:
			use(file)
		}
	}, w)
	choose.SetFilter(storage.NewExtensionFileFilter(endings)) // nothing else is offered to be written over
	choose.SetFileName(name)
	choose.Resize(fyne.NewSize(w.Canvas().Size().Width*0.7, w.Canvas().Size().Height*0.75))
	if len(endings) > 1 {
		title += " (" + plate.Alternatives(endings) + ")"
	}
	choose.SetTitleText(title)
	choose.SetConfirmText("write")
	choose.SetDismissText("leave it")
	w.choosing = choose
	choose.Show()
}

// finish closes a file and tells what came of it. Of one that could not be
// written nothing is left: the dialog has emptied it already.
func (w *Window) finish(file fyne.URIWriteCloser, at desk.Place, err error) {
	if closing := file.Close(); err == nil {
		err = closing
	}
	if err != nil {
		_ = storage.Delete(file.URI())
		w.session.Notify(desk.Notice{Place: at, Text: fmt.Sprintf("%s could not be written: %v", file.URI().Name(), err), Fault: true})
		return
	}
	w.session.Notify(desk.Notice{Place: at, Text: "written: " + file.URI().Name()})
}
