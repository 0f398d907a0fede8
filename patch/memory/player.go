package memory

import "sort"

// Event is the start or the end of a note.
type Event struct {
	At       int     // sample within the block, 0 to n-1
	On       bool    // the note starts, or it ends
	Note     int     // the same number at a note's start and at its end; never given twice
	Pitch    float64 // octaves, 0 = A4 = 440 Hz
	Velocity float64 // 0 to 1, of the start
}

// Player plays a Pass. All methods are for one goroutine, which may be the
// sound thread: they do not allocate, lock or wait. The zero Player has nothing
// to play.
//
// What it gives does not depend on how the samples are cut into blocks.
type Player struct {
	pass    *Pass
	next    *Pass   // takes over at the next Events
	old     *Pass   // holds notes that the pass after it does not have; they end first
	pos     int     // samples since the start of the pass; past its end while late events wait
	turn    int     // the first event of the pass that was not given yet
	serial  int     // of the last note started
	seek    float64 // where the next Events starts, in seconds at speed 1
	seeking bool
	playing bool
	atEnd   bool // stop at the end of this pass although it repeats
	release bool // what sounds has to end first
	began   int  // sample of the last Events at which a pass began, less than 0: none did
}

// Use replaces what is played from the next call of Events on. The musical
// place is kept, also when the speed is another one, and a note that sounds
// goes on if the new pass has it too (same start and pitch). A pass that is in
// use by another Player must not be given.
func (p *Player) Use(pass *Pass) { p.next = pass }

// Play starts at seconds of the pass at speed 1, also when it plays already. A
// note that began before is not started.
func (p *Player) Play(seconds float64) {
	p.Seek(seconds)
	p.playing, p.atEnd = true, false
}

// Stop ends the notes that sound and stands still.
func (p *Player) Stop() { p.playing, p.atEnd, p.release = false, false, true }

// StopAtEnd lets the pass come to its end and then stops, also if it repeats.
func (p *Player) StopAtEnd() { p.atEnd = p.playing }

// Seek goes to seconds of the pass at speed 1, not before 0 and not past its
// end. What sounds is ended.
func (p *Player) Seek(seconds float64) {
	if !(seconds > 0) { // NaN too
		seconds = 0
	}
	p.seek, p.seeking, p.release = min(seconds, MaxLength), true, true
}

// Playing reports whether it plays. It does until the block that reaches past
// the last sample of the pass.
func (p *Player) Playing() bool { return p.playing }

// Position returns the place in the pass, in seconds at speed 1. A pass that
// came to its end stands at its start again.
func (p *Player) Position() float64 {
	switch {
	case p.seeking:
		return p.seek
	case p.pass == nil:
		return 0
	}
	return float64(min(p.pos, p.pass.length)) / p.pass.scale
}

// Began returns at which of the samples that the last Events played a pass began,
// the last if there were several; false if none did.
func (p *Player) Began() (at int, ok bool) { return p.began, p.began >= 0 }

// Events plays n samples and returns the events in them in the order in which
// they happen, in dst's memory: at most cap(dst). Those that do not fit come
// first in the next call, at sample 0: late, but none is lost. It also ends
// what has to end after Stop, Seek and Use, so it is called for every block,
// playing or not.
func (p *Player) Events(n int, dst []Event) []Event {
	p.began = -1
	dst, ready := p.change(dst[:0])
	switch {
	case !p.playing:
		return dst
	case ready:
		return p.advance(n, dst)
	case !p.seeking:
		p.pos += n
	}
	return dst
}

// change does what was asked for since the last block: ending, another pass,
// another place. It reports false if dst was too small for it.
func (p *Player) change(dst []Event) ([]Event, bool) {
	var ok bool
	if dst, ok = p.endAll(p.old, dst); !ok {
		return dst, false
	}
	p.old = nil
	if p.release {
		if dst, ok = p.endAll(p.pass, dst); !ok {
			return dst, false
		}
		p.release = false
	}
	if p.next != nil {
		p.takeOver()
		if dst, ok = p.endAll(p.old, dst); !ok {
			return dst, false
		}
		p.old = nil
	}
	if p.seeking && p.pass != nil {
		p.pos = min(p.pass.sample(p.seek), p.pass.length)
		p.turn = sort.Search(len(p.pass.events), func(i int) bool { return p.pass.events[i].sample >= p.pos })
	}
	p.seeking = p.seeking && p.pass == nil
	return dst, true
}

// endAll ends all notes of pass that sound, and reports false if dst was too
// small.
func (p *Player) endAll(pass *Pass, dst []Event) ([]Event, bool) {
	for pass != nil && len(pass.stack) > 0 {
		if len(dst) == cap(dst) {
			return dst, false
		}
		dst = append(dst, pass.stop(int(pass.stack[len(pass.stack)-1]), 0))
	}
	return dst, true
}

// takeOver goes on with p.next at the same musical place. Notes that it has too
// go on sounding; the others are left in p.old.
func (p *Player) takeOver() {
	old, next := p.pass, p.next
	p.next = nil
	if old == nil || old == next {
		p.pass = next
		return
	}
	// What rounds to a sample before pos was given; an event that is late was not.
	given := (float64(p.pos) - 0.5) / old.scale
	if p.turn < len(old.events) {
		given = min(given, old.events[p.turn].time)
	}
	p.pos = min(next.sample(float64(p.pos)/old.scale), next.length)
	p.turn = sort.Search(len(next.events), func(i int) bool { return next.events[i].time >= given })
	for i := len(old.stack) - 1; i >= 0; i-- {
		note := int(old.stack[i])
		if to := next.find(old.notes[note]); to >= 0 && next.ends[to] >= given {
			next.start(to, old.held[note])
			old.forget(note)
		}
	}
	p.pass, p.old = next, old
}

// advance plays n samples of the pass, and of the next ones if it repeats.
func (p *Player) advance(n int, dst []Event) []Event {
	if p.pass == nil {
		p.playing, p.seeking = false, false
		return dst
	}
	start := -p.pos // of the pass, in samples of this block
	if start == 0 {
		p.began = 0
	}
	for {
		var full bool
		if dst, full = p.give(start, n, dst); full {
			break
		}
		end := start + p.pass.length
		if end >= n && p.pass.length > 0 {
			break
		}
		if !p.pass.repeat || p.atEnd || p.pass.length == 0 {
			p.playing, p.atEnd, p.pos, p.turn = false, false, 0, 0
			return dst
		}
		start, p.turn = end, 0
		if start < n {
			p.began = max(start, 0)
		}
	}
	p.pos = n - start
	return dst
}

// give appends the events before sample n of a pass that starts at sample
// start of the block, and reports whether dst was too small.
func (p *Player) give(start, n int, dst []Event) ([]Event, bool) {
	for ; p.turn < len(p.pass.events); p.turn++ {
		e := &p.pass.events[p.turn]
		if start+e.sample >= n {
			break
		}
		if p.pass.held[e.note] != 0 == e.on {
			continue // the end of a note that was not started, or ended early
		}
		if len(dst) == cap(dst) {
			return dst, true
		}
		dst = append(dst, p.do(e, max(start+e.sample, 0)))
	}
	return dst, false
}

// do starts or ends a note of the pass.
func (p *Player) do(e *turn, at int) Event {
	if !e.on {
		return p.pass.stop(int(e.note), at)
	}
	p.serial++
	p.pass.start(int(e.note), p.serial)
	n := &p.pass.notes[e.note]
	return Event{at, true, p.serial, n.Pitch, n.Velocity}
}
