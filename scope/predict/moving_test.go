package predict

import (
	"math"
	"strings"
	"testing"

	"lampblack/patch"
)

// A filter that moves slowly, held within 0.1 dB: lines of 1 Hz apart, over 8 s.
func TestAMovingFilterIsWhatWasPredicted(t *testing.T) {
	d := &desk{t, build()}
	d.put("a", "oscillator", "frequency", "220 Hz", "shape", "saw")
	d.put("b", "slow", "rate", "1 Hz")
	d.put("f", "filter", "cutoff", "1.5 kHz", "width", "Q 1")
	d.cord("a/out", "f/in", "")
	d.cord("b/out", "f/cutoff", "1 oct")
	d.hear("f/low")
	w := newWalk(*d.p, usual)
	s := w.output(heard)
	w.down = 50
	if len(s.why) > 0 || w.claimed != 0.1 {
		t.Fatalf("why %q, claimed %g", s.why, w.claimed)
	}
	const from, rate = 48000, 48000.0
	x := render(t, *d.p, usual, 9)[from:]
	window, strongest, n, worst := kaiser(len(x)), 0.0, 0, 0.0
	lines := w.report(s.lines)
	strongest = lines[0].Level
	for _, l := range lines {
		if l.Level < strongest-w.down || l.Hz > 18000 {
			continue
		}
		n++
		got := db(lengthOf(lineAt(x, window, from, l.Hz, rate)))
		worst = math.Max(worst, math.Abs(got-l.Level))
		if math.Abs(got-l.Level) > 0.1 {
			t.Errorf("%.2f Hz: %.3f dB predicted, %.3f heard", l.Hz, l.Level, got)
		}
	}
	t.Logf("%d lines down to -50 dB, worst %.4f dB", n, worst)
	if n < 50 {
		t.Errorf("only %d lines", n)
	}
	if len(w.moving) != 1 || math.Abs(w.moving[0].Least-750) > 0.1 || math.Abs(w.moving[0].Most-3000) > 0.1 || w.moving[0].Hz != 1 {
		t.Errorf("what moves is %+v; want 750 to 3000 Hz once a second", w.moving)
	}
}

func lengthOf(v complex128) float64 { return math.Hypot(real(v), imag(v)) }

// One that moves as fast as it rings is not claimed, if nothing but its response is
// known.
func TestAFilterThatMovesFastIsSaidToDoSo(t *testing.T) {
	d := &desk{t, build()}
	d.put("a", "oscillator", "frequency", "220 Hz", "shape", "saw")
	d.put("b", "oscillator", "frequency", "90 Hz")
	d.put("f", "allpass", "centre", "1.5 kHz", "order", "second", "width", "Q 20")
	d.cord("a/out", "f/in", "")
	d.cord("b/out", "f/centre", "1 oct")
	d.hear("f/out")
	if r := Predict(*d.p, heard, usual); !strings.Contains(strings.Join(r.Why, ";"), "f moves about as fast as it rings") {
		t.Errorf("%q", r.Why)
	}
}

