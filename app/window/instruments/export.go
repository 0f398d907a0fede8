package instruments

import (
	"encoding/csv"
	"fmt"
	"image"
	"image/draw"
	"image/png"
	"io"
	"strconv"

	"fyne.io/fyne/v2"

	"lampblack/scope"
)

// numbersSetting writes what is shown as numbers.
func (t *Panel) numbersSetting() setting {
	return setting{name: "numbers", text: "write …", tap: func() {
		if t.Save != nil {
			t.Save(t.large.shown.String()+".csv", t.WriteNumbers)
		}
	}, hint: "a file for a spreadsheet (CSV) with what the picture shows"}
}

// pictureSetting writes what is shown as a picture.
func (t *Panel) pictureSetting() setting {
	return setting{name: "picture", text: "write …", tap: func() {
		if shot := t.large.capture(); t.Save != nil && shot != nil {
			t.Save(t.large.shown.String()+".png", func(w io.Writer) error { return png.Encode(w, shot) })
		}
	}, hint: "the picture with its scales, as it is now (PNG)"}
}

// WriteNumbers writes what the large instrument shows: the scope's traces over
// time, or the spectra over frequency.
func (t *Panel) WriteNumbers(w io.Writer) error {
	if t.large.shown == ofSpectrum {
		return t.measure.writeSpectra(w)
	}
	return t.measure.writeTraces(w)
}

func (m *measure) writeTraces(w io.Writer) error {
	var traces []scope.Kept
	for i, name := range []string{"A", "B"} {
		if m.connected[i] && len(m.samples[i]) > 0 {
			traces = append(traces, scope.Keep(name, "", m.samples[i], m.rate, m.view, m.zero))
		}
	}
	for i, name := range []string{"A kept", "B kept"} {
		if m.hasKept[i] {
			k := m.kept[i]
			k.Name = name
			traces = append(traces, k)
		}
	}
	return scope.WriteCSV(w, traces...)
}

func (m *measure) writeSpectra(w io.Writer) error {
	out := csv.NewWriter(w)
	out.UseCRLF = true // RFC 4180
	head, levels := []string{"frequency (Hz)"}, [][]float64{}
	for i, name := range []string{"A (dBFS)", "B (dBFS)"} {
		if m.connected[i] {
			head, levels = append(head, name), append(levels, m.spectra[i].Levels())
		}
	}
	if len(levels) == 0 {
		return fmt.Errorf("no probe is on an output: there is nothing to be written")
	}
	err := out.Write(head)
	for bin := 0; bin < len(levels[0]) && err == nil; bin++ {
		line := []string{strconv.FormatFloat(m.spectra[0].Hz(float64(bin), m.rate), 'g', 9, 64)}
		for _, l := range levels {
			line = append(line, strconv.FormatFloat(l[bin], 'f', 4, 64))
		}
		err = out.Write(line)
	}
	out.Flush()
	if err == nil {
		err = out.Error()
	}
	if err != nil {
		return fmt.Errorf("the spectra could not be written: %w", err)
	}
	return nil
}

// capture returns the large view without the margin of its settings, as it is
// on the screen; nil if it is not shown.
func (l *Large) capture() image.Image {
	c := fyne.CurrentApp().Driver().CanvasForObject(l)
	if c == nil || !l.Visible() {
		return nil
	}
	all := c.Capture()
	at := fyne.CurrentApp().Driver().AbsolutePositionForObject(l)
	scale := float32(all.Bounds().Dx()) / max(c.Size().Width, 1)
	px := func(v float32) int { return int(v * scale) }
	from := image.Rect(px(at.X), px(at.Y), px(at.X+l.picture.x+l.picture.width+8), px(at.Y+l.Size().Height)).Intersect(all.Bounds())
	part := image.NewRGBA(image.Rect(0, 0, from.Dx(), from.Dy()))
	draw.Draw(part, part.Bounds(), all, from.Min, draw.Src)
	return part
}
