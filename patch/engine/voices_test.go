package engine

import (
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"lampblack/patch"
	"lampblack/patch/memory"
)

// plucked is a patch with a part for every voice and a common one: a note tunes
// an oscillator and opens an amplifier; a filter hears all of them.
func plucked(more ...cord) patch.Patch {
	p := build([]string{"tune", "memory", "osc", "oscillator", "env", "envelope", "amp", "amplifier", "filter", "filter", "slow", "slow", "noise", "noise", "mix", "mixer", "out", "output"},
		append([]cord{
			{"tune", "pitch", "osc", "frequency", patch.Setting{Value: 1, Unit: "oct"}},
			{from: "osc", out: "out", to: "amp", in: "in"},
			{"env", "out", "amp", "level", patch.Setting{Value: 1, Unit: "x"}},
			{from: "amp", out: "out", to: "filter", in: "in"},
			{from: "filter", out: "low", to: "out", in: "left"},
		}, more...)...)
	p = setting(setting(p, "out", "level", -12, "dB"), "env", "sustain", 70, "%")
	return setting(setting(p, "env", "attack", 0.005, "s"), "env", "release", 0.05, "s")
}

// What is there once for every voice follows from the cords.
func TestWhatIsThereForEveryVoiceFollowsFromTheCords(t *testing.T) {
	moves := func(from, out, to, in, unit string) cord {
		return cord{from, out, to, in, patch.Setting{Value: 0.1, Unit: unit}}
	}
	plain := func(from, out, to, in string) cord { return cord{from: from, out: out, to: to, in: in} }
	always := []string{"amp", "env", "osc", "tune"}
	tests := []struct {
		name string
		p    patch.Patch
		also string
	}{
		{"a note tunes and shapes; what hears the sum is there once", plucked(), ""},
		{"a slow oscillator that no note restarts sways for all", plucked(moves("slow", "out", "osc", "frequency", "oct"), moves("slow", "out", "filter", "cutoff", "oct")), ""},
		{"one that notes restart does not", setting(plucked(moves("slow", "out", "osc", "frequency", "oct")), "slow", "run", 1, ""), "slow"},
		{"one that fades in with the note does not", setting(plucked(moves("slow", "out", "osc", "frequency", "oct")), "slow", "fade-in", 1, "s"), "slow"},
		{"one whose run a cord moves does not", plucked(moves("slow", "out", "osc", "frequency", "oct"), moves("noise", "out", "slow", "run", "steps")), "noise slow"},
		{"an envelope into the filter makes it one of every voice", plucked(moves("env", "out", "filter", "cutoff", "oct")), "filter"},
		{"noise before what a note shapes is drawn for every voice", plucked(plain("noise", "out", "amp", "in")), "noise"},
		{"and so is all in between", plucked(plain("noise", "out", "mix", "1"), plain("mix", "out", "amp", "in")), "mix noise"},
		{"noise that no note reaches is there once", plucked(plain("noise", "out", "mix", "1"), plain("mix", "out", "filter", "in")), ""},
		{"noise that moves what no note reaches is there once", plucked(plain("osc", "out", "mix", "1"), moves("noise", "out", "mix", "level 1", "x"), moves("noise", "out", "filter", "cutoff", "oct")), ""},
		{"a voice through a mixer goes into one", plucked(plain("amp", "out", "mix", "1"), plain("mix", "out", "out", "right")), ""},
		{"all modules of a loop are alike", plucked(moves("env", "out", "mix", "level 1", "x"), plain("mix", "out", "filter", "in"), plain("filter", "band", "mix", "1")), "filter mix"},
		{"a loop behind the voices is there once", plucked(plain("mix", "out", "filter", "in"), plain("filter", "band", "mix", "1")), ""},
		{"an envelope into the output's level makes it one of every voice", plucked(moves("env", "out", "out", "level", "x")), "filter out"},
		{"gates that come by a cord are a note's too", plucked(plain("tune", "gate", "env", "gate"), plain("tune", "trigger", "env", "trigger")), ""},
		{"an envelope that something else gates is no note's", plucked(plain("slow", "out", "env", "gate"), plain("slow", "out", "env", "trigger")), "-env -amp"},
	}
	for _, test := range tests {
		want := map[string]bool{}
		for _, name := range append(slices.Clone(always), strings.Fields(test.also)...) {
			if gone, ok := strings.CutPrefix(name, "-"); ok {
				delete(want, gone)
			} else {
				want[name] = true
			}
		}
		v := VoicesOf(voices(test.p, 4, 1), nil)
		if !maps.Equal(v.PerVoice, want) || v.Count != 4 {
			t.Errorf("%s: of every of %d voices are %v, want %v", test.name, v.Count, slices.Sorted(maps.Keys(v.PerVoice)), slices.Sorted(maps.Keys(want)))
		}
		counted := map[string]int{}
		for _, name := range running(compileKind(t, voices(test.p, 4, 1))) {
			counted[name]++
		}
		for name, n := range counted {
			if (n == 4) != want[name] || n != 4 && n != 1 {
				t.Errorf("%s: %q is there %d times", test.name, name, n)
			}
		}
	}
}

