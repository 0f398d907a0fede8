package instruments

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestAnOutlineLosesNoPeak(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ys := rapid.SliceOfN(rapid.Float64Range(-1, 1), 1, 400).Draw(t, "samples")
		perPixel := rapid.Float64Range(0.1, 50).Draw(t, "samples a pixel")
		at := func(i int) (float64, float64) { return float64(i) / perPixel, ys[i] }
		line := outline(nil, len(ys), at)
		crestLine := crest(nil, len(ys), at)
		low, high, drawnLow, drawnHigh, top := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1), math.Inf(1)
		for _, y := range ys {
			low, high = min(low, y), max(high, y)
		}
		columns := map[int]int{}
		for i, p := range line {
			drawnLow, drawnHigh = min(drawnLow, p.y), max(drawnHigh, p.y)
			if columns[int(p.x)]++; columns[int(p.x)] > 4 {
				t.Fatalf("more than four points in column %d", int(p.x))
			}
			if i > 0 && p.x < line[i-1].x {
				t.Fatalf("point %d runs back from x = %g to %g", i, line[i-1].x, p.x)
			}
		}
		for _, p := range crestLine {
			top = min(top, p.y)
		}
		if low != drawnLow || high != drawnHigh || top != low {
			t.Fatalf("samples reach %g to %g, the outline %g to %g, the crest %g", low, high, drawnLow, drawnHigh, top)
		}
	})
}

func TestFewSamplesAreAllDrawn(t *testing.T) {
	ys := []float64{0, 1, 0, -1, 0}
	line := outline(nil, len(ys), func(i int) (float64, float64) { return float64(i) * 10, ys[i] })
	if len(line) != len(ys) {
		t.Fatalf("%d points drawn of %d", len(line), len(ys))
	}
}

func TestTheSwitchesStepBy1And2And5(t *testing.T) {
	for _, c := range []struct {
		from float64
		n    int
		want float64
	}{
		{0.02, 1, 0.05}, {0.02, -1, 0.01}, {0.01, -1, 0.005}, {1, 1, 1}, {100e-6, -1, 100e-6}, {0.05, 2, 0.2}, {0.1, 1, 0.2}, {0.001, 1, 0.002},
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
