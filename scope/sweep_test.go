package scope

import (
	"fmt"
	"math"
	"testing"
)

// tape is a signal that is read through a tap, frame by frame.
type tape struct {
	at  func(clock float64) float64
	end int64
}

func (p *tape) read(n int) []float32 {
	samples := make([]float32, n)
	for i := range samples {
		samples[i] = float32(p.at(float64(p.end - int64(n) + int64(i))))
	}
	return samples
}

func sineAt(hz float64) func(float64) float64 {
	return func(clock float64) float64 { return math.Sin(2 * math.Pi * math.Mod(hz/48000*clock, 1)) }
}

// Frame after frame a steady tone stands still, up to 18 kHz, and each picture is
// newer than the one before.
func TestSweepStandsStill(t *testing.T) {
	for _, hz := range []float64{97, 440.7, 9999.9, 17999} {
		p, s, last := tape{sineAt(hz), 10000}, Sweep{}, 0.0
		s.Hysteresis, s.Before = 0.1, 0.25
		for range 60 {
			p.end += 803
			shot := s.Next32(p.read(4096), p.end, 480, nil)
			if shot.State == Standing {
				continue // a low tone does not fire in every frame
			}
			if shot.State != Fired || shot.At <= last {
				t.Fatalf("%g Hz: %+v after %g", hz, shot, last)
			}
			period := 48000 / hz
			if away := math.Remainder(shot.At, period); math.Abs(away) > 1e-3 {
				t.Errorf("%g Hz: fired %.2g samples away from the rise", hz, away)
			}
			if left := shot.At - float64(p.end-4096) - 120; math.Abs(left-shot.View.First) > 1e-6 || shot.View.First+480 > 4095 {
				t.Errorf("%g Hz: the view %+v does not bring the trigger to a quarter", hz, shot.View)
			}
			if late := float64(p.end) - shot.At; late > 380+period+803 {
				t.Errorf("%g Hz: the picture is %.0f samples old", hz, late)
			}
			last = shot.At
		}
	}
}

// A burst of three periods, then a pause: without hold-off any rise fires, with it
// only the first of each burst (what hold-off is for; common practice).
func TestHoldOffFindsTheFirstOfABurst(t *testing.T) {
	burst := func(clock float64) float64 {
		if at := math.Mod(clock, 4800); at < 1440 {
			return math.Sin(2 * math.Pi * at / 480)
		}
		return -0.2
	}
	for _, holdOff := range []float64{0, 3000} {
		p, s, places := tape{burst, 4801}, Sweep{}, map[int]bool{}
		s.Hysteresis, s.HoldOff, s.Mode, s.Level = 0.1, holdOff, Normal, 0.5
		for range 200 {
			p.end += 1217
			if shot := s.Next32(p.read(3000), p.end, 300, nil); shot.State == Fired {
				places[int(math.Mod(shot.At, 4800))/480] = true
			}
		}
		if want := map[float64]int{0: 3, 3000: 1}[holdOff]; len(places) != want || !places[0] {
			t.Errorf("hold-off %g: fired in periods %v of the burst, want %d", holdOff, places, want)
		}
	}
}

func TestModesWaitAsTheyAreTold(t *testing.T) {
	click := func(clock float64) float64 {
		if clock >= 20000 && clock < 20100 || clock >= 40000 && clock < 40100 {
			return 0.8
		}
		return 0
	}
	for _, test := range []struct {
		mode        Mode
		fired, free int
	}{{Auto, 2, 60}, {Normal, 2, 0}, {Single, 1, 0}} {
		p, s, fired, free := tape{click, 5000}, Sweep{}, 0, 0
		s.Level, s.Hysteresis, s.Mode = 0.5, 0.2, test.mode
		for range 100 {
			p.end += 700
			switch shot := s.Next32(p.read(3000), p.end, 1000, nil); shot.State {
			case Fired:
				fired++
			case Free:
				free++
				if shot.View.First+shot.View.Length != 2999 {
					t.Errorf("%s: running free it shows %+v, not the newest", test.mode, shot.View)
				}
			}
		}
		if fired != test.fired || free < test.free || test.free == 0 && free > 0 {
			t.Errorf("%s: %d pictures at the trigger and %d free; want %d, and %d or more", test.mode, fired, free, test.fired, test.free)
		}
		if s.Done() != (test.mode == Single) {
			t.Errorf("%s: done is %v", test.mode, s.Done())
		}
		if first := float64(p.end - 3000); test.mode == Single {
			s.Arm()
			s.Level, s.Hysteresis = 0, 0.1
			p.at, p.end = sineAt(1000), p.end+48
			if shot := s.Next32(p.read(3000), p.end, 1000, nil); shot.At > first+48+2*48 {
				t.Errorf("single takes the picture at %g, not the first of those from %g on", shot.At, first+48)
			}
		}
		if s.Arm(); s.Done() {
			t.Errorf("%s: done after Arm", test.mode)
		}
	}
}

