package sheet

import (
	"math"
	"testing"
)

// tape is a source that a test fills.
type tape struct{ samples []float32 }

func (t *tape) add(n int, f func(i int) float64) {
	at := len(t.samples)
	for i := range n {
		t.samples = append(t.samples, float32(f(at+i)))
	}
}

func (t *tape) End() int64 { return int64(len(t.samples)) }

func (t *tape) Read(dst []float32) (int64, bool) { return t.End(), t.ReadAt(t.End(), dst) }

func (t *tape) ReadAt(end int64, dst []float32) bool {
	for i := range dst {
		dst[i] = 0
		if at := int(end) - len(dst) + i; at >= 0 {
			dst[i] = t.samples[at]
		}
	}
	return true
}

func sine(hz float64) func(int) float64 {
	return func(i int) float64 { return math.Sin(2 * math.Pi * hz * float64(i) / 48000) }
}

func TestATraceShowsSomePeriodsFromARise(t *testing.T) {
	for _, hz := range []float64{23, 440, 5000} {
		from := &tape{}
		s := &signal{from: from}
		from.add(32768, sine(hz))
		if !s.beat() {
			t.Fatalf("%g Hz: nothing was read", hz)
		}
		shown := float64(len(s.Line)) * hz / 48000
		if shown < periods && len(s.Line) < mostShown || shown > 2*periods && len(s.Line) > leastShown {
			t.Errorf("%g Hz: %.1f periods are shown", hz, shown)
		}
		if s.Line[0] > float32(2*math.Pi*hz/48000)*1.1 || s.Line[0] < 0 || s.Line[1] < s.Line[0] {
			t.Errorf("%g Hz: the trace begins %g, %g; it should rise through 0", hz, s.Line[0], s.Line[1])
		}
	}
}

func TestASlowSignalRolls(t *testing.T) {
	from := &tape{}
	s := &signal{from: from}
	for range 4 * columns {
		from.add(1600, sine(0.31))
		s.beat()
	}
	if s.window != 0 || len(s.Line) != 2*columns {
		t.Fatalf("window %d, %d values", s.window, len(s.Line))
	}
	// 58 columns of 3,200 samples: 3.9 s of a period of 3.2 s.
	least, most := float32(1), float32(-1)
	for _, v := range s.Line {
		least, most = min(least, v), max(most, v)
	}
	if least > -0.99 || most < 0.99 {
		t.Errorf("of a whole swing %g to %g is shown", least, most)
	}
}

func TestNothingChangesInSilence(t *testing.T) {
	from := &tape{}
	s := &signal{from: from}
	from.add(4800, func(int) float64 { return 0 })
	s.beat()
	for range 2 * columns {
		from.add(1600, func(int) float64 { return 0 })
		s.beat()
	}
	from.add(1600, func(int) float64 { return 0 })
	if s.beat() {
		t.Error("silence was drawn again")
	}
	if s.beat() {
		t.Error("a signal that stands still was drawn again")
	}
}

func TestAWeakSignalIsEnlargedAfterAWhile(t *testing.T) {
	from := &tape{}
	s := &signal{from: from}
	from.add(16384, func(i int) float64 { return 0.01 * sine(440)(i) })
	s.beat()
	if s.Range != 1 {
		t.Errorf("at once the range is %g", s.Range)
	}
	for range fall + 2 {
		from.add(1601, func(i int) float64 { return 0.01 * sine(440)(i) })
		s.beat()
	}
	if s.Range != 1./64 {
		t.Errorf("after a while the range of ±0.01 is %g, want 1/64", s.Range)
	}
	from.add(16384, sine(440))
	s.beat()
	if s.Range != 1 {
		t.Errorf("a strong signal does not enlarge the range at once: %g", s.Range)
	}
}

func TestRanges(t *testing.T) {
	for _, c := range []struct{ peak, want float32 }{{0, 1}, {0.0005, 1}, {0.0015, 1. / 512}, {0.25, 0.25}, {0.26, 0.5}, {1, 1}, {1.1, 2}, {10, 16}} {
		if got := rangeFor(c.peak); got != c.want {
			t.Errorf("a peak of %g is shown in ±%g, want ±%g", c.peak, got, c.want)
		}
	}
}

// A tap that nobody asks for is let go of; the new one begins at nothing.
func TestATraceGoesOnWithANewTap(t *testing.T) {
	old, fresh := &tape{}, &tape{}
	old.add(60000, sine(440))
	s := &signal{from: old}
	s.beat()
	s.from = fresh
	if s.beat() {
		t.Error("it has changed, and nothing has come yet")
	}
	fresh.add(40000, sine(440))
	if !s.beat() || len(s.Line) == 0 || s.end != fresh.End() {
		t.Errorf("it does not go on: %d samples, up to %d", len(s.Line), s.end)
	}
}
