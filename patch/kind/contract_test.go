package kind_test

import (
	"fmt"
	"math"
	"testing"

	"lampblack/patch"
	"lampblack/patch/dsp/hash"
	"lampblack/patch/kind"
	"lampblack/patch/kind/rig"
	"lampblack/patch/module"
)

// clip is a recording for those that play one: half a second of noise, stereo.
var clip = func() *module.Clip {
	c := &module.Clip{Channels: [][]float64{make([]float64, 24000), make([]float64, 24000)}}
	for i := range c.Channels[0] {
		c.Channels[0][i], c.Channels[1][i] = hash.Signed(5, uint64(i)), hash.Signed(6, uint64(i))
	}
	return c
}()

func bench(k *module.Kind, rate float64) *rig.Rig {
	return rig.NewSetup(k, module.Setup{Rate: rate, Seed: 7, Clip: clip})
}

// feed joins loud noise to every audio input and a pattern of gates to those
// that hear the note.
func feed(r *rig.Rig) *rig.Rig {
	for i, in := range r.Kind.Inputs {
		switch in.Open {
		case patch.OpenGate:
			r.Feed(in.Name, func(n int) float64 { return float64(n / 700 % 2) })
		case patch.OpenTrigger:
			r.Feed(in.Name, func(n int) float64 { return float64(1 - min(n%700, 1)) })
		default:
			r.Feed(in.Name, func(n int) float64 { return hash.Signed(uint64(i), uint64(n)) })
		}
	}
	return r
}

// mostCombinations is how many are tried of a kind with many controls: the
// first and the last, and others by chance, the same in every run.
const mostCombinations = 150

// combinations calls f with the controls at combinations of lowest, starting and
// highest value, all of them where there are few, in every scale of one of them
// at a time.
func combinations(k *module.Kind, f func(set func(*rig.Rig) *rig.Rig, name string)) {
	n := 1
	for range k.Controls {
		n *= 3
	}
	for trial := range min(n, mostCombinations) {
		c := trial
		if n > mostCombinations && trial > 0 {
			c = n - 1
			if trial > 1 {
				c = int(hash.Bits(1, uint64(trial)) % uint64(n))
			}
		}
		for alternative := range 2 {
			name, ok := "", alternative == 0
			for i, rest := 0, c; i < len(k.Controls); i, rest = i+1, rest/3 {
				scale := scaleOf(&k.Controls[i], alternative)
				ok = ok || len(k.Controls[i].Scales) > 1
				name += fmt.Sprintf(" %s=%g%s", k.Controls[i].Name, place(scale, rest%3), scale.Unit)
			}
			if !ok {
				continue
			}
			f(func(r *rig.Rig) *rig.Rig {
				for i, rest := 0, c; i < len(k.Controls); i, rest = i+1, rest/3 {
					scale := scaleOf(&k.Controls[i], alternative)
					r.Set(k.Controls[i].Name, place(scale, rest%3), scale.Unit)
				}
				return r
			}, name)
		}
	}
}

func scaleOf(c *patch.Control, alternative int) *patch.Scale {
	return &c.Scales[min(alternative, len(c.Scales)-1)]
}

func place(s *patch.Scale, which int) float64 {
	return []float64{s.Min, s.Default, s.Max}[which]
}

// sweep moves every control that a cord can move: every three samples, or, what
// is stepped, now and then.
func sweep(r *rig.Rig) *rig.Rig {
	for i := range r.Kind.Controls {
		c := &r.Kind.Controls[i]
		if s := &c.Scales[len(c.Scales)-1]; len(s.Moves) > 0 {
			every := 3
			if s.Taper == patch.Stepped {
				every = 400 + 31*i
			}
			r.Move(c.Name, s.Unit, func(n int) float64 {
				return s.At(0.5 + 0.5*hash.Signed(uint64(100+i), uint64(n/every)))
			})
		}
	}
	return r
}

func TestBlockLengthDoesNotChangeTheSound(t *testing.T) {
	for _, k := range kind.All() {
		for name, set := range map[string]func(*rig.Rig) *rig.Rig{"still": feed, "swept": func(r *rig.Rig) *rig.Rig { return sweep(feed(r)) }} {
			t.Run(k.Name+" "+name, func(t *testing.T) {
				want := set(bench(k, 48000)).Run(4096)
				for _, blocks := range [][]int{{1}, {7}, {64, 1, 13}} {
					got := set(bench(k, 48000)).Run(4096, blocks...)
					if o, i := differ(want, got); i >= 0 {
						t.Errorf("blocks of %v change output %s from sample %d on", blocks, k.Outputs[o].Name, i)
					}
				}
			})
		}
	}
}

func TestSteadyControlsGiveTheSameBitsAsMovedOnesThatStandStill(t *testing.T) {
	for _, k := range kind.All() {
		combinations(k, func(set func(*rig.Rig) *rig.Rig, name string) {
			want := set(feed(bench(k, 48000))).Run(512)
			still := set(feed(bench(k, 48000)))
			still.Restless = true
			got := still.Run(512)
			if o, i := differ(want, got); i >= 0 {
				t.Errorf("%s:%s: output %s differs from sample %d on", k.Name, name, k.Outputs[o].Name, i)
			}
		})
	}
}

