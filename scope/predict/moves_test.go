package predict

import (
	"fmt"
	"math"
	"math/cmplx"
	"math/rand/v2"
	"testing"
)

// moving is one random filter that moves.
type moving struct {
	kind, shape, out string
	hz, cutoff, rate float64
	depth, q         float64
}

func (m moving) String() string {
	return fmt.Sprintf("%s of %.2f Hz, %s/%s of %.1f Hz and Q %.2f, moved by %.3f oct at %.3f Hz", m.shape, m.hz, m.kind, m.out, m.cutoff, m.q, m.depth, m.rate)
}

func (m moving) build(t tester) *desk {
	d := &desk{t, build()}
	if m.shape == "noise" {
		d.put("a", "noise")
	} else {
		d.put("a", "oscillator", "frequency", fmt.Sprintf("%.3f Hz", m.hz), "shape", m.shape, "width", "30 %")
	}
	d.put("b", "slow", "rate", fmt.Sprintf("%.4f Hz", m.rate))
	d.put("weak", "mixer", "level 1", "-40 dB") // a filter that rings may pass what an output gives at most
	d.cord("a/out", "weak/1", "")
	corner := fmt.Sprintf("%.2f Hz", m.cutoff)
	control := "cutoff"
	switch m.kind {
	case "filter":
		d.put("f", "filter", "cutoff", corner, "width", fmt.Sprintf("Q %.3f", m.q))
	case "ladder":
		d.put("f", "ladder", "cutoff", corner, "resonance", fmt.Sprintf("%.1f %%", 90*m.q/20))
	case "allpass":
		control = "centre"
		d.put("f", "allpass", "centre", corner, "mix", "50 %")
	case "tilt":
		control = "pivot"
		d.put("f", "tilt", "pivot", corner, "tilt", "6 dB")
	}
	d.cord("weak/out", "f/in", "")
	d.cord("b/out", "f/"+control, fmt.Sprintf("%.4f oct", m.depth))
	d.hear("f/" + m.out)
	return d
}

// mover draws filters that move at random.
type mover struct{ *rand.Rand }

func (r mover) between(low, high float64) float64 { return low * math.Pow(high/low, r.Float64()) }

func (r mover) next() moving {
	return moving{kind: "filter", shape: []string{"saw", "pulse"}[r.IntN(2)], out: []string{"low", "band", "high", "notch"}[r.IntN(4)],
		hz: r.between(80, 400), cutoff: r.between(300, 5000), rate: r.between(0.1, 2), depth: r.between(0.1, 1), q: r.between(1, 20)}
}

// tally is the worst of the lines of each ten dB under the strongest.
type tally struct {
	worst         [6]float64
	lines, movers int
	refused       int
}

func (y *tally) hold(t *testing.T, m moving) {
	t.Helper()
	y.holdDesk(t, m.build(t), m.String(), m.rate)
}

func (y *tally) holdDesk(t *testing.T, d *desk, name string, rate float64) {
	t.Helper()
	w := newWalk(*d.p, usual)
	s := w.output(heard)
	if len(s.why) > 0 {
		y.refused++
		return
	}
	y.movers++
	n, off, at := y.holdLines(t, d, w, s, rate)
	y.lines += n
	if off > w.claimed || w.claimed > 0.1 {
		t.Errorf("%s: %.3f dB off at %.2f Hz; %.2f dB is claimed down to %.0f", name, off, at, w.claimed, w.down)
	}
	t.Logf("%s: %d lines down to %.0f dB within %.5f dB", name, n, w.down, off)
}

func (y *tally) tell(t *testing.T) {
	t.Helper()
	for i, v := range y.worst {
		t.Logf("lines %d to %d dB under the strongest: worst %.5f dB", 10*i, 10*i+10, v)
	}
	t.Logf("%d lines of %d filters; %d are not claimed", y.lines, y.movers, y.refused)
}

// Filters that move at random, and every line that is claimed held against the
// sound. None is refused.
func TestMovingFiltersHoldWhatIsClaimed(t *testing.T) {
	random, y := mover{rand.New(rand.NewPCG(7, 11))}, &tally{}
	for range 10 {
		y.hold(t, random.next())
	}
	// What moves fastest beside how long it rings, and faster than that.
	y.hold(t, moving{"filter", "saw", "band", 110, 700, 2, 1, 20})
	y.hold(t, moving{"filter", "saw", "low", 220, 1000, 3, 0.3, 20})
	y.hold(t, moving{"filter", "pulse", "bell", 110, 300, 5, 1, 20})
	y.hold(t, moving{"filter", "saw", "band", 800, 1500, 30, 0.5, 5})
	y.hold(t, moving{"filter", "saw", "low", 220, 1500, 90.3, 1, 20}) // a tone of its own
	y.tell(t)
	if y.lines < 1500 || y.refused > 0 {
		t.Errorf("%d lines, %d refused", y.lines, y.refused)
	}
}

