package timing

import (
	"bytes"
	"encoding/json"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"
)

// The reference is the sorted list: the nearest-rank definition of a quantile
// (ISO 3534-1's order statistics).
func TestAHistogramTellsWhatTheSortedListDoes(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	var h Histogram
	var list []time.Duration
	for range 5000 {
		d := time.Duration(random.ExpFloat64() * 12e6)
		list = append(list, d)
		h.Add(d)
	}
	slices.Sort(list)
	for _, part := range []float64{0.001, 0.25, 0.5, 0.9, 0.99, 0.9999, 1} {
		want := list[int(math.Ceil(part*5000))-1]
		got := h.Quantile(part)
		if want < 100*time.Millisecond && (got < want || got > want+binWidth) || want >= 100*time.Millisecond && got != list[4999] {
			t.Errorf("quantile %g is %v, in the sorted list %v", part, got, want)
		}
	}
	if h.Longest() != list[4999] || h.Count() != 5000 {
		t.Errorf("longest %v of %d", h.Longest(), h.Count())
	}
}

func TestCountingBlocksAllocatesNothing(t *testing.T) {
	c := New()
	c.Run(true)
	if n := testing.AllocsPerRun(100, func() { c.Block(256, 48000, time.Millisecond, 2*time.Millisecond, false) }); n != 0 {
		t.Errorf("%v allocations a block", n)
	}
}

func TestABlockIsLateAfterTheTimeThatItLasts(t *testing.T) {
	c := New()
	c.Block(256, 48000, time.Second, time.Second, false) // not running: not counted
	c.Run(true)
	for _, ready := range []time.Duration{time.Millisecond, 5333 * time.Microsecond, 5334 * time.Microsecond, 20 * time.Millisecond} {
		c.Block(256, 48000, time.Millisecond, ready, false)
	}
	s := c.Report().Sound
	if s.Late != 2 || s.Kept != 50 || s.Deadline != 5.333 {
		t.Errorf("%d late, %g %% kept, deadline %g ms; 256 samples at 48 kHz last 5.333 ms", s.Late, s.Kept, s.Deadline)
	}
}

func TestAPauseIsNoInterval(t *testing.T) {
	c := New()
	c.Painted()
	c.Run(true)
	c.Painted()
	c.Painted()
	c.Run(false)
	c.Painted()
	c.Run(true)
	c.Painted()
	if n := c.Report().Frames.Count; n != 1 {
		t.Errorf("%d intervals between frames, want the one that lies within a run", n)
	}
}

func TestPartsAreAddedWithinABeat(t *testing.T) {
	c := New()
	c.Run(true)
	for range 3 {
		c.Part("ruler", time.Millisecond)
	}
	c.Part("sheet", 2*time.Millisecond)
	c.Beat(6 * time.Millisecond)
	r := c.Report()
	if len(r.Parts) != 2 || r.Parts[0].Part != "ruler" || r.Parts[0].Count != 1 || r.Parts[0].Longest != 3 {
		t.Errorf("%+v", r.Parts)
	}
}

func TestAReportCanBeReadBack(t *testing.T) {
	c := New()
	c.Run(true)
	c.Block(256, 48000, time.Millisecond, 2*time.Millisecond, true)
	want := c.Report()
	var file bytes.Buffer
	if err := want.Write(&file); err != nil {
		t.Fatal(err)
	}
	var got Report
	if err := json.Unmarshal(file.Bytes(), &got); err != nil {
		t.Fatal(err)
	}
	if got.Version != 1 || got.Sound.From != "the sound device" || got.Sound.Render.Median != want.Sound.Render.Median || len(got.Sound.Ready.Bins) != 1 {
		t.Errorf("%+v", got.Sound)
	}
}