// sung renders notes of three seconds with so many voices.
func sung(t testing.TB, p patch.Patch, m memory.Memory, count, unison int) []float64 {
	t.Helper()
	r, err := Render(voices(p, count, unison), m, RenderOptions{Rate: testRate, Seconds: 1, Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	return r.Left
}

var triad = memory.Memory{Length: 1, Notes: []memory.Note{
	{At: 0.1, For: 0.4, Pitch: -9.0 / 12, Velocity: 1},
	{At: 0.2, For: 0.4, Pitch: -5.0 / 12, Velocity: 0.5},
	{At: 0.2, For: 0.2, Pitch: -2.0 / 12, Velocity: 0.8},
}}

// Behind the voices all is linear here, so by superposition a chord is the sum of
// its notes; the limit is the rounding of doubles.
func TestAChordIsTheSumOfItsNotes(t *testing.T) {
	p := plucked(cord{"tune", "velocity", "amp", "level", patch.Setting{Value: 1, Unit: "x"}},
		cord{"slow", "out", "osc", "frequency", patch.Setting{Value: 0.01, Unit: "oct"}})
	want := make([]float64, testRate)
	for _, n := range triad.Notes {
		for k, x := range sung(t, p, memory.Memory{Length: 1, Notes: []memory.Note{n}}, 1, 1) {
			want[k] += x
		}
	}
	got := sung(t, p, triad, 3, 1)
	if peak := peakOf(got); peak < 0.2 {
		t.Errorf("the chord's peak is %g: is it heard?", peak)
	}
	for i := range want {
		if math.Abs(got[i]-want[i]) > 1e-10 {
			t.Fatalf("sample %d of the chord is %.15g, of the sum of its notes %.15g: more than -200 dB apart", i, got[i], want[i])
		}
	}
	if more := sung(t, p, triad, 16, 1); differ(more, got) >= 0 {
		t.Error("with 16 voices, 13 of them silent, it is another sound")
	}
}

func peakOf(x []float64) (peak float64) {
	for _, v := range x {
		peak = max(peak, math.Abs(v))
	}
	return peak
}

// starting returns an engine in which p, of the project's own kinds, sounds.
func starting(t testing.TB, p patch.Patch) *Engine {
	t.Helper()
	e := New(testRate)
	e.Swap(compileKind(t, p))
	return e
}

// Independent noise of equal power: the correlation of n samples has a standard
// deviation of 1/sqrt(n), so five of those.
func TestTheNoiseOfEveryVoiceIsItsOwn(t *testing.T) {
	const n = 48000
	p := voices(build([]string{"tune", "memory", "noise", "noise", "amp", "amplifier", "out", "output"},
		cord{from: "noise", out: "out", to: "amp", in: "in"},
		cord{"tune", "gate", "amp", "level", patch.Setting{Value: 1, Unit: "x"}},
		cord{from: "amp", out: "out", to: "out", in: "left"}), 3, 1)
	g := compileKind(t, p)
	e := New(testRate)
	e.Swap(g)
	x := make([][]float64, 3)
	block := make([]float64, 64)
	for range n / 64 {
		e.Block(block, block)
		for v := range x {
			x[v] = append(x[v], g.nodes[g.byName["noise"].of(v)].outs[0][1:65]...)
		}
	}
	for a := range x {
		for b := range a {
			if r := correlation(x[a], x[b]); math.Abs(r) > 5/math.Sqrt(n) {
				t.Errorf("voices %d and %d correlate by %.4f; want under %.4f", b, a, r, 5/math.Sqrt(n))
			}
		}
	}
	// Voice 0 is what the only voice would be.
	alone := New(testRate)
	alone.Swap(compileKind(t, voices(p.Clone(), 1, 1)))
	tap := alone.Tap("noise", "out")
	hear(alone, n, 64)
	first := make([]float32, 1000)
	if !tap.ReadAt(n, first) {
		t.Fatal("the tap could not be read")
	}
	for i, v := range first {
		if v != float32(x[0][n-1000+i]) {
			t.Fatal("voice 0 has another noise than the only voice")
		}
	}
}

func correlation(a, b []float64) float64 {
	var ab, aa, bb float64
	for i := range a {
		ab += a[i] * b[i]
		aa += a[i] * a[i]
		bb += b[i] * b[i]
	}
	return ab / math.Sqrt(aa*bb)
}

// Notes begin and end on their samples, in whatever voice and block they fall.
func TestNotesOfManyVoicesStandOnTheirSamples(t *testing.T) {
	p := voices(build([]string{"tune", "memory", "a", "amplifier", "out", "output"},
		cord{from: "tune", out: "trigger", to: "out", in: "left"},
		cord{from: "tune", out: "gate", to: "out", in: "right"}), 4, 1)
	p = setting(p, "out", "level", 0, "dB")
	m := memory.Memory{Length: 0.1}
	wantTrigger, wantGate := make([]float64, 4800), make([]float64, 4800)
	for i := range 20 {
		from, to := 37*i+5, 37*i+5+100 // three at a time
		m.Notes = append(m.Notes, memory.Note{At: float64(from) / testRate, For: float64(to-from) / testRate, Pitch: float64(i) / 12, Velocity: 1})
		wantTrigger[from]++
		for k := from; k < to; k++ {
			wantGate[k]++
		}
	}
	for _, size := range []int{1, 7, 64, 1000} {
		e := starting(t, p)
		if err := e.SetMemory(m); err != nil {
			t.Fatal(err)
		}
		e.Play(0)
		trigger, gate := hear(e, 4800, size)
		if i := differ(trigger, wantTrigger); i >= 0 {
			t.Errorf("blocks of %d: at sample %d start %g notes, want %g", size, i, trigger[i], wantTrigger[i])
		}
		if i := differ(gate, wantGate); i >= 0 {
			t.Errorf("blocks of %d: at sample %d are held %g notes, want %g", size, i, gate[i], wantGate[i])
		}
	}
}
