package recording

import (
	"math"
	"testing"

	"lampblack/patch/dsp/hash"
	"lampblack/patch/kind/rig"
	"lampblack/patch/module"
)

func stretched(speed float64, channels ...[]float64) *rig.Rig {
	return on(channels...).Choose("stretch", "on").Set("speed", speed, "")
}

func hiss(n int) []float64 {
	x := make([]float64, n)
	for i := range x {
		x[i] = hash.Signed(8, uint64(i))
	}
	return x
}

// At its own speed and pitch nothing is spliced: every sample comes out as it
// stands in the file, up to the fade at the end.
func TestStretchedByNothingItIsUnchanged(t *testing.T) {
	a := hiss(30000)
	x := stretched(1, a).Out("left", 31000)
	for i := range x {
		want := 0.0
		if i < len(a) {
			want = a[i]
		}
		if i > len(a)-145 { // the edge of 3 ms
			want = x[i]
		}
		if x[i] != want {
			t.Fatalf("sample %d is %g; want %g", i, x[i], want)
		}
	}
	if rig.RMS(x[30000:]) != 0 {
		t.Error("it sounds on after its end")
	}
}

// What lasts n samples lasts n/speed, to the sample.
func TestStretchedLengthIsExact(t *testing.T) {
	for _, c := range []struct{ speed, pitch float64 }{{0.25, 0}, {0.5, 1}, {0.8, -1}, {1, 0.5}, {1.25, 0}, {2, -2}, {4, 2}, {20, 0}} {
		n := 40000
		x := stretched(c.speed, tone(n, 500)).Set("pitch", c.pitch, "oct").Set("edges", 0, "s").Out("left", int(float64(n)/c.speed)+2000)
		last := 0
		for i, y := range x {
			if y != 0 {
				last = i
			}
		}
		want := int(math.Ceil(float64(n)/c.speed)) - 1
		// A sine may pass through 0 at the last sample.
		if last > want || last < want-1 {
			t.Errorf("speed %g, pitch %g: the last sample is %d; want %d", c.speed, c.pitch, last, want)
		}
	}
}

// A sine stays a sine of its own amplitude: all else that is heard is so many
// dB down.
func TestStretchedSineStaysASine(t *testing.T) {
	worst := math.Inf(-1)
	// 3840 Hz is in step with an even spacing of what is compared.
	for _, hz := range []float64{60, 110, 440, 1000, 3840, 8000} {
		for _, c := range []struct{ speed, pitch float64 }{{0.3, 0}, {0.5, 0}, {0.77, 0}, {1.5, 0}, {2, 0}, {1, 7.0 / 12}, {0.6, -1}} {
			f := hz * math.Exp2(c.pitch)
			x := stretched(c.speed, tone(400_000, hz)).Set("pitch", c.pitch, "oct").Out("left", 52800)[4800:]
			amplitude, rest := residue(x, f)
			if 0.9 < c.speed || hz == 440 {
				t.Logf("%g Hz at speed %g, %+.2f oct: amplitude %.4f, all else %.1f dB", hz, c.speed, c.pitch, amplitude, rig.DB(rest))
			}
			worst = max(worst, rig.DB(rest))
			if math.Abs(amplitude-1) > 0.001 || rig.DB(rest) > -75 {
				t.Errorf("%g Hz at speed %g, %+.2f oct: amplitude %.4f at %g Hz, all else %.1f dB; want 1 and -75", hz, c.speed, c.pitch, amplitude, f, rig.DB(rest))
			}
		}
	}
	t.Logf("worst: %.1f dB", worst)
}

// residue fits a sine of that frequency by least squares, and returns its
// amplitude and the rms of what is left over that of the sine.
func residue(x []float64, hz float64) (amplitude, rest float64) {
	var ss, sc, cc, sx, cx, xx float64
	for i, y := range x {
		s, c := math.Sincos(2 * math.Pi * hz * float64(i) / 48000)
		ss, sc, cc = ss+s*s, sc+s*c, cc+c*c
		sx, cx, xx = sx+s*y, cx+c*y, xx+y*y
	}
	d := ss*cc - sc*sc
	a, b := (sx*cc-cx*sc)/d, (cx*ss-sx*sc)/d
	left := xx - a*sx - b*cx
	return math.Hypot(a, b), math.Sqrt(math.Abs(left) / (xx - left))
}

// A chord and noise keep their power, whatever the splices do.
func TestStretchedPowerStaysEven(t *testing.T) {
	chord := make([]float64, 200_000)
	for i := range chord {
		for _, hz := range []float64{220, 277.18, 329.63, 440} {
			chord[i] += 0.25 * math.Sin(2*math.Pi*hz*float64(i)/48000)
		}
	}
	for name, x := range map[string][]float64{"chord": chord, "noise": hiss(200_000)} {
		for _, speed := range []float64{0.5, 1.6} {
			y := stretched(speed, x).Out("left", 96000)[4800:]
			db := rig.DB(rig.RMS(y) / rig.RMS(x))
			t.Logf("%s at speed %g: %+.2f dB", name, speed, db)
			if math.Abs(db) > 0.5 {
				t.Errorf("%s at speed %g changes its level by %+.2f dB", name, speed, db)
			}
		}
	}
}

// Both channels are cut at the same places: what is equal stays equal.
func TestStretchedChannelsStayInStep(t *testing.T) {
	a := hiss(60000)
	sides := stretched(0.6, a, a).Run(48000)
	for i := range sides[0] {
		if sides[0][i] != sides[1][i] {
			t.Fatalf("sample %d is %g and %g", i, sides[0][i], sides[1][i])
		}
	}
}

// Backward it is the stretched sound of the recording turned round.
func TestStretchedBackwardIsTheTurnedRecording(t *testing.T) {
	a := hiss(20000)
	turned := make([]float64, len(a))
	for i := range a {
		turned[len(a)-1-i] = a[i]
	}
	x := stretched(0.6, a).Choose("direction", "backward").Out("left", 30000)
	y := stretched(0.6, turned).Out("left", 30000)
	for i := range x {
		if math.Abs(x[i]-y[i]) > 1e-9 {
			t.Fatalf("sample %d is %g; want %g", i, x[i], y[i])
		}
	}
}

// A recording of nothing but what is no number, or of one sample, does no harm.
func TestStretchedNonsenseIsHarmless(t *testing.T) {
	for name, x := range map[string][]float64{"nan": {math.NaN(), math.Inf(1), 1e300, math.NaN(), 0, 1}, "one": {1}, "silence": make([]float64, 3000)} {
		for _, choice := range []string{"off", "on"} {
			r := on(x).Choose("loop", "repeat").Choose("stretch", choice).Set("speed", 0.3, "").Set("fade", 1, "s")
			for i, y := range r.Out("left", 20000) {
				if !(math.Abs(y) <= 1000) {
					t.Fatalf("%s, stretch %s: sample %d is %g", name, choice, i, y)
				}
			}
			if r.Clamped != (name == "nan") {
				t.Errorf("%s, stretch %s: clamped is %v", name, choice, r.Clamped)
			}
		}
	}
}

// The longest grain at the highest rate: one block with a splice, the worst case.
func BenchmarkSplice(b *testing.B) {
	s := newSound(module.Setup{Rate: 48000, Clip: &module.Clip{Channels: [][]float64{hiss(96000), hiss(96000)}}}).(*sound)
	for b.Loop() {
		s.match(20000.3, 30000, 30600, 1200, false)
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/1200, "ns/sample")
}
