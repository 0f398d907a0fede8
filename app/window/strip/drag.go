package strip

import (
	"math"
	"slices"

	"lampblack/app/desk"
	"lampblack/patch/memory"
)

// shortest is how short a drag can make a note, in seconds: below this a gate
// is a click.
const shortest = 0.01

// moved returns m with note i as it was in before, moved by seconds and to a
// pitch. A note stays within the pass. It returns the note's new number, since
// notes are kept in the order of their starts.
func moved(before memory.Memory, i int, by, pitch float64) (memory.Memory, int) {
	m := before.Clone()
	n := &m.Notes[i]
	n.At = min(max(n.At+by, 0), max(Pass(before)-n.For, 0))
	n.Pitch = pitch
	return sorted(m, i)
}

// lengthened returns m with note i as it was in before, its end moved by
// seconds. It ends within the pass.
func lengthened(before memory.Memory, i int, by float64) memory.Memory {
	m := before.Clone()
	n := &m.Notes[i]
	n.For = min(max(n.For+by, shortest), Pass(before)-n.At)
	return m
}

// sorted puts notes in the order of their starts; note i keeps its place among
// notes of the same start. It returns i's new number.
func sorted(m memory.Memory, i int) (memory.Memory, int) {
	n := m.Notes[i]
	rest := slices.Delete(slices.Clone(m.Notes), i, i+1)
	at := 0
	for at < len(rest) && (rest[at].At < n.At || rest[at].At == n.At && at < i) {
		at++
	}
	m.Notes = slices.Insert(rest, at, n)
	return m, at
}

// drag is a movement of the mouse over a note, from down to up: one edit.
type drag struct {
	note   int
	now    int // the note's number, which moves with its start
	part   Part
	x, y   float64 // where it began
	before memory.Memory
}

func (t *Strip) begin(x, y float64, note int) {
	_, part := t.paper.find(t.memory(), x, y)
	t.drag = drag{note: note, now: note, part: part, x: x, y: y, before: t.memory().Clone()}
	t.choose(note)
}

// pull moves or lengthens the note. The time follows by the paper as it was
// laid; the pass keeps its length.
func (t *Strip) pull(x, y float64) {
	d := &t.drag
	if d.note >= len(d.before.Notes) {
		return
	}
	by := (x - d.x) / t.paper.width * t.paper.seconds
	if d.part == End {
		t.do("lengthen a note", lengthened(d.before, d.note, by))
		return
	}
	rows := t.paper.pitch(y) - t.paper.pitch(d.y)
	if math.Abs(x-d.x) < 3 {
		by = 0 // a change of pitch alone keeps the time
	}
	n := d.before.Notes[d.note]
	m, at := moved(d.before, d.note, by, n.Pitch+rows)
	t.do("move "+memory.PitchName(n.Pitch), m)
	d.now = at
	t.Refresh()
}

// end lets go: the drag is one step of undo, and the note stays chosen.
func (t *Strip) end() {
	now := t.drag.now
	t.drag = drag{note: -1}
	t.choose(now)
}

// chosen returns the note that is chosen, or -1; while one is dragged past
// others its number changes.
func (t *Strip) chosen() int {
	if t.drag.note >= 0 && t.drag.before.Notes != nil {
		return t.drag.now
	}
	return t.session.Selection().Note
}

// do makes m the memory, as part of the drag that is going on.
func (t *Strip) do(name string, m memory.Memory) {
	e := desk.SetMemory(name, m)
	e.Merge = "drag a note"
	t.session.Do(e)
}
