package instruments

import (
	"math"
	"testing"
)

func TestTheSwitchesStepBy1And2And5(t *testing.T) {
	for _, c := range []struct {
		from float64
		n    int
		want float64
	}{
		{0.02, 1, 0.05}, {0.02, -1, 0.01}, {0.01, -1, 0.005}, {0.05, 1, 0.1}, {20e-6, -1, 10e-6}, {10e-6, -1, 10e-6}, {10, 1, 10}, {0.005, 2, 0.02}, {0.01, 1, 0.02}, {0.001, 1, 0.002},
	} {
		if got := step(c.from, c.n, leastTime, mostTime); got != c.want {
			t.Errorf("%d steps from %g: %g, want %g", c.n, c.from, got, c.want)
		}
	}
	for v := leastTime; v < mostTime; v = step(v, 1, leastTime, mostTime) {
		if back := step(step(v, 1, leastTime, mostTime), -1, leastTime, mostTime); back != v {
			t.Errorf("up and down from %g ends at %g", v, back)
		}
	}
}

func TestFiguresBearTheirUnit(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{timeText(0.02), "20 ms"}, {timeText(200e-6), "200 µs"}, {timeText(1), "1 s"}, {timeText(1e-3), "1 ms"},
		{frequencyText(45), "45.0 Hz"}, {frequencyText(2100), "2.10 kHz"}, {frequencyText(440), "440 Hz"}, {frequencyText(12345), "12.3 kHz"},
		{levelText(-6), "−6.0 dB"}, {levelText(0), "0.0 dB"}, {levelText(math.Inf(-1)), "−∞ dB"}, {levelText(1.25), "1.2 dB"},
		{number(0.2), "0.2"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}