func differ(a, b [][]float64) (output, sample int) {
	for o := range a {
		for i := range a[o] {
			if math.Float64bits(a[o][i]) != math.Float64bits(b[o][i]) {
				return o, i
			}
		}
	}
	return 0, -1
}

// Bounded: a filter of the highest Q passes noise of +-1 at no more than +-60;
// levels of +24 dB multiply by 16, a mixer adds four.
func TestEveryLimitOfTheControlsIsFiniteAndBounded(t *testing.T) {
	for _, k := range kind.All() {
		for _, rate := range []float64{8000, 48000, 384000} {
			combinations(k, func(set func(*rig.Rig) *rig.Rig, name string) {
				for o, out := range set(feed(bench(k, rate))).Run(1500) {
					for i, y := range out {
						if !(math.Abs(y) < 1000) {
							t.Fatalf("%s at %g Hz:%s: output %s is %g at sample %d", k.Name, rate, name, k.Outputs[o].Name, y, i)
						}
					}
				}
			})
		}
	}
}

func TestBlockAllocatesNothing(t *testing.T) {
	for _, k := range kind.All() {
		for n := range 4 { // every choice of a shape, colour, ...
			r := sweep(feed(bench(k, 48000)))
			for i := range k.Controls {
				if c := &k.Controls[i]; c.Scales[0].Choices != nil {
					r.Set(c.Name, min(float64(n), c.Scales[0].Max), "")
				}
			}
			block := r.Fill(64)
			if a := testing.AllocsPerRun(100, func() { r.Sound.Block(block) }); a != 0 {
				t.Errorf("%s, choice %d: %g allocations in a block", k.Name, n, a)
			}
		}
	}
}

func TestTheSameSeedGivesTheSameSoundAndAnotherDoesNot(t *testing.T) {
	for _, k := range kind.All() {
		make := func(seed uint64) [][]float64 {
			setup := module.Setup{Rate: 48000, Seed: seed, Clip: clip}
			out := feed(rig.NewSetup(k, setup)).Run(256)
			r := rig.NewSetup(k, setup) // what is left open may be noise
			if len(k.Inputs) > 0 {
				r.Feed(k.Inputs[0].Name, func(n int) float64 { return hash.Signed(0, uint64(n)) })
			}
			out = append(out, r.Run(256)...)
			return append(out, sweep(feed(rig.NewSetup(k, setup))).Run(256)...) // what only some settings draw
		}
		if o, i := differ(make(3), make(3)); i >= 0 {
			t.Errorf("%s: two runs differ in output %s from sample %d on", k.Name, k.Outputs[o%len(k.Outputs)].Name, i)
		}
		if _, i := differ(make(3), make(4)); (i >= 0) != k.Seeded {
			t.Errorf("%s: another seed: first difference at sample %d", k.Name, i)
		}
	}
}

// A new sound that resumes goes on as if it were the old one, to the bit.
func TestResumingGoesOnAsIfNothingHadHappened(t *testing.T) {
	for _, k := range kind.All() {
		want := sweep(feed(bench(k, 48000))).Run(3000)
		r := sweep(feed(bench(k, 48000)))
		first := r.Run(1000)
		next := k.New(r.Setup)
		if resumer, ok := next.(module.Resumer); ok {
			resumer.Resume(r.Sound)
		}
		r.Sound = next
		for o, rest := range r.Run(2000) {
			if _, i := differ([][]float64{want[o]}, [][]float64{append(first[o], rest...)}); i >= 0 {
				t.Errorf("%s: output %s differs from sample %d on", k.Name, k.Outputs[o].Name, i)
			}
		}
	}
}

// A kind that says so is bounded even if what comes in is no number.
func TestBoundedKindsAreBoundedWhateverComesIn(t *testing.T) {
	for _, k := range kind.All() {
		if !k.Bounded {
			continue
		}
		r := sweep(bench(k, 48000))
		for _, in := range k.Inputs {
			r.Feed(in.Name, func(n int) float64 { return []float64{math.NaN(), math.Inf(1), -1e300, 1, 0}[n%5] })
		}
		for o, out := range r.Run(5000) {
			for i, y := range out {
				if !(math.Abs(y) <= 1000) {
					t.Fatalf("%s: output %s is %g at sample %d", k.Name, k.Outputs[o].Name, y, i)
				}
			}
		}
	}
}

// Silence in, silence out, exactly: no state is left to creep down to numbers
// so small that some processors slow down on them.
func TestTailsEndInExactSilence(t *testing.T) {
	for name, r := range map[string]*rig.Rig{
		"filter":   rig.New(mustKind("filter")).Feed("in", rig.Impulse).Set("width", 40, "Hz"),
		"envelope": rig.New(mustKind("envelope")).Note(0, 100).Set("release", 0.02, "s"),
	} {
		for o, out := range r.Run(48000) {
			if y := out[len(out)-1]; y != 0 {
				t.Errorf("%s: output %d is still %g after a second", name, o, y)
			}
		}
	}
}

func mustKind(name string) *module.Kind {
	k, ok := kind.Catalogue.Module(name)
	if !ok {
		panic("no kind " + name)
	}
	return k
}

func BenchmarkKinds(b *testing.B) {
	for _, k := range kind.All() {
		b.Run(k.Name+"/steady", feed(bench(k, 48000)).Bench)
		b.Run(k.Name+"/swept", sweep(feed(bench(k, 48000))).Bench)
	}
}
