package engine

import (
	"math"

	"lampblack/patch/module"
)

// maxHeld is how many notes can be held at once; of more, the oldest is let go.
const maxHeld = 128

// takeOverSeconds is how long the eased velocity of a voice that had another note
// before needs to come to that of the new one: long enough that a step at full
// level stays under -60 dB above 4 kHz, too short to soften an attack.
const takeOverSeconds = 0.002

// held is a note whose key is down.
type held struct {
	id       int // the memory's number of the note, or 0 for a live key
	pitch    float64
	velocity float64
	place    int // the number of the place it sounds in, or -1: another note took it over
}

// keys deals out starts and ends of notes to as many places as notes can sound at
// once. (A place is a voice, or the voices of one note.)
//
// One place follows the newest note held; when it ends, the one before is heard
// again, without a trigger. Of several, a note takes the free one that was let go
// the longest ago; if none is free, it takes one over, and the note that had it
// is not heard again. Pitch and velocity stay after a note has ended, so that a
// release sounds at its own pitch.
type keys struct {
	held   [maxHeld]held
	count  int
	places [MaxVoices]place
	n      int // places in use
	steal  steal
	rate   float64

	serial int64   // counts starts and ends
	last   float64 // pitch of the note that was started last
	begun  bool    // there was such a note
	newest int     // its place
}

// place is where one note sounds.
type place struct {
	pitch, before float64
	velocity      float64
	eased         float64 // what goes to it where a note follows another
	left          int     // samples until it is there
	on            bool    // its key is down
	trigger       bool    // a note starts at this very sample
	changed       int64   // when it was taken or let go, by serial
	shown         shown   // what the note's samples hold throughout, if they do
}

func (k *keys) reset(rate float64) {
	*k = keys{rate: rate, n: 1}
	for i := range k.places {
		k.places[i] = place{velocity: 1, eased: 1}
	}
}

// single reports whether there is one place, which follows the newest note.
func (k *keys) single() bool { return k.n == 1 && k.steal != stealNone }

// use makes n the number of places. Notes that sound in a place which is still
// there go on.
func (k *keys) use(n int, s steal) {
	if n == k.n && s == k.steal {
		return
	}
	if k.single() {
		for i := range k.held[:k.count] {
			k.held[i].place = -1
		}
		if k.count > 0 {
			k.held[k.count-1].place = 0
		}
	}
	for i := k.n; i < n; i++ {
		k.places[i] = place{velocity: 1, eased: 1}
	}
	k.n, k.steal = n, s
	k.newest = min(k.newest, n-1)
	for i := range k.held[:k.count] {
		if k.held[i].place >= n {
			k.held[i].place = -1
		}
	}
	if k.single() {
		k.follow()
	}
}

// follow lets the one place sound what is held now.
func (k *keys) follow() {
	p := &k.places[0]
	if p.on = k.count > 0; p.on {
		p.pitch = k.held[k.count-1].pitch
		k.last = p.pitch
	}
}

// on starts a note.
func (k *keys) on(h held) {
	if k.count == maxHeld {
		k.drop(0)
	}
	before := k.last
	if !k.begun {
		before = h.pitch
	}
	h.place = k.choose()
	if h.place >= 0 {
		k.serial++
		k.last, k.begun, k.newest = h.pitch, true, h.place
		p := &k.places[h.place]
		k.takeOver(p, h.velocity)
		p.pitch, p.before, p.on, p.trigger, p.changed = h.pitch, before, true, true, k.serial
	}
	k.held[k.count] = h
	k.count++
}

// takeOver gives a place the velocity of a new note, eased if there was a note
// before, which may ring on. (One place has never eased it.)
func (k *keys) takeOver(p *place, velocity float64) {
	p.velocity, p.left = velocity, 0
	if p.changed > 0 && !k.single() {
		p.left = max(int(takeOverSeconds*k.rate), 1)
		return
	}
	p.eased = velocity
}

// choose returns the place for a new note, and -1 if there is none.
func (k *keys) choose() int {
	if k.single() {
		return 0
	}
	best := -1
	for i := range k.places[:k.n] {
		if p := &k.places[i]; !p.on && (best < 0 || p.changed < k.places[best].changed) {
			best = i
		}
	}
	if best >= 0 || k.steal == stealNone {
		return best
	}
	best = 0
	for i := 1; i < k.n; i++ {
		if k.rather(&k.places[i], &k.places[best]) {
			best = i
		}
	}
	for i := range k.held[:k.count] {
		if k.held[i].place == best {
			k.held[i].place = -1
		}
	}
	return best
}

// rather reports whether a new note takes over p rather than q.
func (k *keys) rather(p, q *place) bool {
	switch {
	case k.steal == stealSoftest && p.velocity != q.velocity:
		return p.velocity < q.velocity
	case k.steal == stealLowest && p.pitch != q.pitch:
		return p.pitch < q.pitch
	case k.steal == stealHighest && p.pitch != q.pitch:
		return p.pitch > q.pitch
	}
	return p.changed < q.changed
}

// off ends the memory's note of that number, or, with id 0, the newest live key
// of that pitch. A note that is not held is ignored.
func (k *keys) off(id int, pitch float64) {
	for i := k.count - 1; i >= 0; i-- {
		if h := &k.held[i]; h.id != id || id == 0 && h.pitch != pitch {
			continue
		}
		k.drop(i)
		return
	}
}

// drop ends the note that is number i of those held.
func (k *keys) drop(i int) {
	at := k.held[i].place
	copy(k.held[i:k.count], k.held[i+1:k.count])
	k.count--
	switch {
	case k.single():
		k.follow()
	case at >= 0:
		k.free(at)
	}
}

func (k *keys) free(at int) {
	k.serial++
	k.places[at].on, k.places[at].changed = false, k.serial
}

// allOff ends all notes, the oldest first.
func (k *keys) allOff() {
	for k.count > 0 {
		k.drop(0)
	}
}

// fill writes the notes into samples i to j, one of notes for each place; a
// trigger stands on the first.
func (k *keys) fill(notes []module.Played, i, j int) {
	if i >= j {
		return
	}
	for n := range notes {
		k.places[n].fill(&notes[n], i, j)
	}
}

func (p *place) fill(note *module.Played, i, j int) {
	now := p.stands(note)
	if now == p.shown {
		return
	}
	p.shown = shown{}
	if i == 0 && j == module.MaxBlock && !p.trigger && p.left == 0 {
		p.shown = now
	}
	gate := 0.0
	if p.on {
		gate = 1
	}
	fill(note.Pitch[i:j], p.pitch)
	fill(note.Before[i:j], p.before)
	fill(note.Velocity[i:j], p.velocity)
	fill(note.Gate[i:j], gate)
	fill(note.Trigger[i:j], 0)
	if p.trigger {
		note.Trigger[i] = 1
		p.trigger = false
	}
	for ; p.left > 0 && i < j; i++ {
		p.eased += (p.velocity - p.eased) / float64(p.left)
		if p.left--; p.left == 0 {
			p.eased = p.velocity
		}
		note.Eased[i] = p.eased
	}
	fill(note.Eased[i:j], p.eased)
}

// shown is what a whole block of a note holds, to the bit. Most blocks hold what
// the one before did. The zero value is equal to no place's.
type shown struct {
	note          *module.Played
	pitch, before uint64
	velocity      float64
	eased         float64
	on, trigger   bool
	left          int
}

// stands returns what note holds where the place has stood still for a block.
func (p *place) stands(note *module.Played) shown {
	return shown{note, math.Float64bits(p.pitch), math.Float64bits(p.before), p.velocity, p.eased, p.on, p.trigger, p.left}
}
