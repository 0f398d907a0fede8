package onset

import (
	"math"
	"math/rand"
	"slices"
	"testing"

	"lampblack/patch/dsp/hash"
	"lampblack/patch/kind/noise"
	"lampblack/patch/kind/rig"
)

// begin adds a sound to x from sample at on.
type begin func(x []float64, at int, amplitude float64, r *rand.Rand)

// click is a burst of one cycle of 3 kHz.
func click(x []float64, at int, a float64, _ *rand.Rand) {
	for i := range 16 {
		if at+i < len(x) {
			x[at+i] += a * math.Sin(2*math.Pi*float64(i)/16)
		}
	}
}

// note is a tone of eight harmonics that rises within attack seconds and decays.
func note(attack float64) begin {
	return func(x []float64, at int, a float64, r *rand.Rand) {
		hz := 80 * math.Pow(10, r.Float64())
		for i := at; i < len(x) && i < at+24000; i++ {
			t := float64(i-at) / 48000
			y, before := 0.0, 0.0
			sin, cos := math.Sincos(2 * math.Pi * hz * t)
			for h, now := 1.0, sin; h < 9; h++ { // sin (h+1)a = 2 cos a sin ha - sin (h-1)a
				y += now / h
				now, before = 2*cos*now-before, now
			}
			x[i] += a * 0.6 * y * min(t/attack, 1) * math.Exp(-t/0.15)
		}
	}
}

// burst is noise that stops after 80 ms.
func burst(x []float64, at int, a float64, r *rand.Rand) {
	for i := at; i < len(x) && i < at+3840; i++ {
		x[i] += a * (2*r.Float64() - 1)
	}
}

// score is how well the beginnings of a minute are found: amplitudes of 0 dB
// down to as many, 150 to 600 ms apart, over noise at -60 dB. A beginning counts as found
// within 50 ms (the tolerance of published comparisons, from memory).
func score(t *testing.T, name string, dynamics float64, add begin) (f, worst float64, doubles int) {
	r := rand.New(rand.NewSource(2))
	x := make([]float64, 60*48000)
	var at []int
	for n := 24000; n < len(x)-48000; n += 7200 + r.Intn(21600) {
		at = append(at, n)
		add(x, n, math.Pow(10, -dynamics*r.Float64()/20), r)
	}
	for i := range x {
		x[i] += 0.001 * math.Sqrt(3) * hash.Signed(9, uint64(i))
	}
	var delays []float64
	var hits, found int
	out := rig.New(Kind()).Feed("in", func(n int) float64 { return x[n] }).Out("trigger", len(x))
	next := 0
	for i, y := range out {
		if y == 0 {
			continue
		}
		found++
		for next < len(at) && i-at[next] > 2400 {
			next++
		}
		switch {
		case next < len(at) && i >= at[next]:
			hits++
			delays = append(delays, float64(i-at[next])/48)
			next++
		case next > 0 && i-at[next-1] < 7200:
			doubles++
		}
	}
	slices.Sort(delays)
	f = 2 * float64(hits) / float64(found+len(at))
	worst = delays[len(delays)-1]
	t.Logf("%-20s %2.0f dB: %d of %d found, %d others: F = %.4f; delay median %.2f ms, 95 %% %.2f, worst %.2f",
		name, dynamics, hits, len(at), found-hits, f, delays[len(delays)/2], delays[len(delays)*95/100], worst)
	return f, worst, doubles
}

func TestBeginningsAreFoundOnceAndSoon(t *testing.T) {
	for _, c := range []struct {
		name     string
		dynamics float64 // dB
		add      begin
		f        float64 // at least
		delay    float64 // ms at most
		doubles  int     // at most
	}{
		{"clicks", 24, click, 1, 1, 0},
		{"bursts of noise", 24, burst, 1, 2, 0},
		{"notes, 2 ms attack", 6, note(0.002), 0.99, 15, 0},
		{"notes, 20 ms attack", 6, note(0.02), 0.99, 35, 0},
		// A soft note under the tail of one 20 dB louder is hidden in all bands.
		{"notes, 2 ms attack", 24, note(0.002), 0.94, 25, 0},
		{"notes, 20 ms attack", 24, note(0.02), 0.94, 35, 0},
		{"notes, 60 ms attack", 24, note(0.06), 0.91, 50, 3},
	} {
		f, worst, doubles := score(t, c.name, c.dynamics, c.add)
		if f < c.f || worst > c.delay || doubles > c.doubles {
			t.Errorf("%s: F %.4f, worst delay %.1f ms, %d found twice; want at least %g, at most %g ms and %d", c.name, f, worst, doubles, c.f, c.delay, c.doubles)
		}
	}
}

