package scope

import (
	"fmt"
	"math"
	"testing"
)

// tone returns a sine of amplitude 1 at 48 kHz.
func tone(n int, hz float64) []float64 {
	s := make([]float64, n)
	for i := range s {
		s[i] = math.Sin(2 * math.Pi * hz * float64(i) / 48000)
	}
	return s
}

func near(got, want, within float64) bool {
	return got == want || math.Abs(got-want) <= within
}

func TestMeasure(t *testing.T) {
	square := tone(48000, 1000)
	for i, x := range square {
		square[i] = math.Copysign(1, x)
	}
	saw := make([]float64, 48000)
	for i := range saw {
		saw[i] = 2*(float64(i%480)+0.5)/480 - 1
	}
	for _, test := range []struct {
		name      string
		signal    []float64
		peak, rms float64 // dBFS
		source    string
	}{
		{"full-scale sine", tone(48000, 1000), 0, -3.010, "RMS of a sine, 1/sqrt 2"},
		{"full-scale square", square, 0, 0, "RMS of a square, 1"},
		{"saw of 480 steps", saw, 20 * math.Log10(479./480), -4.771, "RMS of a saw, 1/sqrt 3"},
		{"silence", make([]float64, 100), math.Inf(-1), math.Inf(-1), "log 0"},
		{"nothing", nil, math.Inf(-1), math.Inf(-1), "log 0"},
	} {
		l := Measure(test.signal)
		if !near(DB(l.Peak), test.peak, 0.001) || !near(DB(l.RMS), test.rms, 0.001) {
			t.Errorf("%s: peak %.4f and RMS %.4f dBFS, want %.4f and %.4f (%s)", test.name, DB(l.Peak), DB(l.RMS), test.peak, test.rms, test.source)
		}
	}
}

// Sidebands of amplitude modulation at depth m are m/2 of the carrier: the
// product formula of trigonometry.
func TestLineOnSidebands(t *testing.T) {
	for _, depth := range []float64{0.5, 0.8, 1} {
		signal := make([]float64, 48000)
		for i := range signal {
			second := float64(i) / 48000
			signal[i] = 0.5 * (1 + depth*math.Cos(2*math.Pi*25*second)) * math.Sin(2*math.Pi*1000*second)
		}
		for _, line := range []struct{ hz, want float64 }{{1000, 0.5}, {975, depth / 4}, {1025, depth / 4}, {950, 0}, {0, 0}, {24000, 0}} {
			if got := Line(signal, 48000, line.hz); math.Abs(got-line.want) > 1e-9 {
				t.Errorf("depth %g: %g Hz has amplitude %.9f, want %.9f", depth, line.hz, got, line.want)
			}
		}
	}
	steady := []float32{0.25, 0.25, 0.25, 0.25}
	if got := Line(steady, 48000, 0); got != 0.25 {
		t.Errorf("a steady 0.25 has a line of %g at 0 Hz", got)
	}
	if got := Line([]float64{0.5, -0.5, 0.5, -0.5}, 48000, 24000); math.Abs(got-0.5) > 1e-12 {
		t.Errorf("an alternation of +-0.5 has a line of %g at half the rate", got)
	}
}

func TestNullDB(t *testing.T) {
	a := tone(4800, 1000)
	quieter := make([]float64, len(a))
	for i, x := range a {
		quieter[i] = x * (1 - 1e-3)
	}
	for _, test := range []struct {
		name string
		a, b []float64
		want float64
	}{
		{"identical", a, a, math.Inf(-1)},
		{"a thousandth of the level", a, quieter, -60},
		{"silence instead", a, make([]float64, len(a)), 0},
		{"sound instead of silence", make([]float64, len(a)), a, math.Inf(1)},
		{"another length", a, a[1:], math.Inf(1)},
	} {
		if got := NullDB(test.a, test.b); !near(got, test.want, 1e-6) {
			t.Errorf("%s: %g dB, want %g", test.name, got, test.want)
		}
	}
}

func TestMeterReadsASine(t *testing.T) {
	m := NewMeter(48000)
	if got := m.Reading(); !math.IsInf(got.Peak, -1) || !math.IsInf(got.RMS, -1) {
		t.Errorf("before any signal: %+v", got)
	}
	m.Write(tone(5*48000, 997))
	got := m.Reading()
	if !near(got.Peak, 0, 0.01) || !near(got.RMS, -3.010, 0.01) || got.Hold < -0.001 || got.Clipped != 0 {
		t.Errorf("a full-scale sine of 997 Hz reads %+v, want 0, 0, -3.01 dBFS", got)
	}
}