// Widths that move, by themselves or because they are told in Hz or octaves of a
// cutoff that moves, and levels that move with them.
func TestMovingWidthsHoldWhatIsClaimed(t *testing.T) {
	y := &tally{}
	for _, c := range []struct{ out, width, control, depth string }{
		{"band", "120 Hz", "cutoff", "0.7 oct"}, {"high", "0.5 oct", "cutoff", "0.7 oct"}, {"notch", "Q 6", "width", "1 oct"},
		{"high", "Q 6", "width", "1 oct"}, {"band", "Q 4", "peak", "6 dB"}, {"bell", "Q 4", "boost", "3 dB"}, {"bell", "200 Hz", "cutoff", "0.4 oct"},
	} {
		d := &desk{t, build()}
		d.put("a", "oscillator", "frequency", "150 Hz", "shape", "saw")
		d.put("weak", "mixer", "level 1", "-40 dB")
		d.put("b", "slow", "rate", "1.7 Hz")
		d.put("f", "filter", "cutoff", "1200 Hz", "width", c.width, "boost", "9 dB")
		d.cord("a/out", "weak/1", "")
		d.cord("weak/out", "f/in", "")
		d.cord("b/out", "f/"+c.control, c.depth)
		d.hear("f/" + c.out)
		y.holdDesk(t, d, fmt.Sprint(c), 1.7)
	}
	y.tell(t)
	if y.lines < 300 || y.refused > 0 {
		t.Errorf("%d lines, %d refused", y.lines, y.refused)
	}
}

// Kinds of which only the response of each moment is known claim less, and hold it.
func TestOtherMovingFiltersHoldWhatIsClaimed(t *testing.T) {
	random, y := mover{rand.New(rand.NewPCG(3, 5))}, &tally{}
	for i := range 18 {
		m := random.next()
		m.kind, m.out = []string{"ladder", "allpass", "tilt"}[i%3], "out"
		m.rate = max(m.rate, 0.4)
		y.hold(t, m)
	}
	y.tell(t)
	if y.lines < 300 {
		t.Errorf("%d lines", y.lines)
	}
}

// Noise behind a moving filter has its mean power over a cycle.
func TestNoiseBehindAMovingFilterHasItsPower(t *testing.T) {
	for _, m := range []moving{{"filter", "noise", "band", 0, 900, 1.25, 0.8, 20}, {"filter", "noise", "low", 0, 2500, 0.625, 1, 4}} {
		holdThirds(t, *m.build(t).p, 0.1)
	}
	fast := moving{"filter", "noise", "low", 0, 1000, 60, 1, 20}
	if r := Predict(*fast.build(t).p, heard, usual); len(r.Why) == 0 {
		t.Errorf("%s is claimed", fast)
	}
}

// holdLines measures through a window, whose lobe is 8 of what the stretch tells
// apart to either side, a hundred and fifty of the lines that stand alone in it.
func (y *tally) holdLines(t tester, d *desk, w *walk, s signal, rate float64) (n int, off, at float64) {
	const from = 24000
	seconds := math.Max(9/rate, 4)
	x := render(t, *d.p, usual, seconds+0.5)[from:]
	window := kaiser(len(x))
	strongest := 0.0
	for _, l := range s.lines {
		strongest = math.Max(strongest, cmplx.Abs(l.a))
	}
	random := rand.New(rand.NewPCG(1, 2))
	var claimed []line
	for i, l := range s.lines {
		alone := cmplx.Abs(l.a) >= strongest*math.Pow(10, -w.down/20) && l.hz < 18000
		for j := i - 1; j >= 0 && l.hz-s.lines[j].hz < 8/seconds; j-- {
			alone = alone && cmplx.Abs(s.lines[j].a) < 1e-5*cmplx.Abs(l.a)
		}
		for j := i + 1; j < len(s.lines) && s.lines[j].hz-l.hz < 8/seconds; j++ {
			alone = alone && cmplx.Abs(s.lines[j].a) < 1e-5*cmplx.Abs(l.a)
		}
		if alone {
			claimed = append(claimed, l)
		}
	}
	random.Shuffle(len(claimed), func(i, j int) { claimed[i], claimed[j] = claimed[j], claimed[i] })
	for _, l := range claimed[:min(120, len(claimed))] {
		n++
		got := lineAt(x, window, from, l.hz, 48000)
		e := math.Abs(db(cmplx.Abs(got) / cmplx.Abs(l.a)))
		deep := min(int(-db(cmplx.Abs(l.a)/strongest)/10), len(y.worst)-1)
		y.worst[deep] = math.Max(y.worst[deep], e)
		if e > off {
			off, at = e, l.hz
		}
	}
	return n, off, at
}
