package sound

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"
)

// tone is a source: a sine of amplitude Level, or noise where Hz is 0.
type tone struct {
	Hz, Level float64
	at        int
}

func (t *tone) Block(left, right []float64) {
	for i := range left {
		left[i] = t.Level * math.Sin(2*math.Pi*t.Hz*float64(t.at)/48000)
		right[i] = left[i]
		t.at++
	}
}

// noise is a source of random samples up to Level.
type noise struct{ Level float64 }

func (n noise) Block(left, right []float64) {
	for i := range left {
		left[i] = n.Level * (2*rand.Float64() - 1)
		right[i] = n.Level * (2*rand.Float64() - 1)
	}
}

// broken is a source that does everything it must not.
type broken struct{}

func (broken) Block(left, right []float64) {
	for i := range left {
		left[i] = []float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e300}[i%4]
		right[i] = -left[i]
	}
}

func render(c *chain, seconds float64) []float64 {
	n := int(seconds * 48000)
	left, right := make([]float64, n), make([]float64, n)
	c.Process(left, right)
	return left
}

func TestNothingPassesTheCeiling(t *testing.T) {
	for name, source := range map[string]Source{
		"a tone 40 dB over full scale": &tone{Hz: 440, Level: 100},
		"noise 20 dB over full scale":  noise{10},
		"a broken source":              broken{},
	} {
		t.Run(name, func(t *testing.T) {
			c := newChain(source, 48000)
			c.setLevel(MaxLevel)
			for i, x := range render(c, 2) {
				if !(math.Abs(x) <= ceiling) {
					t.Fatalf("sample %d is %g; the ceiling is %g", i, x, ceiling)
				}
			}
			if c.clips.Load() == 0 {
				t.Error("the limiter worked and did not say so")
			}
		})
	}
}

func TestBelowTheCeilingTheLimiterOnlyDelays(t *testing.T) {
	var l limiter
	l.init(48000)
	for i := range 10000 {
		in := 0.8 * math.Sin(float64(i)/7)
		out, _, _ := l.next(in, in)
		want := 0.0
		if late := i - (lookAhead - 1); late >= 0 {
			want = 0.8 * math.Sin(float64(late)/7)
		}
		if out != want {
			t.Fatalf("sample %d is %g, want %g unchanged", i, out, want)
		}
	}
}

func TestTheStartIsSafeAndGradual(t *testing.T) {
	c := newChain(&tone{Hz: 1000, Level: 1}, 48000)
	out := render(c, 2)
	if first := peakOf(out[:48]); first > 0.001 {
		t.Errorf("within the first millisecond the level is %.1f dBFS: a sudden start", decibels(first))
	}
	if top := decibels(peakOf(out)); math.Abs(top-SafeStart) > 0.1 {
		t.Errorf("a full-scale tone starts at %.2f dBFS, want %.0f", top, SafeStart)
	}
}

func TestAChangeOfLevelIsGradual(t *testing.T) {
	c := newChain(constant{}, 48000)
	c.setLevel(MinLevel)
	render(c, 1)
	c.setLevel(-1)
	last := 0.0
	for i, x := range render(c, 1) {
		if step := math.Abs(x - last); step > 0.001 { // 60 dB under full scale
			t.Fatalf("sample %d jumps by %g", i, step)
		}
		last = x
	}
}

func TestAStopFadesAndEndsInSilence(t *testing.T) {
	c := newChain(constant{}, 48000)
	c.setLevel(-1)
	out := render(c, 1)
	last := out[len(out)-1]
	c.silent.Store(true)
	for i, x := range render(c, 0.5) {
		if math.Abs(x-last) > 0.001 {
			t.Fatalf("sample %d of the fade jumps by %g", i, x-last)
		}
		last = x
	}
	if last != 0 {
		t.Errorf("after the fade the output is %g, want silence", last)
	}
}

// constant is the harshest source for steps: full scale, 0 Hz.
type constant struct{}

func (constant) Block(left, right []float64) {
	for i := range left {
		left[i], right[i] = 1, 1
	}
}

