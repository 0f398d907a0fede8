package oscillator

import (
	"fmt"
	"testing"

	"lampblack/patch/kind/rig"
)

func BenchmarkOscillator(b *testing.B) {
	for _, shape := range []string{"sine", "triangle", "saw", "pulse"} {
		for _, hz := range []float64{110, 1046.5, 4186, 12544} {
			b.Run(fmt.Sprintf("%s/%gHz", shape, hz), func(b *testing.B) {
				rig.New(Kind()).Choose("shape", shape).Set("frequency", hz, "Hz").Bench(b)
			})
		}
	}
}
