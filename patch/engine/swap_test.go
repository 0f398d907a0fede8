package engine

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/dsp/fourier"
	"gonum.org/v1/gonum/dsp/window"

	"lampblack/patch"
)

const fadeSamples = testRate / 100

func counter(kind string, extra ...string) patch.Patch {
	return build(append([]string{"c", kind, "out", "output"}, extra...), cord{from: "c", out: "out", to: "out", in: "left"})
}

func TestTheFirstGraphBeginsAtOnce(t *testing.T) {
	if got := heard(t, counter("count"), 5); got[0] != 0 || got[4] != 4 {
		t.Errorf("heard %v, want a count from 0, not faded", got)
	}
}

func TestAModuleThatStaysGoesOnWhereItStood(t *testing.T) {
	e := sounding(t, counter("count"))
	e.output(t, "c", "out", 1000)
	e.Swap(compile(t, counter("count", "more", "delay")))
	if got := e.output(t, "c", "out", 4); got[0] != 1000 || got[3] != 1003 {
		t.Errorf("with another module added it counts %v, want 1000 to 1003", got)
	}
	q := counter("count")
	q.Seed = 1
	e.Swap(compile(t, q))
	hear(e, fadeSamples, 64) // the graph waits for the last fade to end
	if got := e.output(t, "c", "out", 700)[699]; got > 700 {
		t.Errorf("with another seed it goes on at %g; it must begin anew", got)
	}
}

func TestAModuleThatCannotGoOnBeginsAnew(t *testing.T) {
	e := sounding(t, counter("forgets"))
	hear(e, 1000, 64)
	e.Swap(compile(t, counter("forgets", "more", "delay")))
	if got := e.output(t, "c", "out", 4); got[0] != 0 {
		t.Errorf("it counts from %g", got[0])
	}
}

func TestSwapFadesForTenMilliseconds(t *testing.T) {
	e := sounding(t, setting(build([]string{"v", "value", "out", "output"}, cord{from: "v", out: "out", to: "out", in: "left"}), "v", "value", 1, ""))
	hear(e, 1000, 64)
	e.Swap(nil)
	got, _ := hear(e, 1000, 64)
	for i := 1; i < len(got); i++ {
		if got[i] > got[i-1] || got[i-1]-got[i] > 1.6/fadeSamples {
			t.Fatalf("from sample %d to the next it goes from %g to %g; want an even way down", i-1, got[i-1], got[i])
		}
	}
	if got[0] < 1-0.1/fadeSamples || got[fadeSamples-3] > 0.1/fadeSamples {
		t.Errorf("it begins with %g and ends with %g; want a way that sets out and arrives gently", got[0], got[fadeSamples-3])
	}
	if got[fadeSamples-2] == 0 || got[fadeSamples-1] != 0 {
		t.Errorf("the last samples of the fade are %g, %g; want silence exactly after 10 ms", got[fadeSamples-2], got[fadeSamples-1])
	}
}

func TestASmoothedSettingGoesOnGliding(t *testing.T) {
	p := setting(build([]string{"v", "value", "out", "output"}, cord{from: "v", out: "out", to: "out", in: "left"}), "v", "value", 1, "")
	e := sounding(t, p)
	hear(e, 1000, 64)
	e.Swap(compile(t, setting(p.Clone(), "v", "value", 2, "")))
	got, _ := hear(e, 8000, 64)
	if math.Abs(got[0]-1) > 0.01 || got[7999] != 2 {
		t.Errorf("it begins at %g and ends at %g; want from 1 to 2", got[0], got[7999])
	}
	if at := got[1000]; math.Abs(at-(2-math.Exp(-1001/(SmoothSeconds*testRate)))) > 1e-6 {
		t.Errorf("after the fade it is at %g; it should be on the way of a one-pole", at)
	}
}

func TestWhatGoesRoundInALoopGoesOnThroughASwap(t *testing.T) {
	loop := func(extra ...string) patch.Patch {
		return build(append([]string{"s", "sum", "out", "output", "i", "impulse"}, extra...),
			cord{from: "i", out: "out", to: "s", in: "a"}, cord{from: "s", out: "out", to: "s", in: "b"}, cord{from: "s", out: "out", to: "out", in: "left"})
	}
	e := sounding(t, loop())
	hear(e, 100, 7) // the last block is shorter than those after the swap
	e.Swap(compile(t, loop("more", "delay")))
	got, _ := hear(e, 2*fadeSamples, 64)
	// The impulse, which cannot go on where it stood, comes a second time.
	if got[0] > 1.01 || got[2*fadeSamples-1] != 2 {
		t.Errorf("the loop holds %g, then %g; want 1, and with a second impulse 2", got[0], got[2*fadeSamples-1])
	}
}

func TestTheGraphThatFadesHearsTheNotes(t *testing.T) {
	e := sounding(t, noteOut("gate", "gate"))
	e.NoteOn(0, 1)
	hear(e, 64, 64)
	e.Swap(nil)
	got, _ := hear(e, 64, 64)
	e.NoteOff(0)
	off, _ := hear(e, 64, 64)
	if got[63] == 0 || off[0] != 0 {
		t.Errorf("held, the gate fades at %g; let go, it is %g; want it to fall at once", got[63], off[0])
	}
}

