package scope

import (
	"fmt"
	"math"
	"testing"

	"lampblack/patch/dsp/approx"
)

// Crossings are found where the sine has them: at zero phase for a rise through
// 0, at asin(level) for another level.
func TestFindIsExactBetweenSamples(t *testing.T) {
	for _, hz := range []float64{20, 440, 997, 3000, 10000, 19000} {
		signal := tone(4800, hz)
		period := 48000 / hz
		for _, test := range []struct {
			trigger Trigger
			phase   float64 // of the crossing, in periods
		}{
			{Trigger{}, 0},
			{Trigger{Hysteresis: 0.5}, 0},
			{Trigger{Falling: true}, 0.5},
			{Trigger{Level: 0.5}, 1. / 12},
			{Trigger{Level: 0.5, Falling: true, Hysteresis: 0.2}, 5. / 12},
			{Trigger{Level: -0.5, Falling: true}, 7. / 12},
		} {
			at, ok := Find(test.trigger, signal, 20, 4780)
			if !ok {
				t.Errorf("%g Hz, %+v: no crossing", hz, test.trigger)
				continue
			}
			away := math.Remainder(at-test.phase*period, period)
			if math.Abs(away) > 2e-3 {
				t.Errorf("%g Hz, %+v: found %.5f samples away from a crossing", hz, test.trigger, away)
			}
			if at < 4780-2*period {
				t.Errorf("%g Hz, %+v: %.1f is not the last crossing", hz, test.trigger, at)
			}
		}
	}
}

func TestTriggerIgnoresWhatHysteresisForbids(t *testing.T) {
	//                    armed .. fires ... chatter ....... armed  fires
	signal := []float64{-1, -0.1, 0.1, 0.3, -0.1, 0.1, -0.2, 0.2, -0.6, 0.4, 0.4}
	for _, test := range []struct {
		to   float64
		want float64 // crossing lies within one sample after it
	}{{10, 8}, {8, 1}, {7.9, 1}, {2.5, 1}} {
		at, ok := Find(Trigger{Hysteresis: 0.5}, signal, 0, test.to)
		if !ok || at < test.want || at > test.want+1 {
			t.Errorf("up to %g: found %v, %v; want one between %g and %g", test.to, at, ok, test.want, test.want+1)
		}
	}
	if at, ok := Find(Trigger{Level: 0.8}, signal, 0, 10); ok {
		t.Errorf("a level that is never reached is found at %v", at)
	}
	if _, ok := Find(Trigger{}, []float64{}, 0, 0); ok {
		t.Error("a crossing in nothing")
	}
}

// A repeating signal stands still, whatever the moment of the frame.
func TestAlignedPicturesStandStill(t *testing.T) {
	signal := tone(9600, 997)
	first := make([]Column, 400)
	for frame, start := range []int{0, 17, 333, 1001, 2500} {
		v, ok := Align(Trigger{Hysteresis: 0.1}, signal[start:start+4800], 200, 0.25)
		if !ok {
			t.Fatal("no crossing in a sine")
		}
		columns := Trace(make([]Column, 400), signal[start:start+4800], v)
		if frame == 0 {
			copy(first, columns)
		}
		for c := range columns {
			if math.Abs(columns[c].Min-first[c].Min) > 1e-3 {
				t.Fatalf("frame %d: column %d is %.5f, was %.5f", frame, c, columns[c].Min, first[c].Min)
			}
		}
		if math.Abs(columns[100].Min) > 0.07 {
			t.Errorf("the crossing stands at %.3f, a quarter from the left, want 0", columns[100].Min)
		}
	}
	if v, ok := Align(Trigger{Level: 2}, signal, 200, 0.25); ok || v.First != 9599-200 {
		t.Errorf("without a crossing the view is %+v, %v; want the newest 200 samples, running free", v, ok)
	}
}

// Zoomed out, no sample is lost and neighbouring columns touch.
func TestTraceKeepsEverySample(t *testing.T) {
	signal := make([]float64, 10007)
	signal[5003] = 1
	signal[5004] = -1
	columns := Trace(make([]Column, 331), signal, View{0, float64(len(signal))})
	low, high := 0.0, 0.0
	for c, column := range columns {
		low, high = min(low, column.Min), max(high, column.Max)
		if c > 0 && (column.Min > columns[c-1].Max || column.Max < columns[c-1].Min) {
			t.Errorf("a gap between columns %d and %d", c-1, c)
		}
	}
	// Band-limited, the click is sinc(t) - sinc(t-1), which reaches beyond +-1
	// (but half of it lies where the interpolation no longer is exact).
	want := 0.0
	for at := -1.0; at < 1; at += 1e-4 {
		want = max(want, approx.Sinc(at)-approx.Sinc(at-1))
	}
	if math.Abs(low+want) > 5e-3 || math.Abs(high-want) > 5e-3 {
		t.Errorf("a click of +-1 is drawn from %g to %g; its peaks are +-%g", low, high, want)
	}
}

// Zoomed in, the trace is the band-limited signal between the samples.
func TestInterpolationAgainstTheSine(t *testing.T) {
	for _, hz := range []float64{100, 1000, 10000, 15000, 19000} {
		signal := tone(400, hz)
		worst := 0.0
		for place := 50.0; place < 350; place += 0.0371 {
			worst = max(worst, math.Abs(At(signal, place)-math.Sin(2*math.Pi*hz*place/48000)))
		}
		t.Logf("%g Hz: error %.2g", hz, worst)
		if worst > 1e-3 {
			t.Errorf("%g Hz between samples is wrong by %.2g; allowed is 1e-3", hz, worst)
		}
	}
}

func TestBeyondTheEndsIsEmpty(t *testing.T) {
	signal := []float64{0.5, 0.5, 0.5, 0.5}
	for _, v := range []View{{-4, 12}, {-40, 120}} {
		columns := Trace(make([]Column, 12), signal, v)
		if !columns[0].Empty() || !columns[11].Empty() {
			t.Errorf("%+v: columns beyond the ends are not empty: %v", v, columns)
		}
		if c := columns[int(-v.First/v.Length*12)]; c.Empty() || math.Abs(c.Max-0.5) > 1e-9 {
			t.Errorf("%+v: the signal itself is %v", v, c)
		}
	}
	for _, c := range Trace(make([]Column, 5), []float64{}, View{0, 10}) {
		if !c.Empty() {
			t.Errorf("nothing is drawn as %v", c)
		}
	}
}

func BenchmarkTrace(b *testing.B) {
	signal, columns := make([]float32, 48000), make([]Column, 1000)
	for i, x := range tone(48000, 997) {
		signal[i] = float32(x)
	}
	for name, v := range map[string]View{"1 s": {0, 47999}, "10 ms": {100, 480}} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				Trace(columns, signal, v)
			}
		})
	}
	b.Run("align", func(b *testing.B) {
		for b.Loop() {
			Align(Trigger{Hysteresis: 0.1}, signal, 4800, 0.5)
		}
	})
}

func ExampleAlign() {
	signal := tone(4800, 100)
	v, ok := Align(Trigger{Level: 0, Hysteresis: 0.1}, signal, 960, 0.5)
	fmt.Printf("%.3f %v %v\n", v.First, v.Length, ok)
	// Output: 3360.000 960 true
}
