package memory_test

import (
	"testing"

	"lampblack/patch/memory"
)

func TestEventsThatDoNotFitComeLateAndNoneIsLost(t *testing.T) {
	m := memory.Memory{Length: 1}
	for range 100 {
		m.Notes = append(m.Notes, memory.Note{At: 0.01, For: 0.5, Pitch: a4, Velocity: 1})
	}
	var p memory.Player
	p.Use(pass(t, m, 1000))
	p.Play(0)
	buffer := make([]memory.Event, 0, 7)
	on, off, blocks := 0, 0, 0
	for ; p.Playing(); blocks++ {
		for _, e := range p.Events(64, buffer) {
			if e.On {
				on++
			} else {
				off++
			}
		}
	}
	if on != 100 || off != 100 {
		t.Errorf("%d starts and %d ends are given, want 100 of each", on, off)
	}
	if blocks > 45 { // 200 events in sevens are 29 blocks; the pass itself has 16
		t.Errorf("it takes %d blocks", blocks)
	}
}

func TestAnEditLosesNoEventThatIsLate(t *testing.T) {
	m := memory.Memory{Length: 1}
	for i := range 20 {
		m.Notes = append(m.Notes, memory.Note{At: 0.01, For: 0.5, Pitch: float64(i) / 12, Velocity: 1})
	}
	var p memory.Player
	p.Use(pass(t, m, 1000))
	p.Play(0)
	on := 0
	for p.Playing() {
		for _, e := range p.Events(64, make([]memory.Event, 0, 3)) {
			if e.On {
				on++
			}
		}
		if on < 10 {
			p.Use(pass(t, m, 1000))
		}
	}
	if on != 20 {
		t.Errorf("%d of 20 notes are started", on)
	}
}

func TestPlayingAllocatesNothing(t *testing.T) {
	m := tune
	m.Repeat = true
	slow := m
	slow.Speed = 0.72
	a, b := pass(t, m, 48000), pass(t, slow, 48000)
	var p memory.Player
	p.Use(a)
	p.Play(0)
	buffer := make([]memory.Event, 0, 64)
	i := 0
	if n := testing.AllocsPerRun(2000, func() {
		p.Events(640, buffer)
		switch i++; {
		case i%50 == 0:
			p.Use(a)
		case i%25 == 0:
			p.Use(b)
		case i%333 == 0:
			p.Seek(0.3)
		case i%777 == 0:
			p.Stop()
			p.Play(0)
		}
	}); n != 0 {
		t.Errorf("%g allocations a block", n)
	}
}

func BenchmarkEvents(b *testing.B) {
	m := memory.Memory{Length: 60, Repeat: true}
	for i := range 600 {
		m.Notes = append(m.Notes, memory.Note{At: float64(i) / 10, For: 0.09, Pitch: d4, Velocity: 1})
	}
	var p memory.Player
	p.Use(pass(b, m, 48000))
	p.Play(0)
	buffer := make([]memory.Event, 0, 64)
	b.ReportAllocs()
	for b.Loop() {
		p.Events(64, buffer)
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/64, "ns/sample")
}
