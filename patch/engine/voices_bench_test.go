package engine

import (
	"fmt"
	"testing"

	"lampblack/patch"
	"lampblack/patch/kind/rig"
	"lampblack/patch/memory"
)

// voices gives p a number of voices, and every note unison of them.
func voices(p patch.Patch, count, unison int) patch.Patch {
	for i := range p.Modules {
		if p.Modules[i].Kind == MemoryKind {
			name := p.Modules[i].Name
			p = setting(setting(p, name, "voices", float64(count), ""), name, "unison", float64(unison), "")
		}
	}
	return p
}

// chord is n notes from now on, a fifth apart.
func chord(n int) memory.Memory {
	m := memory.Memory{Length: 4}
	for i := range n {
		m.Notes = append(m.Notes, memory.Note{At: 0.01 * float64(i), For: 1.5, Pitch: -1 + 7.0/12*float64(i%4), Velocity: 1})
	}
	return m
}

// BenchmarkVoices tells what the voices of brass cost, all of them sounding.
func BenchmarkVoices(b *testing.B) {
	for _, n := range []int{1, 2, 4, 8, 16} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			e := New(testRate)
			e.Swap(compileKind(b, voices(reference(b, "brass"), n, 1)))
			for i := range n {
				e.NoteOn(-1+float64(i)/6, 1)
			}
			left, right := make([]float64, 512), make([]float64, 512)
			b.ReportAllocs()
			taken := rig.Taken(func() {
				for b.Loop() {
					e.Block(left, right)
				}
			})
			perSample := float64(taken.Nanoseconds()) / float64(b.N*len(left))
			b.ReportMetric(perSample, "ns/sample")
			b.ReportMetric(perSample/float64(n), "ns/sample/voice")
			b.ReportMetric(perSample*testRate/1e9*100, "%-of-a-core")
		})
	}
}

// BenchmarkWorkers tells what a render of 16 voices of brass gains by a second
// processor.
func BenchmarkWorkers(b *testing.B) {
	p := voices(reference(b, "brass"), 16, 1)
	for _, n := range []int{1, 2} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				if _, err := Render(p, chord(16), RenderOptions{Rate: testRate, Seconds: 2, Workers: n}); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(2*float64(b.N)/b.Elapsed().Seconds(), "x-realtime")
		})
	}
}
