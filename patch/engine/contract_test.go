package engine

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"lampblack/patch"
	"lampblack/patch/kind"
	"lampblack/patch/memory"
	"lampblack/patch/module"
)

// anyPatch draws a valid patch of the project's own kinds: any settings, any
// cords, loops included, and half of the time a memory with 1 to 16 voices.
func anyPatch(t *rapid.T) patch.Patch {
	p := patch.Patch{Seed: rapid.Uint64().Draw(t, "seed")}
	names := kind.Names()
	if rapid.Bool().Draw(t, "memory") {
		p.Modules = append(p.Modules, anyMemory(t))
	}
	for i := range rapid.IntRange(1, 7).Draw(t, "modules") {
		m := patch.Module{Name: fmt.Sprint("m", i), Kind: rapid.SampledFrom(names).Draw(t, "kind"), Settings: map[string]patch.Setting{}}
		k, _ := kind.Catalogue.Kind(m.Kind)
		for _, c := range k.Controls {
			if rapid.Bool().Draw(t, "set") {
				s := rapid.SampledFrom(c.Scales).Draw(t, "scale")
				m.Settings[c.Name] = patch.Setting{Value: s.At(rapid.Float64Range(0, 1).Draw(t, "where")), Unit: s.Unit}
			}
		}
		if k.Table != nil && rapid.Bool().Draw(t, "rows") {
			for range rapid.IntRange(k.Table.Least, min(k.Table.Most, 20)).Draw(t, "number of rows") {
				row := k.Table.Row()
				for i, c := range k.Table.Columns {
					row[i] = c.Scale.At(rapid.Float64Range(0, 1).Draw(t, "number"))
				}
				m.Rows = append(m.Rows, row)
			}
		}
		if m.Kind == "recording" {
			m.Recording = &patch.Recording{Name: "saw.wav"}
		}
		p.Modules = append(p.Modules, m)
	}
	p.Modules = append(p.Modules, patch.Module{Name: "out", Kind: "output"})
	for range rapid.IntRange(1, 14).Draw(t, "cords") {
		if c, ok := anyCord(t, p); ok && !slices.ContainsFunc(p.Cords, func(d patch.Cord) bool { return c.From == d.From && c.To == d.To }) {
			p.Cords = append(p.Cords, c)
		}
	}
	return p
}

// anyMemory draws what plays.
func anyMemory(t *rapid.T) patch.Module {
	return patch.Module{Name: "tune", Kind: MemoryKind, Settings: map[string]patch.Setting{
		"voices": {Value: float64(rapid.IntRange(1, MaxVoices).Draw(t, "voices"))},
		"unison": {Value: float64(rapid.SampledFrom([]int{1, 1, 2, 3, 16}).Draw(t, "unison"))},
		"steal":  {Value: float64(rapid.IntRange(0, int(stealNone)).Draw(t, "steal"))},
		"glide":  {Value: rapid.SampledFrom([]float64{0, 0.003, 1}).Draw(t, "glide"), Unit: "s"},
		"spread": {Value: rapid.SampledFrom([]float64{0, 0.01, 1}).Draw(t, "spread"), Unit: "oct"},
	}}
}

// anyCord draws a cord between any output and any input or control.
func anyCord(t *rapid.T, p patch.Patch) (c patch.Cord, ok bool) {
	from := rapid.SampledFrom(p.Modules).Draw(t, "from")
	to := rapid.SampledFrom(p.Modules).Draw(t, "to")
	a, _ := kind.Catalogue.Kind(from.Kind)
	b, _ := kind.Catalogue.Kind(to.Kind)
	if len(a.Outputs) == 0 {
		return c, false
	}
	c.From = patch.Socket{Module: from.Name, Name: rapid.SampledFrom(a.Outputs).Draw(t, "output").Name}
	if len(b.Inputs) > 0 && (len(b.Controls) == 0 || rapid.Bool().Draw(t, "into an input")) {
		c.To = patch.Socket{Module: to.Name, Name: rapid.SampledFrom(b.Inputs).Draw(t, "input").Name}
		return c, true
	}
	if len(b.Controls) == 0 {
		return c, false
	}
	control := rapid.SampledFrom(b.Controls).Draw(t, "control")
	scale := control.Scales[max(0, control.Scale(settingOf(to, control).Unit))]
	if len(scale.Moves) == 0 {
		return c, false
	}
	move := rapid.SampledFrom(scale.Moves).Draw(t, "move")
	c.To = patch.Socket{Module: to.Name, Name: control.Name}
	c.Depth = patch.Setting{Value: move.Max * rapid.Float64Range(-1, 1).Draw(t, "depth"), Unit: move.Unit}
	return c, true
}

func settingOf(m patch.Module, c patch.Control) patch.Setting {
	if s, ok := m.Settings[c.Name]; ok {
		return s
	}
	return c.Default()
}

