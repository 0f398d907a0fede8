package instruments

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"lampblack/app/desk"
	"lampblack/app/window/instruments/expect"
	"lampblack/patch"
	"lampblack/patch/engine"
	"lampblack/scope/predict"
)

// expected asks theory what a probe should show, in the background, and lays the
// measured sound beside it. It does so only while the large spectrum is seen and
// its setting is on. One question is under way at a time; when its answer comes, a
// newer question follows at once, so that the answers follow a dragged control as
// fast as they can be worked out.
type expected struct {
	t    *Panel
	seen bool

	patch     int64                    // counts changes of the patch
	structure string                   // what the patch consists of, without its settings
	envelopes map[patch.Socket]float64 // where they settle
	settles   moment                   // while this sounds

	asked, answered moment
	askedAt, end    int64 // the clock of the question that is under way, and of the one answered
	late            bool  // an envelope has moved on since
	busy            bool
	rest            int // beats until the next question may be asked
	number          int64

	answer           // what is shown
	free     answer  // whatever the phases are
	tied     *answer // as if all oscillators had begun at once; nil if that is the same
	together bool    // tied is shown: the sound agrees with it
	sound    hearing

	chosen, top int
	changed     func() // what is shown here is not what it was
}

// answer is a prediction and its table.
type answer struct {
	is   predict.Prediction
	rows []expect.Row
}

// moment is what a prediction is for. Two that are equal have the same answer.
type moment struct {
	patch           int64
	at              patch.Socket
	keys            string // the module that plays notes, "" for none
	pitch, velocity float64
	held            bool
	levels          string // of envelopes that are on their way, to tell moments apart
}

func newExpected(t *Panel) *expected {
	e := &expected{t: t, changed: func() {}}
	e.patchChanged()
	t.Until(t.session.Watch(desk.Patch, e.patchChanged))
	return e
}

// of is the channel that is asked for, -1 for none.
func (e *expected) of() int { return e.t.measure.switches.expected - 1 }

// patchChanged counts; a patch of other parts makes old answers worthless.
func (e *expected) patchChanged() {
	e.patch++
	p, text := e.t.session.Patch(), ""
	for i := range p.Modules {
		text += p.Modules[i].Name + "\x00" + p.Modules[i].Kind + "\x00"
	}
	for _, c := range p.Cords {
		text += fmt.Sprint(c.From, c.To)
	}
	if text != e.structure {
		e.structure, e.envelopes = text, nil
	}
}

// forget drops the answer that is shown.
func (e *expected) forget() {
	e.number++
	e.answer, e.free, e.tied, e.together = answer{}, answer{}, nil, false
	e.answered, e.asked = moment{}, moment{}
	e.sound.rest, e.chosen, e.top = nil, 0, 0
	e.changed()
}

// betweenQuestions is how many beats lie between two questions at least.
const betweenQuestions = 2

// beat asks and measures what there is to be asked and measured.
func (e *expected) beat() {
	if !e.seen || e.of() < 0 {
		return
	}
	s := e.t.session
	at := s.Probe(desk.ProbeID(e.of()))
	if at != e.answered.at && len(e.rows)+len(e.is.Why) > 0 {
		e.forget()
	}
	tap := s.Tap(at)
	if e.t.measure.switches.frozen || tap == nil {
		return
	}
	now, levels := e.moment(at, tap)
	if e.rest--; e.rest <= 0 && !e.busy && now != e.asked {
		e.askedAt = tap.End()
		e.ask(now, levels, e.snapshot(tap, now))
	}
	e.listen(tap, now)
	// The answer for an envelope that moves is old when it has gone on for long.
	late := e.answered.levels != "" && now != e.answered && float64(tap.End()-e.end) > mostLate*e.t.measure.rate
	if late != e.late {
		e.late = late
		e.changed()
	}
}

// mostLate is how many seconds an answer for a moving envelope stays true enough.
const mostLate = 0.3