// IEC 60268-10 type IIa: the reading falls 24 dB in 2.8 s +- 0.3 s (from memory).
func TestMeterFallsAndHolds(t *testing.T) {
	m := NewMeter(48000)
	m.Write([]float64{1})
	silence := make([]float64, 48000/100)
	for range 190 {
		m.Write(silence)
	}
	if got := m.Reading().Hold; got != 0 {
		t.Errorf("after 1.9 s the hold stands at %.2f dBFS, want 0", got)
	}
	for range 90 {
		m.Write(silence)
	}
	if got := m.Reading(); !near(got.Peak, -24, 0.01) || got.Hold > -17 {
		t.Errorf("after 2.8 s the peak reads %.2f dBFS and the hold %.2f; want -24, and a hold let go at 2 s", got.Peak, got.Hold)
	}
}

func TestMeterCountsWhatClips(t *testing.T) {
	m := NewMeter(48000)
	m.Write([]float64{1, -1, 1.0001, -2, math.NaN(), math.Inf(1), 0.5})
	got := m.Reading()
	if got.Clipped != 4 || math.IsNaN(got.Peak) || math.IsNaN(got.RMS) || math.IsInf(got.RMS, 0) {
		t.Errorf("%+v, want 4 clipped and no NaN", got)
	}
	m.Reset()
	m.Write(make([]float64, 10))
	if got := m.Reading(); got.Clipped != 0 || !math.IsInf(got.Peak, -1) {
		t.Errorf("after Reset: %+v", got)
	}
}

func TestMeterDoesNotCareForBlocks(t *testing.T) {
	signal := tone(10000, 333)
	whole, parts := NewMeter(48000), NewMeter(48000)
	whole.Write(signal)
	for at, n := 0, 1; at < len(signal); at, n = at+n, n*3%97+1 {
		parts.Write(signal[at:min(at+n, len(signal))])
	}
	if whole.Reading() != parts.Reading() {
		t.Errorf("%+v in one block, %+v in many", whole.Reading(), parts.Reading())
	}
}

func TestNothingAllocatesForAFrame(t *testing.T) {
	signal, tap := tone(4096, 1000), make([]float32, 4096)
	for i, x := range signal {
		tap[i] = float32(x)
	}
	meter, spectrum := NewMeter(48000), NewSpectrum(4096, Hann)
	columns, levels, peaks := make([]Column, 800), make([]float64, 800), make([]Peak, 8)
	bands, points, hold := make([]float64, Bands), make([]Point, 100), Hold{}
	persistence, strip, sweep := NewPersistence(200, 100, -1, 1), NewStrip(100, 480), Sweep{}
	clock, intensities, strength := int64(4096), make([]float32, 20000), make([]Level, 100)
	kept := Keep("A", "V", tap, 48000, View{100, 1000}, 500)
	if got := testing.AllocsPerRun(10, func() {
		meter.Write32(tap)
		v, _ := Align(Trigger{}, tap, 960, 0.5)
		Trace(columns, tap, v)
		Trace(columns, signal, View{100, 3000})
		kept.Trace(columns, 0.01, 0.02)
		clock += 800
		sweep.Next32(tap, clock, 480, nil)
		persistence.Add32(tap, v)
		persistence.Decay(0.9)
		persistence.Intensities(intensities, 10)
		Plane(points, tap, tap, v)
		strip.Write32(tap)
		strip.Columns(columns)
		ReadCursors(Cursors{100, 900}, tap, 48000)
		Strength(strength, tap, View{0, 4096}, 100)
		Cycle(levels, tap, View{100, 3000}, 48)
		spectrum.Transform32(tap)
		spectrum.Columns(levels, 48000, Axis{20, 20000, true})
		Difference(levels, levels, hold.Take(levels, 1), -120)
		spectrum.ThirdOctaves(bands, 48000, Band25Hz)
		spectrum.NoiseFloor(20, 20000, 48000)
		spectrum.Peaks(peaks, 48000, -80)
		NearestNote(peaks[0].Hz)
	}); got != 0 {
		t.Errorf("a frame allocates %v times", got)
	}
}

func ExampleMeasure() {
	l := Measure(tone(48000, 1000))
	fmt.Printf("peak %.2f dBFS, RMS %.2f dBFS\n", DB(l.Peak), DB(l.RMS))
	// Output: peak 0.00 dBFS, RMS -3.01 dBFS
}
