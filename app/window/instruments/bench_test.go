package instruments

import (
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
			for _, r := range []fyne.CanvasObject{p.large.scope.raster, p.large.spectrum.raster} {
				r.Resize(fyne.NewSize(800, 500)) // a unit is a pixel
			}
			draw := map[instrument]func(){
				ofScope: func() { p.large.scope.draw(800, 500) }, ofSpectrum: func() { p.large.spectrum.draw(800, 500) },
				ofGram: func() { p.measure.gram.draw(800, 500) },
			}[c.which]
			for b.Loop() {
				b.StopTimer()
				bench.Listen(1.0 / 30)
				b.StartTimer()
				p.measure.read(bench.Session)
				draw()
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/1e6, "ms/frame")
		})
	}
}
