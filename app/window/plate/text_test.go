package plate

import (
	"math"
	"testing"
)

func TestFiguresBearTheirUnit(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{Time(0.02), "20 ms"}, {Time(200e-6), "200 µs"}, {Time(1), "1 s"}, {Time(1e-3), "1 ms"},
		{Hertz(45), "45.0 Hz"}, {Hertz(2100), "2.10 kHz"}, {Hertz(440), "440 Hz"}, {Hertz(12345), "12.3 kHz"},
		{Level(-6), "−6.0 dB"}, {Level(0), "0.0 dB"}, {Level(math.Inf(-1)), "−∞ dB"}, {Level(1.25), "1.2 dB"},
		{Number(0.2), "0.2"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}
