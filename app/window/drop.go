package window

import (
	"errors"
	"fmt"
	"io"
	"path"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage"

	"lampblack/app/desk"
	"lampblack/app/window/lessons"
	"lampblack/patch"
	"lampblack/patch/kind"
	"lampblack/patch/recording"
)

// endings are the names that audio and patch files usually end in. They only
// sort what is offered: what a file is, its bytes tell.
var endings = []string{".wav", ".flac", ".ogg", ".oga", ".mp3", ".json"}

// dropped takes files that were dropped on the window.
func (w *Window) dropped(at fyne.Position, files []fyne.URI) {
	for _, f := range files {
		w.bring(f, at)
	}
}

// bringFile lets the person choose a file.
func (w *Window) bringFile() {
	w.openFile(fileQuestion{
		title: "Bring in a recording (WAV, FLAC, Ogg Vorbis, MP3) or a patch (JSON)", confirm: "bring in", endings: endings,
		fault: "the file could not be opened: %v; nothing was brought in", told: desk.AtSheet,
	}, func(file fyne.URIReadCloser) { w.read(file, w.sheet.Next) })
}

// covered tells whether something lies over the page that the keys belong to.
func (w *Window) covered() bool { return w.keys.Visible() || w.Canvas().Overlays().Top() != nil }

func (w *Window) bring(f fyne.URI, at fyne.Position) {
	file, err := storage.Reader(f)
	if err != nil {
		w.told(fmt.Errorf("%s could not be opened: %w; it was not brought in", f.Name(), err))
		return
	}
	w.read(file, func() (string, patch.Point) { return w.sheet.Under(at) })
}

// place is where a recording belongs: in a module, if that plays recordings, or
// in a new one at a place of the sheet.
type place func() (module string, at patch.Point)

// read reads a file outside and brings it to the bench: a patch as the patch,
// anything else as a recording; a lesson is opened.
func (w *Window) read(file fyne.URIReadCloser, at place) {
	from := file.URI()
	go func() {
		defer file.Close()
		data, err := io.ReadAll(io.LimitReader(file, recording.MaxBytes+1))
		if err == nil && len(data) > recording.MaxBytes {
			err = errors.New("it is larger than 512 MiB, the most that a recording may have")
		}
		fyne.Do(func() {
			if err != nil {
				w.told(fmt.Errorf("%s could not be read: %w; it was not brought in", from.Name(), err))
				return
			}
			w.take(data, from, at)
		})
	}()
}

// take opens a lesson, and uses what is anything else.
func (w *Window) take(data []byte, from fyne.URI, at place) {
	if isJSON(from.Name()) && lessons.IsLesson(data) {
		w.useLesson(data, from)
		return
	}
	w.use(data, from.Name(), at)
}

func isJSON(name string) bool { return strings.EqualFold(path.Ext(name), ".json") }

func (w *Window) use(data []byte, name string, at place) {
	if isJSON(name) {
		w.usePatch(data, name)
		return
	}
	module, point := at()
	if k := w.session.Kind(module); k == nil || k.Name != "recording" {
		module = ""
	}
	w.session.BringRecording(module, name, data, point)
}

// usePatch puts the patch of a file on the bench. It is an edit: undo brings
// back what was there.
func (w *Window) usePatch(data []byte, name string) {
	p, err := patch.Read(data)
	if err != nil {
		w.told(fmt.Errorf("%s: %w; the patch was not loaded", name, err))
		return
	}
	w.session.Do(desk.Edit{Name: "load " + name, Apply: func(b *desk.Bench) error {
		b.Patch = patch.Resolve(p, kind.Catalogue).Clone() // words become the numbers of choices
		return nil
	}})
}

func (w *Window) told(err error) {
	w.session.Notify(desk.Notice{Place: desk.AtSheet, Text: err.Error(), Fault: true})
}
