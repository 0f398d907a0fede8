package filter

import (
	"math"
	"os"
	"testing"

	"lampblack/patch/dsp/hash"
	"lampblack/patch/kind/rig"
)

// changes is how many random changes are tried in every case: a million, or as
// many as the claim says when LAMPBLACK_LONG=1 (5 to 10 minutes).
func changes() int {
	if os.Getenv("LAMPBLACK_LONG") == "1" {
		return 100_000_000
	}
	return 1_000_000
}

// static is the largest gain of an output of any of the settings: a low-pass of
// Q reaches Q/sqrt(1 - 1/(4Q^2)), which is at least Q; band and notch reach 1,
// bell its boost.
func static(output string, q, boost float64) float64 {
	switch output {
	case "low", "high":
		return max(q, 1)
	case "bell":
		return max(boost, 1)
	}
	return 1
}

// Wishnick (DAFx-14) proves that the state-variable filter loses energy under
// any change of its coefficients, but not that each output does. Cutoff and
// width jump with every sample, over all of their range; the input is noise of
// +-1. No output may reach ten times (20 dB) what the loudest setting among
// them reaches with a sine of 1.
func TestRandomChangesStayWithin20dBOfTheLoudestSetting(t *testing.T) {
	random := func(seed uint64, n int) float64 { return 0.5 + 0.5*hash.Signed(seed, uint64(n)) }
	for _, c := range []struct {
		name, unit  string
		least, most float64 // of the width
		q           float64 // the highest Q that occurs, at least
		boost       float64 // dB
	}{
		{"any Q", "Q", 0.1, 1000, 1000, 12},
		{"any width in Hz", "Hz", 1, 20000, 4000, 12},
		{"any width in octaves", "oct", 0.01, 6, 140, 12},
		{"any Q, a dip", "Q", 0.1, 1000, 1000, -24},
		{"low Q", "Q", 0.1, 0.7, 0.7, 24},
		{"wide in Hz", "Hz", 20000, 20000, 0.1, -12},
		{"Q 50", "Q", 50, 50, 50, 12},
	} {
		for _, input := range []struct {
			name string
			wave rig.Wave
		}{
			{"noise", func(n int) float64 { return hash.Signed(1, uint64(n)) }},
			{"signs", func(n int) float64 { return math.Copysign(1, hash.Signed(1, uint64(n))) }},
		} {
			r := rig.New(Kind()).Feed("in", input.wave).Set("boost", c.boost, "dB")
			r.Move("cutoff", "Hz", func(n int) float64 { return 20 * math.Exp2(math.Log2(1000)*random(2, n)) })
			span := math.Log2(c.most / c.least)
			r.Move("width", c.unit, func(n int) float64 { return c.least * math.Exp2(span*random(3, n)) })
			for o, peak := range peaks(r, changes()) {
				output := r.Kind.Outputs[o].Name
				over := rig.DB(peak / static(output, c.q, rig.Arrives(c.boost, "dB")))
				t.Logf("%s, %s: %-5s reaches %8.3f, %5.1f dB over the loudest setting", c.name, input.name, output, peak, over)
				if !(over <= 20) || r.Clamped {
					t.Errorf("%s, %s: %s reached %g, %.1f dB over the loudest setting, clamped %v", c.name, input.name, output, peak, over, r.Clamped)
				}
			}
		}
	}
}

// peaks runs n samples and returns the largest size of each output, infinite
// for what is no number.
func peaks(r *rig.Rig, n int) []float64 {
	peaks := make([]float64, len(r.Kind.Outputs))
	for done := 0; done < n; done += 64 {
		b := r.Fill(64)
		r.Sound.Block(b)
		r.Clamped = r.Clamped || b.Clamped
		for o, out := range b.Out {
			for _, y := range out {
				if a := math.Abs(y); !(a <= peaks[o]) {
					if peaks[o] = a; a != a {
						peaks[o] = math.Inf(1)
					}
				}
			}
		}
	}
	return peaks
}

// A band that rings at its highest Q and is then made as broad as can be must
// not turn what it has stored into a burst. Nor may a broad band that has been
// left at rest with a steady input ring when it becomes narrow.
func TestNothingStoredBursts(t *testing.T) {
	for _, c := range []struct {
		name        string
		in          rig.Wave
		from, to    float64 // Q
		output      string
		least, peak float64
	}{
		{"ringing, then broad", rig.Sine(1000), 1000, 0.1, "band", 0.5, 2},
		{"ringing, then broad", rig.Sine(1000), 1000, 0.1, "notch", 0, 2},
		{"steady, then narrow", func(int) float64 { return 1 }, 0.1, 1000, "band", 0, 2.1},
		{"steady, while it moves", func(int) float64 { return 1 }, 0.1, 1000, "low", 0.99, 1.01},
	} {
		r := rig.New(Kind()).Feed("in", c.in).Set("cutoff", 1000, "Hz").Set("width", c.from, "Q")
		r.Run(96000)
		top := 0.0
		for _, y := range r.Set("width", c.to, "Q").Out(c.output, 4800) {
			top = max(top, math.Abs(y))
		}
		t.Logf("%s: %s reaches %.3f", c.name, c.output, top)
		if top > c.peak || top < c.least {
			t.Errorf("%s: %s reaches %.3f; want %g to %g", c.name, c.output, top, c.least, c.peak)
		}
	}
}