func TestALaterGraphWaitsForTheFadeAndTheLastOneWins(t *testing.T) {
	constant := func(v float64) patch.Patch {
		return setting(build([]string{"v" + string(rune('0'+int(v))), "value", "out", "output"},
			cord{from: "v" + string(rune('0'+int(v))), out: "out", to: "out", in: "left"}), "v"+string(rune('0'+int(v))), "value", v, "")
	}
	e := sounding(t, constant(1))
	hear(e, 64, 64)
	e.Swap(compile(t, constant(2)))
	hear(e, 64, 64)
	e.Swap(compile(t, constant(3)))
	e.Swap(compile(t, constant(4)))
	got, _ := hear(e, 2000, 64)
	if got[fadeSamples-65] < 1.99 || got[fadeSamples-65] > 2 {
		t.Errorf("the first fade ended on %g, want 2", got[fadeSamples-65])
	}
	for i, v := range got {
		if v > 2 && i < fadeSamples-64 {
			t.Fatalf("the later graph came in at sample %d, within the fade", i)
		}
	}
	if got[1999] != 4 {
		t.Errorf("it ended on %g, want 4", got[1999])
	}
}

func TestSwapRefusesAGraphThatIsUsedOrOfAnotherRate(t *testing.T) {
	e := New(testRate)
	g := compile(t, counter("count"))
	e.Swap(g)
	other, err := Compile(counter("count"), Settings{Rate: 44100, Kinds: testKinds})
	if err != nil {
		t.Fatal(err)
	}
	for name, wrong := range map[string]*Graph{"used": g, "another rate": other} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%s: it was taken", name)
				}
			}()
			e.Swap(wrong)
		}()
	}
}

// click returns the loudest line above 4 kHz of x, in dB re a full-scale sine,
// over frames of 1024 samples (Blackman-Harris window, side lobes below -92 dB).
func click(x []float64) float64 {
	const n = 1024
	w := window.BlackmanHarris(onesOf(n))
	sum := 0.0
	for _, v := range w {
		sum += v
	}
	fft := fourier.NewFFT(n)
	loudest := 0.0
	for at := 0; at+n <= len(x); at += n / 4 {
		frame := make([]float64, n)
		for i := range frame {
			frame[i] = x[at+i] * w[i]
		}
		for k, c := range fft.Coefficients(nil, frame) {
			if float64(k)*testRate/n >= 4000 {
				loudest = max(loudest, 2*math.Hypot(real(c), imag(c))/sum)
			}
		}
	}
	return 20 * math.Log10(loudest)
}

func onesOf(n int) []float64 {
	x := make([]float64, n)
	fill(x, 1)
	return x
}

// tone is a full-scale sine of 1 kHz behind a level in dB.
func tone(db float64) patch.Patch {
	p := build([]string{"s", "restless", "a", "level", "out", "output"},
		cord{from: "s", out: "out", to: "a", in: "in"}, cord{from: "a", out: "out", to: "out", in: "left"})
	return setting(p, "a", "level", db, "dB")
}

// The limit is -60 dB re full scale: the sound maker must not hear an edit.
func TestNothingClicks(t *testing.T) {
	const limit = -60
	through := tone(0)
	through.Modules = append(through.Modules, patch.Module{Name: "d", Kind: "delay"})
	through.Cords[1] = patch.Cord{From: patch.Socket{Module: "a", Name: "out"}, To: patch.Socket{Module: "d", Name: "in"}}
	through.Cords = append(through.Cords, patch.Cord{From: patch.Socket{Module: "d", Name: "out"}, To: patch.Socket{Module: "out", Name: "left"}})
	other := tone(-12)
	other.Modules[0].Name = "another"
	other.Cords[0].From.Module = "another"
	edits := map[string]func(*Engine) error{
		"a level jumps from 0 to -20 dB": func(e *Engine) error { return e.Set("a", "level", patch.Setting{Value: -20, Unit: "dB"}) },
		"a level jumps from 0 to +6 dB":  func(e *Engine) error { return e.Set("a", "level", patch.Setting{Value: 6, Unit: "dB"}) },
		"a level jumps to off":           func(e *Engine) error { return e.Set("a", "level", patch.Setting{Value: -96, Unit: "dB"}) },
		"a module is put in between":     func(e *Engine) error { e.Swap(compile(t, through)); return nil },
		"another tone takes its place":   func(e *Engine) error { e.Swap(compile(t, other)); return nil },
		"all is taken away":              func(e *Engine) error { e.Swap(nil); return nil },
	}
	for name, edit := range edits {
		e := sounding(t, tone(0))
		before, _ := hear(e, 4096+17, 64) // not at a zero crossing
		if err := edit(e); err != nil {
			t.Fatal(err)
		}
		after, _ := hear(e, 8192, 64)
		if db := click(append(before, after...)); db > limit {
			t.Errorf("%s: a click of %.1f dB re full scale above 4 kHz", name, db)
		} else {
			t.Logf("%s: %.1f dB", name, db)
		}
	}
	// The measure finds a click where there is one.
	hard := heard(t, tone(0), 8192)
	for i := range hard[4096:] {
		hard[4096+i] *= 0.1
	}
	if db := click(hard); db < limit {
		t.Errorf("a hard cut measures %.1f dB only", db)
	}
}
