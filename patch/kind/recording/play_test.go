package recording

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/dsp/fourier"

	"lampblack/patch/kind/rig"
)

// splash is the peak, in dB re full scale, of what x has above 4 kHz around a
// sample: a click has as much there as below, a tone of 300 Hz nothing.
func splash(x []float64, at int) float64 {
	const n = 8192
	seg := make([]float64, n)
	for i := range seg {
		w := 0.5 - 0.5*math.Cos(2*math.Pi*float64(i)/n)
		if k := at - n/2 + i; k >= 0 && k < len(x) {
			seg[i] = w * x[k]
		}
	}
	fft := fourier.NewFFT(n)
	c := fft.Coefficients(nil, seg)
	for i := 0; i < 4000*n/48000; i++ {
		c[i] = 0
	}
	peak := 0.0
	for _, y := range fft.Sequence(nil, c) {
		peak = max(peak, math.Abs(y)/n)
	}
	return rig.DB(peak)
}

func pulses(at ...int) rig.Wave {
	return func(n int) float64 {
		for _, a := range at {
			if n == a {
				return 1
			}
		}
		return 0
	}
}

// Whatever is cut off fades: no click over -60 dB. Without edges it would be at
// about -10 dB: the test sees it.
func TestNothingClicks(t *testing.T) {
	a := tone(96000, 300.3)
	for i := range 4800 {
		a[i] *= rise(float64(i) / 4800) // a beginning of its own that is soft
	}
	for name, c := range map[string]struct {
		rig *rig.Rig
		at  int // where it would click
	}{
		"a start within the file":       {on(a).Set("start", 10.01, "%").Feed("trigger", pulses(10000)), 10000},
		"an end within the file":        {on(a).Set("end", 10.01, "%"), 9609},
		"a new trigger":                 {on(a).Feed("trigger", pulses(0, 10030)), 10030},
		"the end of held":               {on(a).Choose("play", "held").Note(0, 10030), 10030},
		"turning round":                 {on(a).Move("direction", "", func(n int) float64 { return step(n >= 10030) }), 10030},
		"stretching":                    {on(a).Set("speed", 0.7, "").Move("stretch", "", func(n int) float64 { return step(n >= 10030) }), 10030},
		"an end that comes from behind": {on(a).Move("end", "%", func(n int) float64 { return 100 - 98*glide(n-10030) }), 10030},
		"a loop end from behind":        {on(a).Choose("loop", "repeat").Set("fade", 0.01, "s").Move("loop end", "%", func(n int) float64 { return 100 - 98*glide(n-10030) }), 10030},
		"a stretched end":               {on(a).Choose("stretch", "on").Set("end", 10.01, "%"), 9609},
		"a stretched repeat":            {on(a).Choose("stretch", "on").Choose("loop", "repeat").Set("loop end", 10.01, "%"), 9609},
		"a jump of speed":               {on(a).Move("speed", "", func(n int) float64 { return 1 + 2*glide(n-10030) }), 10030},
		"a stretched jump of pitch":     {on(a).Choose("stretch", "on").Move("pitch", "oct", func(n int) float64 { return glide(n - 10030) }), 10030},
	} {
		x := c.rig.Out("left", 20000)
		db := splash(x, c.at)
		t.Logf("%s: %.1f dB", name, db)
		if !(db < -60) {
			t.Errorf("%s clicks at %.1f dB; want -60", name, db)
		}
	}
	if db := splash(on(a).Set("edges", 0, "s").Feed("trigger", pulses(0, 10030)).Out("left", 20000), 10030); db < -40 {
		t.Errorf("without edges a new trigger is at %.1f dB: the test is deaf", db)
	}
}

// step is a choice, glide a setting as the engine moves it: by a one-pole of 5 ms.
func step(on bool) float64 {
	if on {
		return 1
	}
	return 0
}

func glide(n int) float64 {
	if n < 0 {
		return 0
	}
	return 1 - math.Exp(-float64(n)/240)
}