func TestWhatGoesOnDoesNotBegin(t *testing.T) {
	for name, wave := range map[string]rig.Wave{
		"white noise":        func(n int) float64 { return hash.Signed(1, uint64(n)) },
		"a low hum":          func(n int) float64 { return 0.5 * rig.Sine(50)(n) },
		"a tone":             func(n int) float64 { return 0.5 * rig.Sine(440)(n) },
		"a tremolo of 6 dB":  func(n int) float64 { return 0.3 * rig.Sine(440)(n) * (1 + 0.33*rig.Sine(5)(n)) },
		"a slow crescendo":   func(n int) float64 { return rig.Sine(440)(n) * math.Pow(10, float64(n)/480000*3-3) },
		"a vibrato":          func(n int) float64 { return math.Sin(2*math.Pi*440*float64(n)/48000 + 3*rig.Sine(6)(n)) },
		"noise of two bands": func(n int) float64 { return hash.Signed(1, uint64(n/8)) },
	} {
		got := 0.0
		for i, y := range rig.New(Kind()).Feed("in", wave).Out("trigger", 480000) {
			if i > 4800 {
				got += y
			}
		}
		if got > 0 {
			t.Errorf("%s begins %g times in 10 s", name, got)
		}
	}
}

// A low tone is a row of pulses, each of which rises by more than 20 dB in the
// upper bands; the ear hears one sound from some 20 Hz on.
func TestALowToneBeginsOnce(t *testing.T) {
	for _, hz := range []float64{50, 55, 82, 110, 147, 220, 440} {
		for name, width := range map[string]float64{"a saw": 1, "pulses": 0.05} {
			wave := func(n int) float64 {
				_, p := math.Modf(hz * float64(n) / 48000)
				if p > width {
					return 0
				}
				return 0.5 * (1 - p/width)
			}
			begun := 0.0
			for _, y := range rig.New(Kind()).Feed("in", wave).Out("trigger", 5*48000) {
				begun += y
			}
			if begun != 1 {
				t.Errorf("%s of %g Hz: %g beginnings in 5 s", name, hz, begun)
			}
		}
	}
}

// The figures of the help.
func TestHowOftenSteadyNoiseBegins(t *testing.T) {
	for rise, want := range map[float64][2]float64{6.5: {15, 35}, 8: {0, 5}, 10: {0, 0}} {
		pink := rig.New(noise.Kind()).Choose("colour", "pink").Out("out", 60*48000)
		begun := -1.0 // the first is one
		for _, y := range rig.New(Kind()).Set("rise", rise, "dB").Feed("in", func(n int) float64 { return pink[n] }).Out("trigger", len(pink)) {
			begun += y
		}
		if begun < want[0] || begun > want[1] {
			t.Errorf("at %g dB a minute of pink noise begins %g times; want %v", rise, begun, want)
		}
	}
}

// A quiet click over a loud hum: the bands keep them apart.
func TestAHumDoesNotHideAClick(t *testing.T) {
	x := make([]float64, 96000)
	click(x, 48000, 0.05, nil)
	out := rig.New(Kind()).Feed("in", func(n int) float64 { return x[n] + 0.7*rig.Sine(60)(n) }).Out("trigger", 96000)
	if i := slices.Index(out[4800:], 1) + 4800; i < 48000 || i > 48048 {
		t.Errorf("the click at sample 48000 is found at %d", i)
	}
	for which, want := range map[string]int{"lows": -1, "highs": 1} {
		out := rig.New(Kind()).Choose("listens to", which).Feed("in", func(n int) float64 { return x[n] + 0.7*rig.Sine(60)(n) }).Out("trigger", 96000)
		if i := slices.Index(out[4800:], 1); (i < 0) != (want < 0) {
			t.Errorf("listening to %s the click is found at %d", which, i)
		}
	}
}

func TestNothingBeginsWithinTheDeadTime(t *testing.T) {
	x := make([]float64, 96000)
	for n := 4800; n < len(x); n += 3840 { // every 80 ms
		click(x, n, 0.5, nil)
	}
	for dead, want := range map[float64]float64{0.05: 24, 0.1: 12, 0.2: 8} {
		got := 0.0
		for _, y := range rig.New(Kind()).Set("dead time", dead, "s").Feed("in", func(n int) float64 { return x[n] }).Out("trigger", len(x)) {
			got += y
		}
		if got != want {
			t.Errorf("with a dead time of %g s %g of 24 clicks are found; want %g", dead, got, want)
		}
	}
}

func TestItComesBackAfterNonsense(t *testing.T) {
	x := make([]float64, 96000)
	click(x, 72000, 0.5, nil)
	r := rig.New(Kind()).Feed("in", func(n int) float64 {
		if n < 100 {
			return []float64{math.NaN(), math.Inf(1), -1e300}[n%3]
		}
		return x[n]
	})
	if i := slices.Index(r.Out("trigger", 96000)[4800:], 1) + 4800; i < 72000 || i > 72048 || !r.Clamped {
		t.Errorf("after nonsense the click at 72000 is found at %d; said: %v", i, r.Clamped)
	}
}

func BenchmarkOnset(b *testing.B) { rig.New(Kind()).Feed("in", rig.Sine(500)).Bench(b) }