// Source: Lipshitz, Wannamaker and Vanderkooy, JAES 40(5), 1992: with
// triangular dither of two steps the error power is 1/4 step squared and does
// not depend on the signal.
func TestDitherErrorIsAQuarterStepSquaredAtAnyLevel(t *testing.T) {
	for _, level := range []float64{0, 0.25, 0.5, 100.3, 20000.7} { // in steps
		var d dither
		sum, mean := 0.0, 0.0
		const n = 1 << 18
		for range n {
			e := d.word(level/fullScale) - level
			sum += e * e
			mean += e
		}
		if power := sum / n; math.Abs(power-0.25) > 0.005 {
			t.Errorf("at %g steps the error power is %.4f, want 0.25 +- 0.005", level, power)
		}
		if mean /= n; math.Abs(mean) > 0.005 {
			t.Errorf("at %g steps the mean error is %.4f, want 0", level, mean)
		}
	}
}

func TestTheSpeakerArrivesAtTheDitheredWord(t *testing.T) {
	a, b := dither{state: 7}, dither{state: 7}
	for range 100000 {
		x := 2.2*rand.Float64() - 1.1
		want := int16(a.word(x))
		if got := int16(b.forSpeaker(x) * (1<<15 - 1)); got != want { // as the speaker converts
			t.Fatalf("%g became the word %d, want %d", x, got, want)
		}
	}
}

func TestAnAuditionIsHeardAndEnds(t *testing.T) {
	o := Open(silence{}, Options{Silent: true})
	defer o.Close()
	kept := make([]float64, 9600)
	for i := range kept {
		kept[i] = 0.5
	}
	o.Play(kept, nil)
	if !o.Auditioning() {
		t.Fatal("the audition did not start")
	}
	wait(t, "the end of the audition", func() bool { return !o.Auditioning() })
	if o.State().PeakDB < -80 {
		t.Error("the meter saw nothing of the audition")
	}
}

type silence struct{}

func (silence) Block(left, right []float64) { clear(left); clear(right) }

func TestWithoutADeviceTheClockRunsAndSaysWhy(t *testing.T) {
	o := Open(&tone{Hz: 1000, Level: 1}, Options{Silent: true})
	wait(t, "the clock to render", func() bool { return o.Frames() > 4800 })
	s := o.State()
	if !s.Silent || s.Reason == "" {
		t.Errorf("state %+v does not say that it is silent and why", s)
	}
	if s.PeakDB < -60 {
		t.Errorf("the meter stands still at %g dBFS", s.PeakDB)
	}
	if err := o.Close(); err != nil {
		t.Error(err)
	}
	if o.Close() == nil {
		t.Error("a second Close is not told")
	}
}

// wait gives another goroutine up to ten seconds; it measures nothing.
func wait(t *testing.T, what string, done func() bool) {
	t.Helper()
	for end := time.Now().Add(10 * time.Second); time.Now().Before(end); time.Sleep(time.Millisecond) {
		if done() {
			return
		}
	}
	t.Fatalf("waited in vain for %s", what)
}

// However short a buffer is asked for, 512 frames lie between rendering and the
// device.
func TestTheRingIsNeverShort(t *testing.T) {
	for _, rate := range []int{44100, 48000, 96000} {
		o := Open(silence{}, Options{Silent: true, Rate: rate, Buffer: time.Millisecond})
		if frames := o.State().Latency.Seconds() * float64(rate) / 2; frames < leastRing-1 {
			t.Errorf("at %d Hz the ring holds %.0f frames", rate, frames)
		}
		o.Close()
	}
}

func TestTheChainAllocatesNothing(t *testing.T) {
	c := newChain(&tone{Hz: 440, Level: 3}, 48000)
	c.audition.Store(&audition{left: make([]float64, 1<<24), right: make([]float64, 1<<24), gain: 1})
	s := &stream{chain: c}
	buffer := make([][2]float64, 1000)
	if n := testing.AllocsPerRun(100, func() { s.Stream(buffer) }); n != 0 {
		t.Errorf("%g allocations a block, want 0", n)
	}
}

func BenchmarkChain(b *testing.B) {
	s := &stream{chain: newChain(silence{}, 48000)}
	buffer := make([][2]float64, 512)
	for b.Loop() {
		s.Stream(buffer)
	}
	perSample := float64(b.Elapsed().Nanoseconds()) / float64(b.N*len(buffer))
	b.ReportMetric(perSample, "ns/sample")
}

func peakOf(x []float64) float64 {
	p := 0.0
	for _, v := range x {
		p = max(p, math.Abs(v))
	}
	return p
}