func TestEventsFireToTheSample(t *testing.T) {
	p, s := tape{sineAt(440), 5000}, Sweep{}
	s.OnEvents, s.Mode, s.Before = true, Normal, 0.1
	events := []int64{7001, 9111, 9700, 30000}
	var at []float64
	for range 60 {
		p.end += 500
		if shot := s.Next32(p.read(3000), p.end, 1000, events); shot.State == Fired {
			at = append(at, shot.At)
		}
	}
	if len(at) != 4 || at[0] != 7001 || at[1] != 9111 || at[2] != 9700 || at[3] != 30000 {
		t.Errorf("fired at %v, want the events", at)
	}
	s = Sweep{}
	s.OnEvents, s.HoldOff, s.Mode = true, 1000, Normal
	p.end = 12000
	if shot := s.Next32(p.read(8000), p.end, 1000, events); shot.At != 9111 {
		t.Errorf("with a hold-off of 1000 it fired at %g, want 9111: 9700 comes too soon", shot.At)
	}
}

// Who turns a setting sees the same stretch of signal again, in spite of hold-off.
func TestSweepLooksAgainWhenASettingIsTurned(t *testing.T) {
	p, s := tape{sineAt(1000), 5000}, Sweep{}
	s.HoldOff, s.Mode = 100000, Normal
	first := s.Next32(p.read(2000), p.end, 480, nil)
	if again := s.Next32(p.read(2000), p.end, 480, nil); first.State != Fired || again.State != Standing {
		t.Errorf("%+v, and on the same signal %+v", first, again)
	}
	s.Level = 0.1
	if turned := s.Next32(p.read(2000), p.end, 480, nil); turned.State != Fired || turned.At == first.At {
		t.Errorf("after the level was turned: %+v", turned)
	}
}

func TestSweepFindsItsWayAfterAGap(t *testing.T) {
	p, s := tape{sineAt(1000), 5000}, Sweep{}
	for _, jump := range []int64{100, 100000, -90000, 100} {
		p.end += jump
		if shot := s.Next32(p.read(2000), p.end, 480, nil); shot.State != Fired && jump != 100 {
			t.Errorf("after a jump of %d samples: %+v", jump, shot)
		}
	}
	early := make([]float64, 600)
	for i := 100; i < 600; i++ {
		early[i] = 1
	}
	for before, want := range map[float64]State{0.1: Fired, 0.9: Standing} {
		s := Sweep{SweepSettings: SweepSettings{Trigger: Trigger{Level: 0.5}, Mode: Normal, Before: before}}
		if shot := s.Next(early, 600, 480, nil); shot.State != want {
			t.Errorf("100 samples before the trigger, %g of 480 are wanted: %+v", before, shot)
		}
	}
	for _, samples := range [][]float64{nil, {1}, {-1, 1}} {
		s := Sweep{}
		if shot := s.Next(samples, 2, 480, nil); shot.State == Fired {
			t.Errorf("fired in %v", samples)
		}
	}
}

func ExampleSweep() {
	p, columns := tape{sineAt(1000), 4000}, make([]Column, 400)
	var s Sweep
	s.Hysteresis, s.Before = 0.05, 0.5
	for range 3 { // frames of a screen
		p.end += 800
		samples := p.read(2048)
		if shot := s.Next32(samples, p.end, 96, nil); shot.State != Standing {
			Trace(columns, samples, shot.View)
		}
		fmt.Printf("left of the trigger %.2f, a quarter of a period later %.2f\n", columns[199].Max, columns[250].Max)
	}
	// Output:
	// left of the trigger 0.00, a quarter of a period later 1.00
	// left of the trigger 0.00, a quarter of a period later 1.00
	// left of the trigger 0.00, a quarter of a period later 1.00
}

// A frame of a screen at 60 Hz: 800 new samples among 8192.
func BenchmarkSweep(b *testing.B) {
	p := tape{sineAt(997), 100000}
	s, samples := Sweep{}, p.read(8192)
	s.Hysteresis = 0.1
	b.ReportAllocs()
	for b.Loop() {
		p.end += 800
		s.Next32(samples, p.end, 480, nil)
	}
}
