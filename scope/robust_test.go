package scope

import (
	"io"
	"math"
	"math/rand/v2"
	"testing"
)

// Whatever samples, views and places come: nothing panics, and what is drawn or
// read of numbers is numbers.
func TestNothingBreaksOnWhatIsNoNumber(t *testing.T) {
	random := rand.New(rand.NewPCG(41, 42))
	odd := []float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e300, -1e300, 0, -5, 0.5, 40, 1e6}
	pick := func() float64 { return odd[random.IntN(len(odd))] }
	columns, levels := make([]Column, 30), make([]float64, 30)
	p, strip, sweep := NewPersistence(30, 10, -1, 1), NewStrip(30, 3.7), Sweep{}
	for round := range 3000 {
		signal := make([]float64, random.IntN(200))
		for i := range signal {
			signal[i] = random.NormFloat64()
			if round%2 == 1 && random.IntN(30) == 0 {
				signal[i] = pick()
			}
		}
		v := View{pick(), pick()}
		for _, c := range Trace(columns, signal, v) {
			if !c.Empty() && (math.IsNaN(c.Min) || math.IsNaN(c.Max)) {
				t.Fatalf("%+v: a column from %g to %g", v, c.Min, c.Max)
			}
		}
		trigger := Trigger{Level: pick(), Hysteresis: pick(), Falling: random.IntN(2) == 0}
		if at, ok := Find(trigger, signal, pick(), pick()); ok && !(at >= 0 && at <= float64(len(signal))) {
			t.Fatalf("%+v: found at %g", trigger, at)
		}
		sweep.SweepSettings = SweepSettings{Trigger: trigger, Mode: Mode(random.IntN(3)), HoldOff: pick(), Before: pick(), Patience: pick()}
		if shot := sweep.Next(signal, int64(random.IntN(10000)), pick(), nil); shot.State == Fired && math.IsNaN(shot.At) {
			t.Fatalf("%+v: fired at %g", sweep.SweepSettings, shot.At)
		}
		At(signal, pick())
		Plane(make([]Point, 3), signal, signal, v)
		p.Add(signal, v)
		strip.Write(signal)
		ReadCursors(Cursors{pick(), pick()}, signal, 48000)
		Strength(make([]Level, 3), signal, v, pick())
		Cycle(levels, signal, v, pick())
		k := Keep("", "", signal, 48000, v, pick())
		k.Trace(columns, pick(), pick())
		if err := WriteCSV(io.Discard, k); err != nil {
			t.Fatal(err)
		}
	}
	for _, c := range strip.Columns(columns) {
		if math.IsNaN(c.Min) || math.IsNaN(c.Max) {
			t.Errorf("the strip holds %v", c)
		}
	}
	if cells, beside := p.Total(); math.IsNaN(cells + beside) {
		t.Errorf("the persistence holds %g and %g hits", cells, beside)
	}
}