// The seam of a loop that does not fit, with a fade of 20 ms: no click, no dip and
// no bulge, whether the two sides are alike or not.
func TestSeamOfALoopIsNotHeard(t *testing.T) {
	chord := make([]float64, 96000)
	for i := range chord {
		for _, hz := range []float64{300.3, 411.7, 523.1} {
			chord[i] += 0.3 * math.Sin(2*math.Pi*hz*float64(i)/48000)
		}
	}
	for name, x := range map[string][]float64{"tone": tone(96000, 300.3), "chord": chord} {
		for direction, backward := range map[string]float64{"forward": 0, "backward": 1} {
			loop := func(fade float64) *rig.Rig {
				return on(x).Choose("loop", "repeat").Set("loop start", 20, "%").Set("loop end", 40, "%").Set("fade", fade, "s").Set("direction", backward, "").
					Set("speed", 1.31, "")
			}
			place := 38400.0 // from the beginning to the loop's end, less the middle of the fade
			if backward == 1 {
				place = 76800
			}
			at := int((place - 480) / 1.31)
			cut, faded := splash(loop(0).Out("left", 80000), at+366), splash(loop(0.02).Out("left", 80000), at)
			t.Logf("%s %s: cut %.1f dB, with a fade of 20 ms %.1f dB", name, direction, cut, faded)
			if cut < -40 || !(faded < -60) {
				t.Errorf("%s %s: the seam is at %.1f dB as a cut, at %.1f dB faded; want -60", name, direction, cut, faded)
			}
		}
	}
	// Loops whose sides are the same, or have nothing in common, keep their power.
	fits := on(tone(96000, 300)).Choose("loop", "repeat").Set("loop start", 20, "%").Set("loop end", 40, "%").Set("fade", 0.1, "s").Out("left", 60000)
	for i, y := range fits {
		if want := math.Sin(2 * math.Pi * 300 * float64(i) / 48000); math.Abs(y-want) > 1e-9 {
			t.Fatalf("a loop of whole periods: sample %d is %g; the tone that goes on has %g", i, y, want)
		}
	}
	var level float64
	x := hiss(96000)
	for k := range 20 {
		y := on(x).Choose("loop", "repeat").Set("loop start", 20, "%").Set("loop end", 40+float64(k)/10, "%").Set("fade", 0.1, "s").Out("left", 60000)
		middle := 38400 + 96*k - 2400
		level += math.Pow(rig.RMS(y[middle-600:middle+600]), 2) * 3 / 20
	}
	t.Logf("noise in the middle of its seam: %+.2f dB", 10*math.Log10(level))
	if db := 10 * math.Log10(level); math.Abs(db) > 0.5 {
		t.Errorf("noise in the middle of the seam is at %+.2f dB; want 0", db)
	}
}

// The loop has its exact period with a fade as well: what the help says of a loop
// start with enough before it, and of one without.
func TestALoopWithAFadeHasItsExactPeriod(t *testing.T) {
	for name, c := range map[string]struct {
		from   float64 // %
		period int
	}{"enough before it": {20, 28800}, "nothing before it": {0, 48000 - 4800}} {
		y := on(hiss(48000)).Choose("loop", "repeat").Set("loop start", c.from, "%").Set("loop end", 80+20*step(c.from == 0), "%").Set("fade", 0.1, "s").Out("left", 150_000)
		for i := 50_000; i+c.period < len(y); i += 7 {
			if y[i] != y[i+c.period] {
				t.Fatalf("%s: sample %d is %g, %d later %g", name, i, y[i], c.period, y[i+c.period])
			}
		}
	}
}

func TestStartAndEndInSecondsAndBackward(t *testing.T) {
	a := tone(10000, 777)
	x := on(a).Set("start", 0.1, "s").Set("end", 0.15, "s").Set("edges", 0, "s").Out("left", 4000)
	y := on(a).Set("start", 0.1, "s").Set("end", 0.15, "s").Set("edges", 0, "s").Choose("direction", "backward").Out("left", 4000)
	for i := range x {
		forward, backward := 0.0, 0.0
		if i < 2400 {
			forward, backward = a[4800+i], a[7199-i]
		}
		if x[i] != forward || y[i] != backward {
			t.Fatalf("sample %d is %g forward and %g backward; want %g and %g", i, x[i], y[i], forward, backward)
		}
	}
}

