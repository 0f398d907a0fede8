package engine

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"lampblack/patch"
	"lampblack/patch/kind"
	"lampblack/patch/memory"
)

// busy is a patch of the project's own kinds with a loop, moved controls and
// notes in it.
func busy() patch.Patch {
	p := build([]string{"memory", "memory", "osc", "oscillator", "noise", "noise", "mix", "mixer", "filter", "filter", "env", "envelope", "slow", "slow", "amp", "amplifier", "out", "output"},
		cord{"memory", "pitch", "osc", "frequency", patch.Setting{Value: 1, Unit: "oct"}},
		cord{from: "osc", out: "out", to: "mix", in: "1"},
		cord{from: "noise", out: "out", to: "mix", in: "2"},
		cord{from: "filter", out: "low", to: "mix", in: "3"},
		cord{from: "mix", out: "out", to: "filter", in: "in"},
		cord{"slow", "out", "filter", "cutoff", patch.Setting{Value: 2, Unit: "oct"}},
		cord{from: "filter", out: "band", to: "amp", in: "in"},
		cord{"env", "out", "amp", "level", patch.Setting{Value: 1, Unit: "x"}},
		cord{from: "amp", out: "out", to: "out", in: "left"})
	p = setting(p, "mix", "level 3", -12, "dB")
	return setting(p, "slow", "rate", 7, "Hz")
}

