package look

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"

	"lampblack/app/window/look/golden"
)

var bothThemes = []string{"soot", "paper"}

// specimen shows every style and symbol on the ground of the theme.
func specimen() fyne.CanvasObject {
	rows := container.NewVBox()
	for _, line := range []struct {
		style Style
		text  string
	}{
		{Title, "The Glasshouse"}, {Caps, "Mast wind, 1M4 Moths at the lamp"}, {Body, "Width down from 310 to 45 Hz: now it has a pitch."},
		{Quiet, "band-pass, two poles; width is centre ÷ Q"}, {Figures, "−6.0 dB  2.10 kHz  11:14:05"}, {Figures, "+3.8 dB  9.99 kHz  00:00:07"},
		{Emphasis, "not kept yet"}, {Small, "20 50 100 200 500 1k 2k"}, {Body, "é ñ ö ß š ł ½ ¼ ♯ ♭ → × ÷ ° α β τ ω Δ"},
	} {
		rows.Add(NewText(line.style, line.text))
	}
	rows.Add(NewRule())
	marks := container.NewHBox()
	for _, name := range []string{"generator", "slow", "noise", "filter", "low", "high", "notch", "envelope", "amplifier", "mixer", "multiplier", "recording", "memory", "output"} {
		marks.Add(NewSymbol(name, 1.8))
	}
	rows.Add(marks)
	marks = container.NewHBox()
	for _, name := range []string{"play", "playing", "stop", "stop at end", "record", "recording now", "repeat", "probe", "cross"} {
		marks.Add(NewSymbol(name, 1.2))
	}
	rows.Add(marks)
	return container.NewStack(canvas.NewRectangle(Now().Ground), container.NewPadded(rows))
}

func TestSpecimen(t *testing.T) {
	for _, name := range bothThemes {
		for _, size := range []struct {
			name  string
			scale float32
		}{{"", 1}, {"-large", 2}} {
			t.Run(name+size.name, func(t *testing.T) {
				test.NewTempApp(t)
				test.ApplyTheme(t, Theme(name))
				w := test.NewTempWindow(t, specimen())
				w.Canvas().(test.WindowlessCanvas).SetScale(size.scale)
				w.Resize(w.Content().MinSize())
				golden.Check(t, "specimen-"+name+size.name+".png", w.Canvas())
			})
		}
	}
}