// saw is a recording of ten periods.
var saw = func() *module.Clip {
	x := make([]float64, 4800)
	for i := range x {
		x[i] = float64(i%480)/240 - 1
	}
	return &module.Clip{Channels: [][]float64{x}}
}()

// poisoned is saw with samples in it that are no numbers or far too large. No
// file is read into such a one, but a Clip may be made by anybody.
var poisoned = func() *module.Clip {
	x := slices.Clone(saw.Channels[0])
	for i := range x {
		switch i % 97 {
		case 50:
			x[i] = math.NaN()
		case 70:
			x[i] = math.Inf(1 - i%2*2)
		case 90:
			x[i] = 1e300
		}
	}
	return &module.Clip{Channels: [][]float64{x}}
}()

// clips gives every module that plays a recording the same one.
func clips(p patch.Patch) map[string]*module.Clip { return clipsOf(p, saw) }

func clipsOf(p patch.Patch, c *module.Clip) map[string]*module.Clip {
	all := map[string]*module.Clip{}
	for _, m := range p.Modules {
		if m.Recording != nil {
			all[m.Name] = c
		}
	}
	return all
}

func TestARecordingOfNoNumbersIsMarkedAndGoesNoFurther(t *testing.T) {
	p := build([]string{"tape", "recording", "filter", "filter", "out", "output"},
		cord{from: "tape", out: "left", to: "filter", in: "in"}, cord{from: "filter", out: "low", to: "out", in: "left"})
	p.Modules[0].Recording = &patch.Recording{Name: "poisoned.wav"}
	g, err := Compile(p, Settings{Rate: testRate, Clips: clipsOf(p, poisoned)})
	if err != nil {
		t.Fatal(err)
	}
	e := New(testRate)
	e.Swap(g)
	e.NoteOn(0, 1)
	left, _ := hear(e, 4800, 64)
	for i, x := range left {
		if !(math.Abs(x) <= MaxOutput) {
			t.Fatalf("sample %d is %g", i, x)
		}
	}
	if !e.Clamped("tape") {
		t.Error("the recording is not marked")
	}
}

func TestAnyPatchIsFiniteBoundedAndTheSameAtAnyBlockSize(t *testing.T) {
	m := memory.Memory{Length: 0.05, Notes: []memory.Note{
		{At: 0.001, For: 0.01, Pitch: 1, Velocity: 0.5}, {At: 0.003, For: 0.01, Pitch: 0.5, Velocity: 0.2}, {At: 0.0035, For: 0.01, Pitch: 0, Velocity: 0.7},
		{At: 0.02, For: 0.02, Pitch: -1, Velocity: 1},
	}, Repeat: true}
	rapid.Check(t, func(t *rapid.T) {
		p := anyPatch(t)
		rate := rapid.SampledFrom([]int{testRate, MinRate, 44100, MaxRate}).Draw(t, "rate")
		clip := rapid.SampledFrom([]*module.Clip{saw, saw, poisoned}).Draw(t, "recording")
		sound := func(p patch.Patch, block, workers int) *Rendered {
			r, err := Render(p, m, RenderOptions{Rate: rate, Seconds: 2880 / float64(rate), Clips: clipsOf(p, clip), Workers: workers, block: block})
			if err != nil {
				t.Fatal(err)
			}
			return r
		}
		want := sound(p, 64, 1)
		for i, x := range append(slices.Clone(want.Left), want.Right...) {
			if !(math.Abs(x) <= MaxOutput) {
				t.Fatalf("sample %d is %g", i, x)
			}
		}
		for _, block := range []int{1, 7, 1000} {
			got := sound(p, block, rapid.IntRange(1, 3).Draw(t, "workers"))
			if l, r := differ(got.Left, want.Left), differ(got.Right, want.Right); l >= 0 || r >= 0 {
				t.Fatalf("blocks of %d differ from sample %d (left), %d (right) on", block, l, r)
			}
		}
		if sound(p, 64, 0).SHA256() != want.SHA256() {
			t.Fatal("a second render differs")
		}
		q, err := patch.Load(p.JSON(), kind.Catalogue)
		if err != nil {
			t.Fatal(err)
		}
		if sound(q, 64, 1).SHA256() != want.SHA256() {
			t.Fatal("written to a file and read again it sounds different")
		}
	})
}

// edit is something done to a patch while it sounds.
type edit func(*Engine) error

