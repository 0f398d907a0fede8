package predict

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"lampblack/patch"
	"lampblack/patch/kind"
)

// load reads a patch of the program's own.
func load(t tester, name string) patch.Patch {
	t.Helper()
	file, err := os.ReadFile(filepath.Join("..", "..", "assets", name))
	if err != nil {
		t.Fatal(err)
	}
	p, err := patch.Load(file, kind.Catalogue)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func set(t tester, p *patch.Patch, module, control, text string) {
	t.Helper()
	m := p.Module(module)
	k, _ := kind.Catalogue.Kind(m.Kind)
	s, err := patch.ParseSetting(text, k.Control(control))
	if err != nil {
		t.Fatal(err)
	}
	m.Settings[control] = s
}

func TestBrassIsWhatWasPredicted(t *testing.T) {
	p := load(t, "patches/brass.json")
	for _, pitch := range []float64{0, 7.0 / 12, -1} {
		c := usual
		c.Pitch = pitch
		o := compareDown(t, p, c, 5, 2, 18000, 80)
		t.Logf("pitch %.3f oct: %s", pitch, o)
		if o.lines < 300 || o.worst > o.within {
			t.Error(o)
		}
	}
}

// A bell dies away; held at a level it has the same lines. Its folded lines meet
// with a phase that the stroke has left, so they are held within bounds.
func TestBellIsWhatWasPredicted(t *testing.T) {
	p := load(t, "patches/bell.json")
	set(t, &p, "strike", "sustain", "60 %")
	set(t, &p, "fading", "sustain", "80 %")
	o := compare(t, p, usual, 30, 2, 18000)
	t.Log(o)
	if o.lines < 10 || o.worst > o.within {
		t.Error(o)
	}
}

func TestHummingAndDripAreWhatWasPredicted(t *testing.T) {
	for name, settle := range map[string]float64{"demo/drip-1.json": 4, "demo/humming.json": 6} {
		p := load(t, name)
		o := compareDown(t, p, usual, settle, 2, 18000, 100)
		t.Log(name, o)
		if o.lines < 10 || o.worst > o.within {
			t.Error(name, o)
		}
	}
}

// What can't be predicted is said, with the module's own name.
func TestWhatIsNotPredictedIsNamed(t *testing.T) {
	for name, want := range map[string]string{
		"patches/sync.json":    "slave is started again by another oscillator",
		"patches/vocoder.json": "speaking weighs one sound by the bands of another",
		"patches/ladder.json":  "cutoff of singing moves: drift wanders by chance",
		"demo/box-2.json":      "potting shed is a room",
	} {
		p := load(t, name)
		left, _ := Heard(p)
		if r := Predict(p, left[0], usual); !strings.Contains(strings.Join(r.Why, "; "), want) {
			t.Errorf("%s: %q; want %q", name, r.Why, want)
		}
	}
}

// No patch of the program's own is too much, and each says something: lines, a
// noise, what moves, or why not.
func TestEveryPatchSaysSomething(t *testing.T) {
	files, _ := filepath.Glob("../../assets/*/*.json")
	n := 0
	for _, f := range files {
		dir := filepath.Base(filepath.Dir(f))
		if dir != "patches" && dir != "demo" || filepath.Base(f) == "job.json" {
			continue
		}
		n++
		p := load(t, dir+"/"+filepath.Base(f))
		left, _ := Heard(p)
		for _, after := range []float64{0, 0.3} {
			c := usual
			c.After = after
			r := Predict(p, left[0], c)
			t.Logf("%s at %g s: %d lines, noise %v, why %q", f, after, len(r.Lines), r.Density != nil, r.Why)
			if len(r.Lines) == 0 && r.Density == nil && len(r.Moving) == 0 && len(r.Why) == 0 {
				t.Errorf("%s says nothing", f)
			}
		}
	}
	if n < 30 {
		t.Errorf("only %d patches were found", n)
	}
}
