package instruments

import (
	"image"
	"testing"

	"fyne.io/fyne/v2"
)

// BenchmarkLarge measures what each large picture costs at 800 by 500 pixels.
func BenchmarkLarge(b *testing.B) {
	for _, c := range []struct {
		name  string
		which instrument
		set   func(w *switches)
	}{
		{"scope", ofScope, func(w *switches) {}},
		{"afterglow", ofScope, func(w *switches) { w.fade = 1 }},
		{"plane", ofScope, func(w *switches) { w.plane = true }},
		{"spectrum", ofSpectrum, func(w *switches) {}},
		{"thirds", ofSpectrum, func(w *switches) { w.show = showBands }},
		{"spectrogram", ofGram, func(w *switches) {}},
	} {
		b.Run(c.name, func(b *testing.B) {
			bench, p := sines(b, "soot", 440)
			p.Enlarge(c.which)
			p.set(c.set)
			large := p.large.plates
			scope, spectrum := large[ofScope].(*scopePlate).picture, large[ofSpectrum].(*spectrumPlate).picture
			for _, r := range []fyne.CanvasObject{scope.raster, spectrum.raster} {
				r.Resize(fyne.NewSize(800, 500)) // a unit is a pixel
			}
			draw := map[instrument]func(int, int) image.Image{ofScope: scope.draw, ofSpectrum: spectrum.draw, ofGram: p.measure.gram.draw}[c.which]
			for b.Loop() {
				b.StopTimer()
				bench.Listen(1.0 / 30)
				b.StartTimer()
				p.measure.read(bench.Session)
				draw(800, 500)
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/1e6, "ms/frame")
		})
	}
}