func compileKind(t testing.TB, p patch.Patch) *Graph {
	t.Helper()
	g, err := Compile(p, Settings{Rate: testRate})
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// The sound side does not allocate: not while it sounds, not when controls,
// notes, memory and taps come in, and not when it takes up another graph.
func TestTheSoundSideDoesNotAllocate(t *testing.T) {
	const graphs = 120
	e := New(testRate)
	e.Swap(compileKind(t, busy()))
	tap := e.Tap("osc", "out")
	m := tune()
	m.Repeat = true
	var waiting []*Graph
	for i := range graphs {
		p := busy()
		if i%2 == 0 {
			p.Modules = append(p.Modules, patch.Module{Name: "more", Kind: "noise"})
		}
		p = voices(p, 1+i%5, 1+i%2)
		waiting = append(waiting, compileKind(t, p))
	}
	left, right := make([]float64, 512), make([]float64, 512)
	read := make([]float32, 4096)
	sounding := testing.AllocsPerRun(100, func() {
		e.Block(left, right)
		tap.Read(read)
	})
	if sounding != 0 {
		t.Errorf("%g allocations a block while sounding", sounding)
	}
	// What the desk does allocates; it is done before the count begins.
	for _, g := range waiting {
		e.Swap(g)
		_ = e.Set("filter", "cutoff", patch.Setting{Value: 300, Unit: "Hz"})
		_ = e.SetDepth(patch.Socket{Module: "slow", Name: "out"}, patch.Socket{Module: "filter", Name: "cutoff"}, patch.Setting{Value: 1, Unit: "oct"})
		_ = e.SetMemory(m)
		e.Play(0)
		e.NoteOn(0, 1)
		warm := false // AllocsPerRun calls once without counting; the edits have to come in when it counts
		if n := testing.AllocsPerRun(1, func() {
			if warm {
				e.Block(left, right)
			}
			warm = true
		}); n != 0 {
			t.Fatalf("%g allocations when edits come in", n)
		}
	}
}

// editing is how long the desk edits at random: two seconds, or, with
// LAMPBLACK_LONG=1, a minute.
func editing() time.Duration {
	if os.Getenv("LAMPBLACK_LONG") != "" {
		return time.Minute
	}
	return 2 * time.Second
}

// Structure, voices, rows, controls, notes, memory and taps change at random while
// another goroutine calls Block. Run with -race it proves the sides apart;
// without, that what is heard stays finite and bounded.
func TestTheDeskMayDoAnythingWhileItSounds(t *testing.T) {
	e := New(testRate)
	var desk sync.WaitGroup
	var edits atomic.Int64
	stop := make(chan struct{})
	end := time.Now().Add(editing())
	for worker := range 2 {
		desk.Go(func() {
			r := rand.New(rand.NewPCG(uint64(worker), 1))
			for time.Now().Before(end) {
				editAtRandom(t, e, r)
				edits.Add(1)
			}
		})
	}
	go func() { desk.Wait(); close(stop) }()
	left, right := make([]float64, 256), make([]float64, 256)
	for blocks := 0; ; blocks++ {
		e.Block(left, right)
		for _, x := range left {
			if !(math.Abs(x) <= MaxOutput) {
				t.Fatalf("block %d gave %g", blocks, x)
			}
		}
		select {
		case <-stop:
			t.Logf("%d edits within %d blocks", edits.Load(), blocks)
			return
		default:
		}
	}
}

func editAtRandom(t *testing.T, e *Engine, r *rand.Rand) {
	switch r.IntN(12) {
	case 0:
		p := busy()
		for i := range r.IntN(5) {
			p.Modules = append(p.Modules, moduleAtRandom(fmt.Sprint("more", i), r))
		}
		p = voices(p, 1+r.IntN(MaxVoices), 1+r.IntN(3))
		if r.IntN(3) == 0 {
			p.Cords = p.Cords[:r.IntN(len(p.Cords))]
		}
		e.Swap(compileKind(t, p))
	case 1:
		_ = e.SetDepth(patch.Socket{Module: "slow", Name: "out"}, patch.Socket{Module: "filter", Name: "cutoff"}, patch.Setting{Value: 4 * r.Float64(), Unit: "oct"})
	case 2:
		m := memory.Memory{Length: 0.1, Repeat: r.IntN(2) == 0, Speed: 1 + r.Float64()}
		for i := range r.IntN(5) {
			m.Notes = append(m.Notes, memory.Note{At: 0.02 * float64(i), For: 0.01 + 0.02*r.Float64(), Pitch: r.Float64(), Velocity: 1})
		}
		if err := e.SetMemory(m); err != nil {
			t.Error(err)
		}
	case 3:
		e.Play(0.1 * r.Float64())
	case 4:
		e.NoteOn(float64(r.IntN(3)), 1)
	case 5:
		e.NoteOff(float64(r.IntN(3)))
	case 6:
		[]func(){e.Stop, e.StopAtEnd, e.AllOff, e.ResetSwept}[r.IntN(4)]()
	case 7:
		tap := e.Tap("osc", "out")
		tap.Read(make([]float32, 1000))
		if r.IntN(2) == 0 {
			e.Untap(tap)
		}
	case 8:
		e.Swept("filter", "cutoff")
		e.Limited("filter", "cutoff")
		e.Clamped("filter")
		e.Position()
		e.Clock()
	default:
		_ = e.Set("filter", "cutoff", patch.Setting{Value: 20 + 19000*r.Float64(), Unit: "Hz"})
	}
}

// moduleAtRandom is of any kind, with any setting and any rows.
func moduleAtRandom(name string, r *rand.Rand) patch.Module {
	k := kind.All()[r.IntN(len(kind.All()))]
	m := patch.Module{Name: name, Kind: k.Name, Settings: map[string]patch.Setting{}}
	if len(k.Controls) > 0 {
		c := k.Controls[r.IntN(len(k.Controls))]
		m.Settings[c.Name] = patch.Setting{Value: c.Scales[0].At(r.Float64()), Unit: c.Scales[0].Unit}
	}
	if k.Table != nil {
		for range k.Table.Least + r.IntN(min(k.Table.Most-k.Table.Least, 20)+1) {
			row := k.Table.Row()
			for i, c := range k.Table.Columns {
				row[i] = c.Scale.At(r.Float64())
			}
			m.Rows = append(m.Rows, row)
		}
	}
	return m
}
