package memory

import (
	"errors"
	"fmt"
	"math"
)

// Limits of a memory.
const (
	MaxLength = 3600    // seconds of one pass
	MaxNotes  = 100_000 // notes and rests
	MinSpeed  = 0.05
	MaxSpeed  = 20
	MaxPitch  = 16 // octaves up or down from A4
)

// Tempo returns how many times as fast as recorded the memory plays: Speed, or
// 1 if none was set.
func (m Memory) Tempo() float64 {
	if m.Speed == 0 {
		return 1
	}
	return m.Speed
}

// Validate returns every fault of m, joined, or nil. Each says which note, what
// is wrong and what is allowed.
func (m Memory) Validate() error {
	var faults []error
	add := func(format string, args ...any) { faults = append(faults, fmt.Errorf("memory: "+format, args...)) }
	if !(m.Length >= 0 && m.Length <= MaxLength) {
		add("its length is %g s; allowed is 0 to %d s", m.Length, MaxLength)
	}
	if s := m.Tempo(); !(s >= MinSpeed && s <= MaxSpeed) {
		add("its speed is %g; allowed is %g to %d times", s, MinSpeed, MaxSpeed)
	}
	if len(m.Notes) > MaxNotes {
		add("it has %d notes; allowed are %d", len(m.Notes), MaxNotes)
		return errors.Join(faults...)
	}
	last := math.Inf(-1)
	for i, n := range m.Notes {
		if err := n.validate(m.Length); err != nil {
			add("note %d: %w", i+1, err)
		} else if n.At < last {
			add("note %d starts at %g s, before the one in front of it; notes stand by rising start", i+1, n.At)
		}
		last = n.At
	}
	return errors.Join(faults...)
}

// validate returns the first fault of n in a pass of that length.
func (n Note) validate(length float64) error {
	switch {
	case !(n.At >= 0 && n.At < length):
		return fmt.Errorf("it starts at %g s; allowed is from 0 to before the end of the pass at %g s", n.At, length)
	case !(n.For > 0 && n.For <= MaxLength && n.At+n.For > n.At):
		return fmt.Errorf("it is held for %g s; allowed is more than 0 up to %d s", n.For, MaxLength)
	case !(math.Abs(n.Pitch) <= MaxPitch):
		return fmt.Errorf("its pitch is %g octaves from A4; allowed is -%d to +%d", n.Pitch, MaxPitch, MaxPitch)
	case !(n.Velocity >= 0 && n.Velocity <= 1):
		return fmt.Errorf("its velocity is %g; allowed is 0 to 1", n.Velocity)
	}
	return nil
}