// ask works a question out in the background.
func (e *expected) ask(now moment, levels map[patch.Socket]float64, heard *snapshot) {
	e.asked, e.busy, e.rest = now, true, betweenQuestions
	at := e.askedAt
	structure, number := e.structure, e.number
	p := e.t.session.Patch().Clone()
	c := predict.Conditions{
		Rate: e.t.measure.rate, Pitch: now.pitch, Velocity: now.velocity, Held: now.held,
		AnyPhase: true, // nobody knows when each oscillator of the bench was joined or tuned; but see tied
		Levels:   levels,
	}
	e.t.session.Elsewhere(func() func() {
		is := predict.Predict(p, now.at, c)
		free := answer{is, expect.Rows(is)}
		rest := heard.read(free.rows)
		var tied *answer
		if c.Levels == nil && slices.ContainsFunc(free.rows, func(r expect.Row) bool { return r.Open() }) {
			c.AnyPhase = false
			if is := predict.Predict(p, now.at, c); len(is.Why) == 0 {
				tied = &answer{is, expect.Rows(is)}
			}
		}
		return func() {
			e.busy = false
			if number == e.number && structure == e.structure && e.t.session.Probe(desk.ProbeID(max(e.of(), 0))) == now.at {
				e.take(now, free, tied)
				e.end = at
				e.sound.rest, e.sound.moving = rest, rest != nil
				if rest != nil {
					e.sound.seconds = float64(len(heard.samples)) / e.t.measure.rate
				}
				e.changed()
			}
		}
	})
}

// take shows an answer.
func (e *expected) take(now moment, free answer, tied *answer) {
	e.number++
	e.answered, e.free, e.tied, e.together = now, free, tied, false
	e.sound.rest, e.sound.want = nil, 0
	if now.levels == "" {
		e.settles, e.envelopes = now, map[patch.Socket]float64{}
		for _, m := range free.is.Moving {
			if m.Hz == 0 && m.Unit == "" {
				e.envelopes[m.Socket] = m.Now
			}
		}
	}
	e.show(free)
}

// show puts an answer in the place of another; the chosen line stays chosen.
func (e *expected) show(a answer) {
	name := e.chosenName()
	e.answer, e.chosen = a, 0
	for i := range a.rows {
		if a.rows[i].Name == name {
			e.chosen = i
		}
	}
}

func (e *expected) chosenName() string {
	if e.chosen < len(e.rows) {
		return e.rows[e.chosen].Name
	}
	return ""
}

// moment finds out what sounds now, and the levels of envelopes that are not where
// they settle.
func (e *expected) moment(at patch.Socket, tap *engine.Tap) (moment, map[patch.Socket]float64) {
	now := moment{patch: e.patch, at: at, velocity: 1, held: true}
	s := e.t.session
	if p := s.Patch(); p != nil {
		for i := range p.Modules {
			if p.Modules[i].Kind == engine.MemoryKind && now.keys == "" {
				now.keys = p.Modules[i].Name
			}
		}
	}
	if now.keys != "" {
		read := func(output string) float64 {
			v, _ := lastOf(s.Tap(patch.Socket{Module: now.keys, Name: output}))
			return v
		}
		now.pitch, now.velocity, now.held = exactPitch(read("pitch")), read("velocity"), read("gate") > 0.5
	}
	levels := map[patch.Socket]float64{}
	for socket, settled := range e.envelopes {
		v, moved, ok := e.envelope(socket, tap.End())
		known := e.settles.held == now.held && e.settles.patch == now.patch
		if ok && (moved || known && math.Abs(v-settled) > 1e-4) {
			levels[socket] = v
		}
	}
	if len(levels) == 0 {
		return now, nil
	}
	for _, at := range slices.SortedFunc(maps.Keys(levels), func(a, b patch.Socket) int { return cmpText(a.String(), b.String()) }) {
		now.levels += fmt.Sprintf("%v %.4g;", at, levels[at])
	}
	return now, levels
}

// exactPitch undoes the rounding of a tap to 32 bits where the note is one of the
// scale, in cents.
func exactPitch(v float64) float64 {
	if cents := math.Round(v * 1200); math.Abs(v*1200-cents) < 1e-3 {
		return cents / 1200
	}
	return v
}

// cmpText orders texts.
func cmpText(a, b string) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// lastOf returns the newest sample of a tap.
func lastOf(t *engine.Tap) (float64, bool) {
	var one [1]float32
	if t == nil {
		return 0, false
	}
	_, ok := t.Read(one[:])
	return float64(one[0]), ok
}

// choose chooses a row.
func (e *expected) choose(i int) {
	e.chosen = min(max(i, 0), max(len(e.rows)-1, 0))
	e.changed()
}
