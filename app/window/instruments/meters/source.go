package meters

import (
	"math"

	"lampblack/app/desk"
	"lampblack/patch"
	"lampblack/patch/engine"
)

// source reads the signals that are metered out of the taps.
type source struct {
	taps   [2][]*engine.Tap // of left and right: those of a channel are added up
	at     [2]string        // the probes that were read
	known  bool
	end    int64 // clock up to which they were read, -1 for not yet
	sums   [2][]float32
	one    []float32
	frames [][]float32
}

func (s *source) buffer(rate int) {
	n := rate/chunk + 1
	s.sums, s.one = [2][]float32{make([]float32, n), make([]float32, n)}, make([]float32, n)
	s.restart()
}

// restart forgets where the signals were read last.
func (s *source) restart() { s.end, s.known = -1, false }

// find looks for the taps, and tells whether a probe that is metered has moved.
func (s *source) find(session *desk.Session, of of) (moved bool) {
	at := [2]string{}
	for i := range s.taps {
		s.taps[i] = s.taps[i][:0]
	}
	if of == ofOutput {
		at = [2]string{"left", "right"}
		for i := range session.Patch().Modules {
			if m := &session.Patch().Modules[i]; m.Kind == "output" {
				s.add(session, 0, m.Name, "left")
				s.add(session, 1, m.Name, "right")
			}
		}
	} else {
		for i, id := range of.probes() {
			socket := session.Probe(id)
			at[i] = socket.String()
			s.add(session, i, socket.Module, socket.Name)
		}
	}
	moved = s.known && at != s.at
	s.at, s.known = at, true
	if moved {
		s.end = -1
	}
	s.frames = s.frames[:0]
	for i := range of.channels() {
		s.frames = append(s.frames, s.sums[i])
	}
	return moved
}

// connected tells whether there is anything to be metered.
func (s *source) connected() bool { return len(s.taps[0])+len(s.taps[1]) > 0 }

// oldest is how far back taps are read: somewhat less than they remember, since
// they go on being written.
const oldest = engine.TapSamples - 8192

// read gives what is new to g, and tells it what came too long ago to be had.
func (s *source) read(g *gauges, seen bool) {
	if !s.connected() {
		return
	}
	clock := int64(math.MaxInt64)
	for _, taps := range s.taps {
		for _, t := range taps {
			clock = min(clock, t.End())
		}
	}
	if clock == 0 || clock < s.end { // a tap that has just begun has nothing yet
		return
	}
	if s.end < 0 {
		s.end = clock
		return
	}
	if clock-s.end > oldest {
		g.skip(clock - oldest - s.end)
		s.end = clock - oldest
	}
	for s.end < clock {
		n := g.next(clock - s.end)
		if s.take(n) {
			g.feed(s.frames, seen)
		} else {
			g.skip(int64(n))
		}
	}
}

// take reads the next n frames of every channel.
func (s *source) take(n int) bool {
	s.end += int64(n)
	for i := range s.frames {
		sum := s.sums[i][:n]
		clear(sum)
		for _, t := range s.taps[i] {
			if !t.ReadAt(s.end, s.one[:n]) {
				return false
			}
			for k, x := range s.one[:n] {
				sum[k] += x
			}
		}
		s.frames[i] = sum
	}
	return true
}

func (s *source) add(session *desk.Session, side int, module, output string) {
	if t := session.Tap(patch.Socket{Module: module, Name: output}); t != nil {
		s.taps[side] = append(s.taps[side], t)
	}
}
