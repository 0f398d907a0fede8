package engine

import (
	"sync"
	"testing"

	"lampblack/patch/module"
)

// reading reads n samples of tap as numbers of a count.
func reading(t *testing.T, tap *Tap, n int) ([]float32, int64) {
	t.Helper()
	got := make([]float32, n)
	end, ok := tap.Read(got)
	if !ok {
		t.Fatal("the tap could not be read")
	}
	return got, end
}

func TestATapGivesTheNewestSamplesWithTheirClock(t *testing.T) {
	for _, size := range []int{1, 2, 7, 64, 333} {
		e := sounding(t, counter("count"))
		tap := e.Tap("c", "out")
		hear(e, 1001, size)
		got, end := reading(t, tap, 100)
		if end != 1000 { // pairs of samples: one may be missing yet
			t.Errorf("blocks of %d: the end is %d, want 1000", size, end)
		}
		for i, x := range got {
			if x != float32(900+i) {
				t.Fatalf("blocks of %d: sample %d is %g, want %d", size, 900+i, x, 900+i)
			}
		}
		if !tap.ReadAt(500, got) || got[99] != 499 {
			t.Errorf("blocks of %d: the samples up to 500 end on %g", size, got[99])
		}
		if tap.ReadAt(2000, got) {
			t.Error("samples that have not come yet were read")
		}
	}
}

func TestATapRemembers65536Samples(t *testing.T) {
	e := sounding(t, counter("count"))
	tap := e.Tap("c", "out")
	hear(e, 3*TapSamples, 64)
	got, _ := reading(t, tap, TapSamples/2)
	if got[0] != 2.5*TapSamples || got[len(got)-1] != 3*TapSamples-1 {
		t.Errorf("read %g to %g", got[0], got[len(got)-1])
	}
	if tap.ReadAt(3*TapSamples-TapSamples/2-1000, make([]float32, TapSamples/2)) {
		t.Error("samples that were written over count as read")
	}
	if _, ok := tap.Read(make([]float32, TapSamples)); ok {
		t.Error("the whole ring was read although the sound side writes into it")
	}
}

func TestATapStaysOnItsOutputThroughSwaps(t *testing.T) {
	e := New(testRate)
	tap := e.Tap("c", "out") // before there is any graph
	e.Swap(compile(t, counter("count")))
	hear(e, 128, 64)
	e.Swap(compile(t, counter("count", "more", "delay")))
	hear(e, 128, 64)
	got, _ := reading(t, tap, 256)
	for i, x := range got {
		if x != float32(i) {
			t.Fatalf("sample %d is %g", i, x)
		}
	}
	hear(e, fadeSamples, 64)
	e.Swap(nil)
	hear(e, 128, 64)
	if got, end := reading(t, tap, 128); got[0] != 0 || got[127] != 0 || end != e.Clock() {
		t.Errorf("without its module it hears %g ... %g up to %d of %d; want silence, on time", got[0], got[127], end, e.Clock())
	}
}

func TestATapIsSharedUntilAllHaveUntapped(t *testing.T) {
	e := sounding(t, counter("count"))
	a, b := e.Tap("c", "out"), e.Tap("c", "out")
	if a != b {
		t.Fatal("two taps on one output")
	}
	e.Untap(a)
	hear(e, 64, 64)
	if b.End() != 64 {
		t.Error("the other listener lost its tap")
	}
	e.Untap(b)
	hear(e, 64, 64)
	if b.End() != 64 {
		t.Error("nobody listens, and it is still filled")
	}
}

// Readers get whole stretches or nothing, however the sound side races on.
func TestReadersNeverSeeATornStretch(t *testing.T) {
	e := sounding(t, counter("count"))
	tap := e.Tap("c", "out")
	done := make(chan struct{})
	var readers sync.WaitGroup
	for range 3 {
		readers.Go(func() {
			got := make([]float32, TapSamples/2)
			for {
				if end, ok := tap.Read(got); ok {
					for i, x := range got {
						want := min(max(0, float32(end-int64(len(got)-i))), MaxSignal)
						if x != want {
							t.Errorf("sample %g stands where %g belongs", x, want)
							return
						}
					}
				}
				select {
				case <-done:
					return
				default:
				}
			}
		})
	}
	block := make([]float64, module.MaxBlock)
	for range 20 * TapSamples / module.MaxBlock {
		e.Block(block, block)
	}
	close(done)
	readers.Wait()
}

// What the writer may be writing over at this moment is not given out.
func TestATapKeepsItsDistanceFromTheWriter(t *testing.T) {
	tap := &Tap{}
	block := make([]float64, module.MaxBlock)
	for clock := int64(0); clock < 2*TapSamples; clock += module.MaxBlock {
		tap.write(clock, block)
	}
	dst := make([]float32, TapSamples/2)
	oldest := tap.end.Load() - TapSamples // of the samples that are remembered
	if end := oldest + TapSamples/2 + 2*module.MaxBlock; tap.ReadAt(end, dst) {
		t.Error("samples were given out that the next two blocks write over")
	}
	if end := oldest + TapSamples/2 + 2*module.MaxBlock + 1; !tap.ReadAt(end, dst) {
		t.Error("samples that are remembered were not given out")
	}
}