// Arithmetic of the formula at patch.Move.
func TestWhatMovesAControlIsSaidForEveryCord(t *testing.T) {
	d := &desk{t, build()}
	d.put("keys", "memory")
	d.put("sway", "slow")
	d.put("lift", "envelope")
	d.put("n", "noise")
	d.put("f", "filter", "cutoff", "1 kHz")
	d.put("a", "amplifier", "level", "-6 dB")
	d.cord("keys/pitch", "f/cutoff", "1 oct")
	d.cord("sway/out", "f/cutoff", "0.5 oct")
	d.cord("lift/out", "f/cutoff", "-500 Hz")
	d.cord("lift/out", "a/level", "1 x")
	d.cord("n/out", "a/level", "6 dB")
	c := usual
	c.Pitch = 1
	m, err := MovesOf(*d.p, patch.Socket{Module: "f", Name: "cutoff"}, c)
	if err != nil {
		t.Fatal(err)
	}
	half := math.Exp2(0.5)
	for i, want := range [][2]float64{{2000, 2000}, {1000 / half, 1000 * half}, {500, 1000}} {
		if s := m.Cords[i]; math.Abs(s.Least-want[0]) > 1e-6 || math.Abs(s.Most-want[1]) > 1e-6 || !s.Known || s.Beyond {
			t.Errorf("cord %d: %+v; want %v", i, s, want)
		}
	}
	if math.Abs(m.Least-(2000/half-500)) > 1e-6 || math.Abs(m.Most-2000*half) > 1e-6 || m.Unit != "Hz" {
		t.Errorf("all: %g to %g %s", m.Least, m.Most, m.Unit)
	}
	if part := math.Log(2) / math.Log(1000); math.Abs(m.Cords[1].Part-part) > 1e-9 {
		t.Errorf("an octave is %g of the ruler; want %g", m.Cords[1].Part, part)
	}
	m, err = MovesOf(*d.p, patch.Socket{Module: "a", Name: "level"}, c)
	if err != nil || math.Abs(m.Cords[0].Least+96) > 1e-9 || math.Abs(m.Cords[0].Most+6) > 1e-9 || m.Cords[1].Known || math.Abs(m.Cords[1].Most) > 1e-9 || m.Beyond {
		t.Errorf("level: %+v, %v", m, err)
	}
	if _, err = MovesOf(*d.p, patch.Socket{Module: "a", Name: "colour"}, c); err == nil {
		t.Error("a control that is not there has movements")
	}
}

// Half a swing moves half as far: octaves of a sine from -0.5 to 0.25 on 1 kHz.
func TestMeasuredSwingsTakeThePlaceOfFullOnes(t *testing.T) {
	d := &desk{t, build()}
	d.put("sway", "slow")
	d.put("n", "noise")
	d.put("f", "filter", "cutoff", "1 kHz")
	d.cord("sway/out", "f/cutoff", "2 oct")
	d.cord("n/out", "f/cutoff", "1 oct")
	m, err := MovesIn(*d.p, patch.Socket{Module: "f", Name: "cutoff"}, func(from patch.Socket) (low, high float64, known bool) {
		return -0.5, 0.25, from.Module == "sway"
	})
	if err != nil {
		t.Fatal(err)
	}
	if s := m.Cords[0]; math.Abs(s.Least-500) > 1e-6 || math.Abs(s.Most-1000*math.Sqrt2) > 1e-6 || !s.Known {
		t.Errorf("%+v; want 500 Hz to 1.414 kHz", s)
	}
	if m.Cords[1].Known {
		t.Error("a swing that was not measured counts as known")
	}
}

// On the bench nothing tells how two oscillators stand to each other.
func TestPhasesThatNothingTellsGiveBounds(t *testing.T) {
	d := &desk{t, build()}
	d.put("a", "oscillator", "frequency", "440 Hz")
	d.put("b", "oscillator", "frequency", "440 Hz", "phase", "180 deg")
	d.put("m", "mixer", "level 2", "-6.0206 dB")
	d.cord("a/out", "m/1", "")
	d.cord("b/out", "m/2", "")
	at := patch.Socket{Module: "m", Name: "out"}
	if l := Predict(*d.p, at, usual).Lines[0]; math.Abs(l.Amplitude-0.5) > 1e-6 || l.Least != l.Most || l.Meets != 1 {
		t.Errorf("from the start on: %+v; want 0.5", l)
	}
	c := usual
	c.AnyPhase = true
	if l := Predict(*d.p, at, c).Lines[0]; math.Abs(l.Least-0.5) > 1e-6 || math.Abs(l.Most-1.5) > 1e-6 || math.Abs(l.Amplitude-math.Sqrt(1.25)) > 1e-6 {
		t.Errorf("on the bench: %+v; want 0.5 to 1.5", l)
	}
}

