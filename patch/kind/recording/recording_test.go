package recording

import (
	"math"
	"testing"

	"lampblack/patch/kind/rig"
	"lampblack/patch/module"
)

func tone(n int, hz float64) []float64 {
	x := make([]float64, n)
	for i := range x {
		x[i] = math.Sin(2 * math.Pi * hz * float64(i) / 48000)
	}
	return x
}

func on(channels ...[]float64) *rig.Rig {
	return rig.NewSetup(Kind(), module.Setup{Rate: 48000, Clip: &module.Clip{Channels: channels}})
}

func TestAtSpeedOneEverySampleComesOutUnchangedAndThenSilence(t *testing.T) {
	a, b := tone(5000, 1234), tone(5000, 5678)
	sides := on(a, b).Run(6000)
	for i := range sides[0] {
		l, r := 0.0, 0.0
		if i < len(a) {
			l, r = a[i], b[i]
		}
		if sides[0][i] != l || sides[1][i] != r {
			t.Fatalf("sample %d is %g, %g; the file has %g, %g", i, sides[0][i], sides[1][i], l, r)
		}
	}
	mono := on(a).Run(6000)
	for i := range mono[0] {
		if mono[0][i] != sides[0][i] || mono[1][i] != sides[0][i] {
			t.Fatalf("a mono recording gives %g, %g at sample %d", mono[0][i], mono[1][i], i)
		}
	}
}

// Speed s turns a tone of f into one of s f, as a tape does, and nothing else
// is heard: the rest is 80 dB down.
func TestSpeedMovesThePitch(t *testing.T) {
	for _, c := range []struct {
		hz, speed float64
	}{{1000, 2}, {1000, 0.5}, {4000, 0.25}, {440, 1.5}, {6000, 2}, {200, 20}} {
		x := on(tone(500_000, c.hz)).Set("speed", c.speed, "").Out("left", 21600)[2400:]
		lines := rig.Lines(x) // 2.5 Hz apart
		at := int(c.hz * c.speed * float64(len(x)) / 48000)
		var rest float64
		for i, a := range lines {
			if i != at {
				rest = max(rest, a)
			}
		}
		if math.Abs(lines[at]-1) > 0.001 || rest > 1e-4 {
			t.Errorf("%g Hz at speed %g: %.4f at %g Hz, %.1f dB of something else", c.hz, c.speed, lines[at], c.hz*c.speed, rig.DB(rest))
		}
	}
	if x := on(tone(100_000, 15000)).Set("speed", 2, "").Out("left", 20000)[2400:]; rig.RMS(x) > 1e-4 {
		t.Errorf("15 kHz at speed 2 would be 30 kHz and must vanish; rms %g", rig.RMS(x))
	}
}

func TestRepeatHasItsExactPeriod(t *testing.T) {
	a := tone(1000, 777)
	x := on(a).Choose("loop", "repeat").Set("start", 25, "%").Set("edges", 0, "s").Out("left", 4000)
	for i := range x {
		at := 250 + i%750
		if x[i] != a[at] {
			t.Fatalf("sample %d is %g; the file has %g at %d", i, x[i], a[at], at)
		}
	}
	odd := on(a).Choose("loop", "repeat").Set("speed", 1.7, "").Out("left", 400_000)
	period := 10_000 // samples: 17 passes of 1000
	for i := 2000; i+period < len(odd); i += 997 {
		if math.Abs(odd[i]-odd[i+period]) > 1e-6 {
			t.Fatalf("at speed 1.7 sample %d is %g, 17 passes later %g", i, odd[i], odd[i+period])
		}
	}
}

func TestTriggerStartsAnew(t *testing.T) {
	a := tone(5000, 300)
	x := on(a).Set("edges", 0, "s").Feed("trigger", func(n int) float64 {
		if n == 100 || n == 700 {
			return 1
		}
		return 0
	}).Out("left", 1000)
	for i := range x {
		want := 0.0
		if i >= 700 {
			want = a[i-700]
		} else if i >= 100 {
			want = a[i-100]
		}
		if x[i] != want {
			t.Fatalf("sample %d is %g; want %g", i, x[i], want)
		}
	}
}

func TestLevel(t *testing.T) {
	x := on(tone(48000, 1000)).Set("level", -20, "dB").Out("right", 48000)
	if db := rig.DB(rig.RMS(x)); math.Abs(db+23.0103) > 0.001 {
		t.Errorf("a sine at -20 dB has an rms of %.3f dB; want -23.010", db)
	}
}

func TestWithoutAFileItIsSilent(t *testing.T) {
	for _, clip := range []*module.Clip{nil, {}, {Channels: [][]float64{{}}}} {
		r := rig.NewSetup(Kind(), module.Setup{Rate: 48000, Clip: clip}).Choose("loop", "repeat")
		for _, out := range r.Run(1000) {
			if rig.RMS(out) != 0 || r.Clamped {
				t.Errorf("clip %v gives a sound", clip)
			}
		}
	}
}

func TestShortestRecordingRepeatsAtTheHighestSpeed(t *testing.T) {
	for _, start := range []float64{0, 100} {
		x := on([]float64{1}).Choose("loop", "repeat").Set("speed", 20, "").Set("start", start, "%").Out("left", 1000)
		for i, y := range x {
			if !(math.Abs(y) <= 2) {
				t.Fatalf("sample %d is %g", i, y)
			}
		}
	}
}

func BenchmarkRecording(b *testing.B) {
	for name, speed := range map[string]float64{"speed 1": 1, "speed 0.7": 0.7, "speed 2": 2, "speed 20": 20} {
		b.Run(name, on(tone(48000, 440)).Choose("loop", "repeat").Set("speed", speed, "").Bench)
	}
	b.Run("fade", on(tone(48000, 440)).Choose("loop", "repeat").Set("speed", 0.7, "").Set("fade", 0.5, "s").Bench)
	b.Run("stretch", func(b *testing.B) { // with the search for grains, over a second
		for b.Loop() {
			on(tone(48000, 440), tone(48000, 550)).Choose("loop", "repeat").Choose("stretch", "on").Set("speed", 0.7, "").Run(48000)
		}
		b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/48000, "ns/sample")
	})
}

// A repeat that is shorter than a step of the speed stays within the recording.
func TestARepeatShorterThanAStepStaysInside(t *testing.T) {
	x := make([]float64, 1000)
	for i := range x {
		x[i] = 1
	}
	y := on(x).Choose("loop", "repeat").Set("edges", 0, "s").Set("start", 99.9, "%").Set("speed", 20, "").Out("left", 200)
	for i, v := range y {
		if v != y[0] || !(v > 0.4) {
			t.Fatalf("sample %d is %g, the first %g; want the recording's last sample for ever", i, v, y[0])
		}
	}
}