// anyEdit draws a setting, a depth, a note or another graph for a patch.
func anyEdit(t *rapid.T, p patch.Patch) edit {
	switch rapid.IntRange(0, 6).Draw(t, "edit") {
	case 0, 1:
		m := rapid.SampledFrom(p.Modules).Draw(t, "module")
		k, _ := kind.Catalogue.Kind(m.Kind)
		if len(k.Controls) == 0 {
			return nil
		}
		c := rapid.SampledFrom(k.Controls).Draw(t, "control")
		s := rapid.SampledFrom(c.Scales).Draw(t, "scale")
		to := patch.Setting{Value: s.At(rapid.Float64Range(0, 1).Draw(t, "where")), Unit: s.Unit}
		return func(e *Engine) error {
			_ = e.Set(m.Name, c.Name, to) // refused where a cord would lose its meaning
			return nil
		}
	case 2:
		c := rapid.SampledFrom(p.Cords).Draw(t, "cord")
		c.Depth.Value *= rapid.Float64Range(-1, 1).Draw(t, "depth")
		return func(e *Engine) error {
			_ = e.SetDepth(c.From, c.To, c.Depth) // refused where it ends in an input
			return nil
		}
	case 3:
		pitch := rapid.Float64Range(-3, 3).Draw(t, "pitch")
		return func(e *Engine) error { e.NoteOn(pitch, 1); return nil }
	case 4:
		return func(e *Engine) error { e.AllOff(); return nil }
	}
	q := p.Clone()
	if m := q.Module("tune"); m != nil && rapid.Bool().Draw(t, "other voices") {
		m.Settings["voices"] = patch.Setting{Value: float64(rapid.IntRange(1, MaxVoices).Draw(t, "voices"))}
	}
	q.Cords = q.Cords[:rapid.IntRange(0, len(q.Cords)).Draw(t, "cords left")]
	return func(e *Engine) error {
		g, err := Compile(q, Settings{Rate: testRate, Clips: clips(q)})
		if err == nil {
			e.Swap(g)
		}
		return err
	}
}

// Edited while it sounds, at the same samples, a patch gives the same bits at any
// block size, and stays finite and bounded.
func TestAnyEditsAreFiniteBoundedAndTheSameAtAnyBlockSize(t *testing.T) {
	const between = 64 * 7 * 2 // samples; longer than a fade, and a number of whole blocks of each size
	rapid.Check(t, func(t *rapid.T) {
		p := anyPatch(t)
		if len(p.Cords) == 0 {
			return
		}
		var edits []edit
		for range rapid.IntRange(1, 5).Draw(t, "edits") {
			if f := anyEdit(t, p); f != nil {
				edits = append(edits, f)
			}
		}
		sound := func(block int) (all []float64) {
			g, err := Compile(p, Settings{Rate: testRate, Clips: clips(p)})
			if err != nil {
				t.Fatal(err)
			}
			e := New(testRate)
			e.Swap(g)
			e.NoteOn(0, 1)
			left, right := hear(e, between, block)
			all = append(append(all, left...), right...)
			for _, f := range edits {
				if err := f(e); err != nil {
					t.Fatal(err)
				}
				left, right := hear(e, between, block)
				all = append(append(all, left...), right...)
			}
			return all
		}
		want := sound(64)
		for i, x := range want {
			if !(math.Abs(x) <= MaxOutput) {
				t.Fatalf("sample %d is %g", i, x)
			}
		}
		for _, block := range []int{1, 7, 448} {
			if i := differ(sound(block), want); i >= 0 {
				t.Fatalf("blocks of %d differ from sample %d on", block, i)
			}
		}
	})
}

// Every kind sounds on, to the bit, when another module is added beside it: no
// state is lost, and none is shared with the graph that fades.
func TestEverySoundGoesOnWhereAnotherStands(t *testing.T) {
	for _, k := range kind.All() {
		t.Run(k.Name, func(t *testing.T) {
			p := patch.Patch{Modules: []patch.Module{{Name: "x", Kind: k.Name}, {Name: "n", Kind: "noise"}}}
			if k.Name == "recording" {
				p.Modules[0].Recording = &patch.Recording{Name: "saw.wav"}
			}
			for _, in := range k.Inputs {
				p.Cords = append(p.Cords, patch.Cord{From: patch.Socket{Module: "n", Name: "out"}, To: patch.Socket{Module: "x", Name: in.Name}})
			}
			q := p.Clone()
			q.Modules = append(q.Modules, patch.Module{Name: "more", Kind: "noise"})
			for _, out := range k.Outputs {
				plain, swapped := New(testRate), New(testRate)
				for _, e := range []*Engine{plain, swapped} {
					e.Swap(compileClip(t, p))
					e.NoteOn(0.3, 1)
					hear(e, 1000, 64)
				}
				swapped.Swap(compileClip(t, q))
				want, got := plain.output(t, "x", out.Name, 2000), swapped.output(t, "x", out.Name, 2000)
				if i := differ(got, want); i >= 0 {
					t.Errorf("%s: with another module added beside it, it differs from sample %d on", out.Name, i)
				}
			}
		})
	}
}

func compileClip(t testing.TB, p patch.Patch) *Graph {
	t.Helper()
	g, err := Compile(p, Settings{Rate: testRate, Clips: clips(p)})
	if err != nil {
		t.Fatal(err)
	}
	return g
}
