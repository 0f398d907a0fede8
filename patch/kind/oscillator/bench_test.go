package oscillator

import (
	"fmt"
	"testing"

	"lampblack/patch/kind/rig"
)

func BenchmarkOscillator(b *testing.B) {
	for _, shape := range []string{"sine", "triangle", "saw", "pulse"} {
		for _, hz := range []float64{27.5, 440, 4186, 12544} {
			b.Run(fmt.Sprintf("%s/%gHz", shape, hz), func(b *testing.B) {
				rig.New(Kind()).Choose("shape", shape).Set("frequency", hz, "Hz").Bench(b)
			})
		}
	}
}

// What joins and movements cost: to be held against BenchmarkOscillator. The
// modulators repeat with the block, which is run again and again.
func BenchmarkMoved(b *testing.B) {
	for _, shape := range []string{"sine", "triangle", "saw", "pulse"} {
		for _, hz := range []float64{750, 3750} {
			make := func() *rig.Rig { return rig.New(Kind()).Choose("shape", shape).Set("frequency", hz, "Hz") }
			b.Run(fmt.Sprintf("%s/%gHz/synced", shape, hz), make().Set("frequency", 3.37*hz, "Hz").Feed("sync", rig.Sine(hz)).Bench)
			b.Run(fmt.Sprintf("%s/%gHz/through zero", shape, hz), make().Move("shift", "Hz", func(n int) float64 { return 2 * hz * rig.Sine(hz)(n) }).Bench)
			b.Run(fmt.Sprintf("%s/%gHz/phase", shape, hz), make().Move("phase", "deg", func(n int) float64 { return 100 * rig.Sine(hz)(n) }).Bench)
			b.Run(fmt.Sprintf("%s/%gHz/frequency", shape, hz), make().Move("frequency", "Hz", func(n int) float64 { return hz * (1 + 0.1*rig.Sine(750)(n)) }).Bench)
		}
		b.Run(shape+"/feedback", rig.New(Kind()).Choose("shape", shape).Set("feedback", 20, "%").Bench)
	}
	for _, hz := range []float64{440, 4186, 12544} {
		b.Run(fmt.Sprintf("pulse/%gHz/width", hz), rig.New(Kind()).Choose("shape", "pulse").Set("frequency", hz, "Hz").
			Move("width", "%", func(n int) float64 { return 50 + 30*rig.Sine(750)(n) }).Bench)
	}
}
