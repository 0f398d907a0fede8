package window

import (
	"fmt"
	"io"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"

	"lampblack/app/desk"
)

// save lets the person choose where a file is written, and writes it.
func (w *Window) save(name string, write func(io.Writer) error) {
	if w.covered() {
		return
	}
	w.hands.ReleaseAll()
	choose := dialog.NewFileSave(func(file fyne.URIWriteCloser, err error) {
		if file == nil && err == nil {
			return
		}
		if err == nil {
			err = write(file)
			if closing := file.Close(); err == nil {
				err = closing
			}
		}
		if err != nil {
			w.session.Notify(desk.Notice{Place: desk.AtInstruments, Text: fmt.Sprintf("%s could not be written: %v", name, err), Fault: true})
			return
		}
		w.session.Notify(desk.Notice{Place: desk.AtInstruments, Text: "written: " + file.URI().Name()})
	}, w)
	choose.SetFileName(name)
	choose.Resize(fyne.NewSize(w.Canvas().Size().Width*0.7, w.Canvas().Size().Height*0.75))
	choose.SetTitleText("Write what the instrument shows")
	choose.SetConfirmText("write")
	choose.SetDismissText("leave it")
	w.choosing = choose
	choose.Show()
}
