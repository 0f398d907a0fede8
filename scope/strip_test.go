package scope

import (
	"encoding/csv"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// Columns hold the peaks between samples, and the RMS, of a sine: 1 and 1/sqrt 2.
func TestStripHoldsPeaksAndRMS(t *testing.T) {
	for _, hz := range []float64{100, 997, 9999.5, 12000, 18001} {
		s := NewStrip(50, 960)
		signal := sine(70000, 1, hz, math.Pi/4)
		s.Write(signal)
		columns, rms := s.Columns(make([]Column, 50)), s.RMS(make([]float64, 50))
		for c := range 49 { // the last is being filled
			if math.Abs(columns[c].Max-1) > 1e-3 || math.Abs(columns[c].Min+1) > 1e-3 {
				t.Errorf("%g Hz: column %d reaches from %.5f to %.5f", hz, c, columns[c].Min, columns[c].Max)
			}
			if math.Abs(rms[c]-math.Sqrt2/2) > 0.002 {
				t.Errorf("%g Hz: column %d has an RMS of %.5f", hz, c, rms[c])
			}
		}
		if s.Taken() != 70000-sincSide {
			t.Errorf("%d samples taken", s.Taken())
		}
	}
}

// Peaks that no sample betrays are in the strip, too: those of two high tones, in the
// column of the sample before them.
func TestStripHoldsHiddenPeaks(t *testing.T) {
	at := func(place float64) float64 {
		return 0.14*math.Sin(2*math.Pi*18734/48000*place) + 0.5*math.Sin(2*math.Pi*4675/48000*place+1)
	}
	s := NewStrip(2000, 2) // so narrow that most columns hold no turn of the samples
	signal := make([]float64, 3000)
	for i := range signal {
		signal[i] = at(float64(i))
	}
	s.Write(signal)
	columns := s.Columns(make([]Column, 1490)) // the newest 20 samples wait
	seen := 0
	for i := 40; i < 2900; i++ {
		if _, value, ok := bump(signal, i); ok {
			seen++
			if c := columns[i/2]; value > c.Max+1e-9 || value < c.Min-1e-9 {
				t.Errorf("the bump to %g after sample %d is not in its column, %v", value, i, c)
			}
		}
	}
	if seen < 40 {
		t.Errorf("only %d bumps", seen)
	}
}

func TestStripDoesNotCareForBlocks(t *testing.T) {
	signal := sine(10000, 1, 3333, 0)
	signal[5000] = math.NaN()
	whole, parts := NewStrip(40, 100.7), NewStrip(40, 100.7)
	whole.Write(signal)
	for at, n := 0, 1; at < len(signal); at, n = at+n, n*3%97+1 {
		parts.Write(signal[at:min(at+n, len(signal))])
	}
	a, b := whole.Columns(make([]Column, 50)), parts.Columns(make([]Column, 50))
	if !slices.Equal(a, b) || !slices.Equal(whole.RMS(make([]float64, 50)), parts.RMS(make([]float64, 50))) {
		t.Errorf("%v in one block, %v in many", a, b)
	}
	if !a[0].Empty() || a[49].Empty() {
		t.Error("columns that are forgotten are not empty, or the newest is")
	}
	whole.Reset()
	if !whole.Columns(a)[49].Empty() {
		t.Error("Reset does not empty it")
	}
}

// A decay of time constant 0.1 s loses 8.686 dB in each (first-order theory).
func TestStrengthFollowsADecay(t *testing.T) {
	signal := sine(48000, 1, 1000, 0)
	for i := range signal {
		signal[i] *= math.Exp(-float64(i) / 4800)
	}
	levels := Strength(make([]Level, 10), signal, View{0, 48000}, 480)
	for c := 1; c < len(levels); c++ {
		if got := DB(levels[c].RMS / levels[c-1].RMS); math.Abs(got+8.686) > 0.01 {
			t.Errorf("from stretch %d to the next the level falls by %.3f dB, want 8.686", c-1, -got)
		}
	}
	if got := Strength(make([]Level, 2), signal, View{-1000, 1000}, 0); got[0] != (Level{}) {
		t.Errorf("before the signal the level is %v", got[0])
	}
}

// The average cycle of a saw of 123.4 Hz in noise: its Fourier series, 2/(pi n) for
// each harmonic below half the rate; the noise falls by the root of the cycles.
func TestCycleAveragesInPhase(t *testing.T) {
	const hz = 123.4
	saw := func(place float64) float64 {
		sum := 0.0
		for n := 1; float64(n)*hz < 19000; n++ {
			sum += 2 / (math.Pi * float64(n)) * math.Sin(2*math.Pi*float64(n)*hz*place/48000)
		}
		return sum
	}
	for _, noise := range []float64{0, 0.1} {
		signal := make([]float64, 24000)
		for i := range signal {
			signal[i] = saw(float64(i) + 7.3)
		}
		state := uint64(1)
		for i := range signal { // even noise of that RMS
			state = state*6364136223846793005 + 1442695040888963407
			signal[i] += noise * math.Sqrt(12) * (float64(state>>11)/(1<<53) - 0.5)
		}
		cycle := make([]float64, 300)
		period := 48000 / hz
		cycles, stray := Cycle(cycle, signal, View{period - 7.3, 23000}, period)
		square := 0.0
		for k, got := range cycle {
			d := got - saw(float64(k)/300*period)
			square += d * d / 300
		}
		allowed := 3e-5 + 1.2*noise/math.Sqrt(float64(cycles))
		if cycles != 59 || math.Sqrt(square) > allowed || math.Abs(stray-noise) > 0.05*noise+1e-4 {
			t.Errorf("noise %g: %d cycles, wrong by %.2g (allowed %.2g), stray %.4g", noise, cycles, math.Sqrt(square), allowed, stray)
		}
	}
	for _, v := range []View{{0, 100}, {-5, 1000}} {
		if cycles, _ := Cycle(make([]float64, 10), make([]float64, 500), v, 200); cycles != 0 {
			t.Errorf("%+v holds %d cycles", v, cycles)
		}
	}
}

func TestCursorsRead(t *testing.T) {
	signal := sine(4800, 0.5, 1234.5, 0)
	period := 48000 / 1234.5
	r := ReadCursors(Cursors{100 * period / 4, 100*period/4 + 3.25*period}, signal, 48000)
	for _, test := range []struct {
		name              string
		got, want, within float64
	}{
		{"value at A, phase 0", r.ValueA, 0, 1e-5},
		{"value at B, a quarter on", r.ValueB, 0.5, 1e-5},
		{"rise", r.Rise, 0.5, 1e-5},
		{"seconds", r.Seconds, 3.25 / 1234.5, 1e-12},
		{"1/seconds", r.Hz, 1234.5 / 3.25, 1e-6},
		{"frequency", r.Frequency, 1234.5, 0.01},
	} {
		if math.Abs(test.got-test.want) > test.within {
			t.Errorf("%s reads %.7f, want %.7f", test.name, test.got, test.want)
		}
	}
	if hz, ok := Frequency(signal, 48000, View{100, 4500}); !ok || math.Abs(hz-1234.5) > 1e-4 {
		t.Errorf("over 115 periods the frequency is %.6f Hz, %v", hz, ok)
	}
	if _, ok := Frequency(make([]float64, 100), 48000, View{0, 99}); ok {
		t.Error("silence has a frequency")
	}
}

func TestKeptTraceIsDrawnOverAnother(t *testing.T) {
	signal := sine(2000, 0.8, 700, 0)
	v := View{500.5, 480}
	k := Keep("A", "V", signal, 48000, v, 740.5)
	clear(signal[:100])
	signal[740] = 9 // what is kept stays
	again := sine(2000, 0.8, 700, 0)
	got, want := k.Trace(make([]Column, 100), 100./48000, 200./48000), Trace(make([]Column, 100), again, View{640.5, 200})
	for c := range got {
		if math.Abs(got[c].Min-want[c].Min) > 1e-9 || math.Abs(got[c].Max-want[c].Max) > 1e-9 {
			t.Fatalf("column %d is %v, want %v", c, got[c], want[c])
		}
	}
	for _, v := range []View{{-100, 10}, {5000, 100}} {
		if k := Keep("", "", signal, 48000, v, 0); len(k.Samples) > 2*sincSide+10 {
			t.Errorf("%+v keeps %d samples", v, len(k.Samples))
		}
	}
}

func TestCSVIsReadBack(t *testing.T) {
	a := Keep("A, filter", "V", sine(2000, 0.8, 700, 0), 48000, View{500, 10}, 505)
	b := Keep("B", "", sine(2000, 0.25, 350, 0), 24000, View{248, 7}, 252.5)
	var text strings.Builder
	if err := WriteCSV(&text, a, b); err != nil {
		t.Fatal(err)
	}
	if !strings.HasPrefix(text.String(), "time (s),\"A, filter (V)\",B\r\n") {
		t.Errorf("header: %q", text.String()[:40])
	}
	rows, err := csv.NewReader(strings.NewReader(text.String())).ReadAll()
	if err != nil || len(rows) != 12 {
		t.Fatalf("%d rows read back, want a header and 11: %v", len(rows), err)
	}
	valueA, _ := strconv.ParseFloat(rows[6][1], 64)
	valueB, _ := strconv.ParseFloat(rows[6][2], 64)
	wantA, wantB := 0.8*math.Sin(2*math.Pi*700*505/48000), 0.25*math.Sin(2*math.Pi*350*252.5/48000)
	if rows[6][0] != "0" || math.Abs(valueA-wantA) > 1e-8 || math.Abs(valueB-wantB) > 1e-5 {
		t.Errorf("at the trigger stands %v, want 0, %g, %g", rows[6], wantA, wantB)
	}
	if got := rows[1][0]; got != "-0.000104166666667" {
		t.Errorf("the first time is %s, want -5/48000", got)
	}
	if err := WriteCSV(&text); err == nil {
		t.Error("nothing is written without complaint")
	}
}

func TestTimeBasesAreOneTwoFive(t *testing.T) {
	bases := TimeBases()
	if bases[0] != 10e-6 || bases[len(bases)-1] != 10 || !slices.IsSorted(bases) || len(bases) != 19 {
		t.Errorf("%v", bases)
	}
}

func BenchmarkStrip(b *testing.B) {
	s, tap := NewStrip(1000, 4800), make([]float32, 4800)
	for i, x := range tone(4800, 997) {
		tap[i] = float32(x)
	}
	b.ReportAllocs()
	for b.Loop() {
		s.Write32(tap)
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*len(tap)), "ns/sample")
}
