package memory

import (
	"math"
	"testing"

	"lampblack/patch/kind/rig"
	"lampblack/patch/module"
)

// played runs a memory over n samples of what note writes.
func played(r *rig.Rig, n int, note func(i int, p *module.Played, k int)) [][]float64 {
	out := make([][]float64, len(r.Kind.Outputs))
	for at := 0; at < n; {
		b := r.Fill(min(64, n-at))
		for k := range b.N {
			note(at+k, b.Played, k)
		}
		r.Sound.Block(b)
		for o := range out {
			out[o] = append(out[o], b.Out[o][:b.N]...)
		}
		at += b.N
	}
	return out
}

func TestGivesOutTheNote(t *testing.T) {
	r := rig.New(Kind()).Note(10, 20)
	b := r.Fill(64)
	for i := range b.N {
		b.Played.Pitch[i], b.Played.Velocity[i] = float64(i)/12, float64(i)/64
	}
	b.Played.Pitch[3] = math.Copysign(0, -1) // every bit
	r.Sound.Block(b)
	for i := range b.N {
		gate, trigger := 0.0, 0.0
		if i >= 10 && i < 20 {
			gate = 1
		}
		if i == 10 {
			trigger = 1
		}
		got := [4]float64{b.Out[0][i], b.Out[1][i], b.Out[2][i], b.Out[3][i]}
		if want := [4]float64{b.Played.Pitch[i], gate, trigger, float64(i) / 64}; got != want || math.Signbit(got[0]) != math.Signbit(want[0]) {
			t.Fatalf("sample %d gives %v; want pitch, gate, trigger, velocity %v", i, got, want)
		}
	}
}

// step plays pitch a, then from sample on, with a trigger, pitch b, of which the
// note before had pitch before.
func step(a, b, before float64, on int) func(int, *module.Played, int) {
	return func(i int, p *module.Played, k int) {
		p.Pitch[k], p.Before[k], p.Trigger[k], p.Gate[k] = a, a, 0, 1
		if i >= on {
			p.Pitch[k], p.Before[k] = b, before
		}
		if i == on {
			p.Trigger[k] = 1
		}
	}
}

// The law that the help states: from + (to - from) t / T, whatever the interval.
func TestAGlideIsAStraightLineInOctavesOfTheWrittenTime(t *testing.T) {
	const on, T = 100, 0.1
	for _, interval := range []float64{1.0 / 12, 1, -3} {
		for _, rate := range []float64{8000, 44100, 96000} {
			n := int(T * rate)
			r := rig.NewSetup(Kind(), module.Setup{Rate: rate}).Set("glide", T, "s")
			pitch := played(r, on+n+100, step(0.5, 0.5+interval, 0.5, on))[0]
			for i, got := range pitch {
				want := 0.5 + interval*min(max(float64(i-on)/(T*rate), 0), 1)
				if math.Abs(got-want)*1200 > 1e-6 {
					t.Fatalf("%g octaves at %g Hz: sample %d of the glide is at %.9f, the formula says %.9f", interval, rate, i-on, got, want)
				}
			}
			if pitch[on+n+1] != 0.5+interval {
				t.Errorf("%g octaves at %g Hz: it ends on %.17g, not on the note", interval, rate, pitch[on+n+1])
			}
		}
	}
}

func TestAGlideSetsOutFromTheNoteBefore(t *testing.T) {
	tests := []struct {
		name                   string
		before, goal, from, at float64
	}{
		{"of another voice", 2, 1, 2, 1.9},
		{"of this voice", 0.5, 1, 0.5, 0.55},
		{"the first note is there at once", 1, 1, 1, 1},
	}
	for _, test := range tests {
		r := rig.New(Kind()).Set("glide", 0.01, "s")
		pitch := played(r, 1000, step(0.5, test.goal, test.before, 100))[0]
		if pitch[100] != test.from || math.Abs(pitch[148]-test.at) > 1e-12 || pitch[99] != 0.5 {
			t.Errorf("%s: it goes %g, %g, and after a tenth of the time %g; want 0.5, %g, %g", test.name, pitch[99], pitch[100], pitch[148], test.from, test.at)
		}
	}
}

// A note that comes on the way goes on from there, and so does the pitch that
// comes back without a trigger when a note ends.
func TestAGlideThatIsInterruptedGoesOnFromWhereItStands(t *testing.T) {
	for _, trigger := range []float64{0, 1} {
		r := rig.New(Kind()).Set("glide", 0.01, "s")
		pitch := played(r, 2000, func(i int, p *module.Played, k int) {
			p.Pitch[k], p.Before[k], p.Trigger[k] = 0, 0, 0
			if i >= 100 {
				p.Pitch[k] = 1
			}
			if i >= 340 { // half way
				p.Pitch[k], p.Before[k] = -1, 1
			}
			if i == 100 || i == 340 {
				p.Trigger[k] = trigger
			}
		})[0]
		for i := 1; i < len(pitch); i++ {
			if math.Abs(pitch[i]-pitch[i-1]) > 1.6/480 {
				t.Fatalf("with trigger %g, sample %d jumps from %g to %g", trigger, i, pitch[i-1], pitch[i])
			}
		}
		if math.Abs(pitch[340]-0.5) > 0.003 || pitch[825] != -1 {
			t.Errorf("with trigger %g it stands at %g half way and at %g in the end; want 0.5, -1", trigger, pitch[340], pitch[825])
		}
	}
}

// A glide of 0 is there at once, and the next one sets out from there.
func TestWithoutAGlideEveryNoteIsThereAtOnce(t *testing.T) {
	r := rig.New(Kind()).Move("glide", "s", func(n int) float64 { return 0.01 * float64(min(n/900, 1)) })
	pitch := played(r, 2400, func(i int, p *module.Played, k int) {
		at := i / 600
		p.Pitch[k], p.Before[k], p.Trigger[k] = float64(at), float64(max(at-1, 0)), 0
		if i%600 == 0 {
			p.Trigger[k] = 1
		}
	})[0]
	for i, want := range map[int]float64{599: 0, 600: 1, 1199: 1, 1200: 1, 1440: 1.5, 1799: 2, 1800: 2, 2040: 2.5} {
		if math.Abs(pitch[i]-want) > 1e-12 {
			t.Errorf("sample %d is at %g; want %g", i, pitch[i], want)
		}
	}
}

// A cent is 1/1200 of an octave (ISO 16 and every handbook); the offsets are those
// the help states.
func TestSpreadTunesTheVoicesOfANoteApart(t *testing.T) {
	for _, test := range []struct{ side, cents float64 }{{-1, -15}, {-0.5, -7.5}, {0, 0}, {1, 15}} {
		r := rig.NewSetup(Kind(), module.Setup{Rate: 48000, Side: test.side}).Set("spread", 30.0/1200, "oct")
		out := r.Run(100)
		if got := 1200 * out[0][99]; math.Abs(got-test.cents) > 1e-9 {
			t.Errorf("the voice at %g is off by %g cent; want %g", test.side, got, test.cents)
		}
		if out[4][0] != test.side || out[4][99] != test.side {
			t.Errorf("the voice at %g says that it is at %g", test.side, out[4][0])
		}
	}
}

func BenchmarkMemory(b *testing.B) {
	b.Run("plain", rig.New(Kind()).Bench)
	b.Run("unison", rig.NewSetup(Kind(), module.Setup{Rate: 48000, Side: 1}).Set("spread", 0.01, "oct").Set("glide", 0.1, "s").Bench)
}
