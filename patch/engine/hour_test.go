package engine

import (
	"fmt"
	"os"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"

	"lampblack/patch"
)

// Memory while sounding, in bytes: what the design allows, and how much more than
// in the first quarter of the hour counts as growth.
const (
	mostMemory = 60e6
	mostGrowth = 2e6
)

// An hour of 16 voices of brass, with a note every 50 ms, a turned control every
// 100 ms and a changed structure every second, as fast as it can be computed. It
// takes a few minutes: LAMPBLACK_LONG=1 go test -run AnHour -v -timeout 1h ./patch/engine
func TestMemoryStaysAsItIsForAnHour(t *testing.T) {
	if os.Getenv("LAMPBLACK_LONG") == "" {
		t.Skip("an hour of sound takes minutes; LAMPBLACK_LONG=1 runs it")
	}
	e := New(testRate)
	p := voices(reference(t, "brass"), 16, 1)
	left, right := make([]float64, testRate/20), make([]float64, testRate/20)
	begun := time.Now()
	var early, late stand
	for minute := range 60 {
		var now stand
		for beat := range 60 * 20 {
			disturb(t, e, p, minute*1200+beat)
			e.Block(left, right)
			if beat%100 == 99 {
				now = now.or(memoryNow(t))
			}
		}
		t.Logf("minute %2d: %v", minute+1, now)
		if now.resident > mostMemory || now.taken > mostMemory {
			t.Fatalf("minute %d: %v; want %.0f MB or less", minute+1, now, mostMemory/1e6)
		}
		if minute < 15 {
			early = early.or(now)
		} else {
			late = late.or(now)
		}
	}
	t.Logf("first quarter %v; the rest %v; an hour of sound took %.0f s", early, late, time.Since(begun).Seconds())
	if late.resident > early.resident+mostGrowth || late.alive > early.alive+mostGrowth || late.taken > early.taken+mostGrowth {
		t.Errorf("memory grew from %v to %v", early, late)
	}
}

// disturb does what a busy hand does, at the twentieth of a second with that
// number.
func disturb(t *testing.T, e *Engine, p patch.Patch, beat int) {
	pitch := func(n int) float64 { return float64(n%24)/12 - 1 }
	if beat%20 == 0 {
		level := []float64{-3, -4}[beat/20%2]
		changed := setting(p, "out", "level", level, "dB")
		if beat%40 == 0 {
			changed.Cords = changed.Cords[:len(changed.Cords):len(changed.Cords)]
			changed.Cords = append(changed.Cords, patch.Cord{
				From:  patch.Socket{Module: "breath", Name: "out"},
				To:    patch.Socket{Module: "bell", Name: "level"},
				Depth: patch.Setting{Value: 0.1, Unit: "x"},
			})
		}
		e.Swap(compileKind(t, changed))
	}
	if beat%2 == 0 {
		if err := e.Set("bore", "cutoff", patch.Setting{Value: 300 + float64(beat%50), Unit: "Hz"}); err != nil {
			t.Fatal(err)
		}
	}
	e.NoteOff(pitch(7 * (beat - 20)))
	e.NoteOn(pitch(7*beat), 0.5+float64(beat%5)/10)
}

// stand is memory in bytes: what is in use, what the runtime has taken, and what
// the system says that the process has in memory.
type stand struct{ alive, taken, resident float64 }

func (s stand) String() string {
	return fmt.Sprintf("heap %.1f MB, of %.1f MB taken, resident %.1f MB", s.alive/1e6, s.taken/1e6, s.resident/1e6)
}

// or returns the larger of each.
func (s stand) or(b stand) stand {
	return stand{max(s.alive, b.alive), max(s.taken, b.taken), max(s.resident, b.resident)}
}

func memoryNow(t *testing.T) stand {
	t.Helper()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	s := stand{alive: float64(m.HeapAlloc), taken: float64(m.HeapSys)}
	status, err := os.ReadFile("/proc/self/status")
	if err != nil {
		t.Skip("this system has no /proc/self/status")
	}
	for line := range strings.Lines(string(status)) {
		if rest, ok := strings.CutPrefix(line, "VmRSS:"); ok {
			kB, err := strconv.ParseFloat(strings.Fields(rest)[0], 64)
			if err != nil {
				t.Fatal(err)
			}
			s.resident = kB * 1024
		}
	}
	return s
}