// The end lies where it is written, with its fade before it.
func TestAnEdgeEndsAtTheEnd(t *testing.T) {
	for _, stretch := range []string{"off", "on"} {
		x := on(hiss(48000)).Choose("stretch", stretch).Set("end", 50, "%").Set("edges", 0.01, "s").Set("speed", 1.6, "").Out("left", 20000)
		if rig.RMS(x[14900:14990]) == 0 || rig.RMS(x[15002:]) != 0 {
			t.Errorf("stretch %s: the half of a second at speed 1.6 does not end at sample 15000", stretch)
		}
	}
}

func TestPlayListensToTheGate(t *testing.T) {
	a := hiss(20000)
	run := func(how string) []float64 {
		return on(a).Choose("play", how).Choose("loop", "repeat").Set("loop start", 10, "%").Set("loop end", 20, "%").Note(0, 7001).Set("edges", 0, "s").Out("left", 40000)
	}
	looped := func(i int) float64 {
		if i < 4000 {
			return a[i]
		}
		return a[2000+(i-2000)%2000]
	}
	for i, y := range run("through") {
		if y != looped(i) {
			t.Fatalf("through: sample %d is %g; want %g", i, y, looped(i))
		}
	}
	for i, y := range run("held") {
		want := looped(i)
		if i >= 7001 {
			want = 0
		}
		if y != want {
			t.Fatalf("held: sample %d is %g; want %g", i, y, want)
		}
	}
	for i, y := range run("sustain") {
		want := looped(i)
		if i >= 7001 { // at 3001 of the recording
			want = 0
			if k := 3001 + i - 7001; k < len(a) {
				want = a[k]
			}
		}
		if y != want {
			t.Fatalf("sustain: sample %d is %g; want %g", i, y, want)
		}
	}
}

// speed x 2^pitch.
func TestPitchMovesTheTapeAsWell(t *testing.T) {
	a := tone(100_000, 500)
	x := on(a).Set("pitch", 1, "oct").Set("speed", 0.75, "").Out("left", 20000)
	y := on(a).Set("speed", 1.5, "").Out("left", 20000)
	for i := range x {
		if x[i] != y[i] {
			t.Fatalf("sample %d is %g; at the speed it amounts to %g", i, x[i], y[i])
		}
	}
}

// Beyond 32 times the tape goes no faster, and says so.
func TestTheFastestTapeSaysThatItIsLimited(t *testing.T) {
	for pitch, want := range map[float64]bool{1: false, 2: true} {
		r := on(tone(100_000, 50)).Set("pitch", pitch, "oct").Set("speed", 16, "")
		if r.Run(100); r.Clamped != want {
			t.Errorf("16 times and %g octaves: clamped is %v", pitch, r.Clamped)
		}
	}
}

// Played faster, what would pass half the rate is gone, but for the filter's
// slope: what folds is 95 dB down below 0.4 of the rate.
func TestWhatFoldsIsFarDown(t *testing.T) {
	for _, speed := range []float64{1.3, 1.5, 2, 3.7, 8} {
		worst := 0.0
		for f := 0.5; f < 1.5 && f/speed < 0.499; f += 0.0137 { // of the rate, after the speed
			if math.Abs(f-math.Round(f)) > 0.4 {
				continue // folds above 0.4 of the rate
			}
			x := on(tone(200_000, f/speed*48000)).Set("speed", speed, "").Out("left", 6000)[1200:]
			worst = max(worst, rig.RMS(x)*math.Sqrt2)
		}
		t.Logf("speed %g: what folds below 0.4 of the rate is at %.1f dB", speed, rig.DB(worst))
		if rig.DB(worst) > -95 {
			t.Errorf("at speed %g what folds is at %.1f dB; want -95", speed, rig.DB(worst))
		}
	}
}
