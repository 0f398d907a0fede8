package memory

import (
	"fmt"
	"math"
	"slices"
	"sort"
)

// Pass is a memory prepared for playing at one sample rate and speed: every
// start and end of a note on its sample. Prepare makes it outside the sound
// thread; one Player uses it (it keeps the player's own state beside the
// notes, so that playing allocates nothing).
type Pass struct {
	notes  []Note
	events []turn
	length int     // of the pass, in samples
	scale  float64 // samples a second of the memory: rate / speed
	repeat bool

	ends  []float64 // by note: when it ends, in seconds at speed 1
	held  []int     // by note: the serial number it sounds under, or 0
	stack []int32   // the notes that sound
	slots []int32   // by note: its place in stack
}

// turn is the start or the end of a note.
type turn struct {
	time   float64 // in seconds of the pass at speed 1
	sample int     // from the start of the pass
	note   int32
	on     bool
}

// Prepare works out the samples on which m's notes start and end:
// round(seconds * rate / speed) from the start of the pass, and the pass is
// round(Length * rate / speed) long. Notes are cut at the end of the pass. The
// rate is in samples a second, 1,000 to 1,000,000.
func Prepare(m Memory, rate float64) (*Pass, error) {
	if err := m.Validate(); err != nil {
		return nil, err
	}
	if !(rate >= 1000 && rate <= 1e6) {
		return nil, fmt.Errorf("memory: the sample rate is %g Hz; allowed is 1 to 1000 kHz", rate)
	}
	p := &Pass{notes: slices.Clone(m.Notes), scale: rate / m.Tempo(), repeat: m.Repeat}
	p.length = p.sample(m.Length)
	p.held = make([]int, len(p.notes))
	p.ends = make([]float64, len(p.notes))
	p.stack, p.slots = make([]int32, 0, len(p.notes)), make([]int32, len(p.notes))
	for i, n := range p.notes {
		if n.Rest || p.sample(n.At) >= p.length {
			p.ends[i] = -1
			continue // a start that rounds to the end of the pass would belong to the next one
		}
		end := p.end(i, m.Length)
		p.ends[i] = end
		p.events = append(p.events,
			turn{n.At, p.sample(n.At), int32(i), true},
			turn{end, p.sample(end), int32(i), false})
	}
	// Ends stand before starts of the same time, so that a note that begins
	// where another ends gives a new gate.
	slices.SortStableFunc(p.events, func(a, b turn) int {
		switch {
		case a.time < b.time:
			return -1
		case a.time > b.time:
			return 1
		case a.on == b.on:
			return 0
		case b.on:
			return -1
		}
		return 1
	})
	return p, nil
}

// sample returns the sample from the start of the pass that is nearest to t.
func (p *Pass) sample(t float64) int { return int(math.Round(float64(t * p.scale))) }

// end returns the time at which note i ends. An end within a nanosecond of
// another note's start is that start: At + For of a note drawn up to the next
// one is off by a rounding error, which may not tear the two apart.
func (p *Pass) end(i int, length float64) float64 {
	n := p.notes[i]
	end := min(n.At+n.For, length)
	const near = 1e-9 // seconds
	j := sort.Search(len(p.notes), func(j int) bool { return p.notes[j].At >= end-near })
	if j < len(p.notes) && p.notes[j].At <= end+near && p.notes[j].At > n.At {
		return p.notes[j].At
	}
	return end
}

// Length returns the number of samples of the pass.
func (p *Pass) Length() int { return p.length }

// find returns the number of the sounding note that is the same as n, or -1.
func (p *Pass) find(n Note) int {
	i := sort.Search(len(p.notes), func(i int) bool { return p.notes[i].At >= n.At })
	for ; i < len(p.notes) && p.notes[i].At == n.At; i++ {
		if p.notes[i].Pitch == n.Pitch && !p.notes[i].Rest && p.held[i] == 0 {
			return i
		}
	}
	return -1
}

// start notes down that note i sounds under a serial number.
func (p *Pass) start(i, serial int) {
	p.held[i], p.slots[i] = serial, int32(len(p.stack))
	p.stack = append(p.stack, int32(i))
}

// stop ends note i at a sample of the block.
func (p *Pass) stop(i, at int) Event {
	e := Event{At: at, Note: p.held[i], Pitch: p.notes[i].Pitch, Velocity: p.notes[i].Velocity}
	p.forget(i)
	return e
}

// forget notes down that note i does not sound any more.
func (p *Pass) forget(i int) {
	last := len(p.stack) - 1
	moved := p.stack[last]
	p.stack[p.slots[i]], p.slots[moved] = moved, p.slots[i]
	p.stack, p.held[i] = p.stack[:last], 0
}
