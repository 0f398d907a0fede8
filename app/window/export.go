package window

import (
	"fmt"
	"io"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage"

	"lampblack/app/desk"
	"lampblack/app/window/plate"
	"lampblack/notebook"
)

// save lets the person choose where a file of an instrument is written, and
// writes it.
func (w *Window) save(f plate.File) {
	w.saveFile(fileQuestion{
		title: "Write what the instrument shows", confirm: "write", endings: f.Formats(),
		fault: "what the instrument shows could not be written: %v", told: desk.AtInstruments,
	}, f.Name, func(file fyne.URIWriteCloser) {
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
	w.saveFile(fileQuestion{
		title: "Draw " + s.Title + " on one page", confirm: "write", endings: plate.Pictures,
		fault: "the page could not be written: %v", told: desk.AtContents,
	}, s.Name, func(file fyne.URIWriteCloser) {
		name, theme := file.URI().Name(), w.Theme()
		w.session.Outside(s.Title+" is drawn as "+name, desk.AtContents, func(progress func(float64)) error {
			f := plate.File{Name: s.Name, Endings: plate.Pictures, WriteAs: func(to io.Writer, ending string) error {
				return s.Draw(to, ending, theme, progress)
			}}
			return f.To(file, name)
		}, func(err error) { w.finish(file, desk.AtContents, err) })
	})
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