// One source through two ways is always in step with itself: a comb of 1 ms.
// Source: theory of combs, notches at (k + 1/2)/T.
func TestResponseOfTwoWays(t *testing.T) {
	d := &desk{t, build()}
	d.put("a", "oscillator", "frequency", "500 Hz")
	d.put("late", "delay", "time", "1 ms", "feedback", "0 %", "mix", "100 %", "ceiling", "24 dB")
	d.put("m", "mixer", "level 2", "-6.0206 dB")
	d.cord("a/out", "late/in", "")
	d.cord("a/out", "m/1", "")
	d.cord("late/out", "m/2", "")
	from, at := patch.Socket{Module: "a", Name: "out"}, patch.Socket{Module: "m", Name: "out"}
	level, phase, err := Response(*d.p, from, at, usual, []float64{500, 1000, 250, 1500})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{-6.0206, 3.5218, db(math.Hypot(1, 0.5)), -6.0206} {
		if math.Abs(level[i]-want) > 1e-4 {
			t.Errorf("level %d: %.5f dB; want %.4f", i, level[i], want)
		}
	}
	if math.Abs(phase[2]+math.Atan(0.5)*180/math.Pi) > 1e-4 {
		t.Errorf("phase at 250 Hz: %.4f deg", phase[2])
	}
	if _, _, err := Response(*d.p, at, from, usual, []float64{1}); err == nil {
		t.Error("there is a way back")
	}
}

func TestCycleIsTheWave(t *testing.T) {
	d := &desk{t, build()}
	d.put("a", "oscillator", "frequency", "10 Hz", "shape", "triangle")
	points, ok := Cycle(*d.p, patch.Socket{Module: "a", Name: "out"}, usual, 101)
	if !ok || len(points) != 101 {
		t.Fatal(ok, len(points))
	}
	for _, p := range points {
		if want := math.Abs(math.Abs(4*p.X-1)-2) - 1; math.Abs(p.Y-want) > 0.001 {
			t.Errorf("at %g of the cycle: %g; want %g", p.X, p.Y, want)
		}
	}
}

// First-order theory: 63.2 % after a time constant; the attack is there in time.
func TestEnvelopesHaveTheirTimes(t *testing.T) {
	e := Envelope{Attack: 0.1, Decay: 0.2, Sustain: 0.5, Release: 0.3}
	for _, c := range []struct{ at, gate, want float64 }{
		{0, 9, 0}, {0.1, 9, 1}, {0.3, 9, 0.5 + 0.5*math.Exp(-1)}, {9, 9, 0.5}, {9.3, 9, 0.5 * math.Exp(-1)},
	} {
		if got := e.At(c.at, c.gate); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("at %g s: %g; want %g", c.at, got, c.want)
		}
	}
	d := &desk{t, build()}
	d.put("e", "envelope", "attack", "100 ms", "sustain", "50 %")
	points, ok := EnvelopeShape(*d.p, "e", 2, 1000)
	if !ok || points[0].Y != 0 || points[999].Y > 0.006 || points[999].X < 2 {
		t.Errorf("the shape ends at %+v", points[len(points)-1])
	}
}

// The level at a moment is that of the sound itself: contour and envelope as a
// steady voltage at that time.
func TestEnvelopesAtAMoment(t *testing.T) {
	for _, kind := range []string{"envelope", "ahd", "contour"} {
		for _, after := range []float64{0.005, 0.05, 0.2, 0.7} {
			d := &desk{t, build()}
			d.put("e", kind)
			if kind == "contour" {
				d.p.Modules[0].Settings["length"] = patch.Setting{Value: 1.3, Unit: "s"}
			}
			d.hear("e/out")
			c := usual
			c.After = after
			r := Predict(*d.p, heard, c)
			x := render(t, *d.p, usual, 1)
			if got := x[int(after*48000)]; len(r.Lines) != 1 || math.Abs(r.Lines[0].Amplitude-got) > 1e-4 {
				t.Errorf("%s after %g s: %+v; want %g", kind, after, r.Lines, got)
			}
		}
	}
}
