package meter

import (
	"math"
	"testing"
)

// BenchmarkMeters measures how fast a minute of stereo at 48 kHz is read, by all
// meters together and by each.
func BenchmarkMeters(b *testing.B) {
	const rate, seconds = 48000, 10
	left, right := make([]float64, rate*seconds), make([]float64, rate*seconds)
	for i := range left {
		t := float64(i) / rate
		left[i] = 0.3*math.Sin(2*math.Pi*220*t) + 0.1*math.Sin(2*math.Pi*7310*t)
		right[i] = 0.3*math.Sin(2*math.Pi*220*t+0.4) + 0.1*math.Sin(2*math.Pi*9310*t)
	}
	both := [][]float64{left, right}
	weights := Weights(2)
	run := func(name string, write func()) {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				write()
			}
			b.ReportMetric(seconds*float64(b.N)/b.Elapsed().Seconds(), "x-realtime")
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/(rate*seconds), "ns/frame")
		})
	}
	run("all at once", func() { New(rate, weights).WriteAtOnce(both) })
	m := New(rate, weights)
	run("all in a row", func() { m.Write(both) })
	run("one channel", func() { m.each[0].Write(left) })
	run("loudness", func() { m.loudness.Write(both) })
	run("correlation", func() { m.correlation.Write(both) })
	run("tone", func() { m.tone.Write(both) })
	run("envelope", func() { m.envelope.Write(both) })
}
