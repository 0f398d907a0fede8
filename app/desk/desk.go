// Package desk is the one session value: the work on the bench and what is done with it.
//
//	window, keys, commands -> Edit -> Session -> engine, notebook -> watchers
//
// It holds the bench (patch, memory, note), undo, selection, probes, transport
// and the open notebook. Views draw from it and keep no copy. It knows no
// toolkit and is tested without a window.
//
// All methods belong to one goroutine, the window's, unless they say otherwise;
// slow work runs outside and comes back through Options.Post.
//
// Held by tests: undo of any edit gives back the bench, what is on the bench is
// in the notebook's draft, an answer to an old question is dropped.
package desk

import (
	"context"
	"time"

	"lampblack/app/sound"
	"lampblack/notebook"
	"lampblack/patch"
	"lampblack/patch/engine"
	"lampblack/patch/memory"
	"lampblack/patch/module"
)

// Speaker is what the desk needs of a loudspeaker; *sound.Output is one.
type Speaker interface {
	SetLevel(db float64)
	Mute(on bool)
	Play(left, right []float64)
	StopAudition()
	Auditioning() bool
	State() sound.State
	Close() error
}

// Options say what a Session works with. The zero value is a bench without
// notebook and loudspeaker.
type Options struct {
	Book    *notebook.Book   // nil: nothing can be kept, and the notice says so
	NoBook  error            // why there is no Book, for the notice
	Rate    int              // samples a second; 0 is 48,000
	Post    func(fn func())  // runs fn on the session's goroutine; nil makes all slow work run at once
	Now     func() time.Time // nil is time.Now
	Draft   bool             // look for work that was not kept, and store the work as it changes
	Program string           // the program's version, for takes
}

// Session is everything that the window shows. Make it with New.
type Session struct {
	book    *notebook.Book
	rate    int
	post    func(func())
	now     func() time.Time
	context context.Context
	cancel  context.CancelFunc

	bench     Bench
	kept      Bench // the bench as the parent take holds it
	steps     []step
	undone    []step
	open      string // the Merge key of the step that may still grow
	selection Selection
	probes    [2]patch.Socket
	watchers  map[Topic]map[int]func()
	nextWatch int
	notices   []Notice

	engine      *engine.Engine
	speaker     Speaker
	clips       map[string]*module.Clip // decoded recordings by SHA-256
	files       map[string][]byte       // recordings that no notebook holds yet
	taps        map[patch.Socket]*tap   // of outputs
	controlTaps map[patch.Socket]*tap
	sweeps      int       // how often the swept ranges were begun again
	idleSince   time.Time // when taps were last looked through

	recorder    *memory.Recorder
	waiting     bool  // the recording waits for its first note
	recordStart int64 // the engine's clock at that note
	armed       int   // the rest that the next note fills, or -1
	playing     bool
	stopping    bool
	asksAt      int64 // the engine's clock when Play was last asked for
	muted       bool
	inline      bool // run background work at once: for tests
	heldPeak    float64
	heldSince   time.Time

	contents []JobEntry
	asides   []notebook.Aside
	version  int64 // of the notebook, as others have changed it
	looking  bool  // its version is being asked for
	keeping  float64
	proofs   map[notebook.TakeID]proofEntry
	audition notebook.TakeID
	asked    int // number of the last audition that was asked for
	found    *notebook.Draft
	drafts   *draftWriter
}

// New returns a session with an empty bench. The engine sounds as soon as a
// loudspeaker pulls it: see Engine and Attach.
func New(o Options) *Session {
	if o.Rate == 0 {
		o.Rate = 48000
	}
	if o.Now == nil {
		o.Now = time.Now
	}
	s := &Session{
		book: o.Book, rate: o.Rate, post: o.Post, now: o.Now,
		watchers:    map[Topic]map[int]func(){},
		engine:      engine.New(o.Rate),
		clips:       map[string]*module.Clip{},
		files:       map[string][]byte{},
		taps:        map[patch.Socket]*tap{},
		controlTaps: map[patch.Socket]*tap{},
		proofs:      map[notebook.TakeID]proofEntry{},
		selection:   Selection{Cord: -1, Note: -1},
		armed:       -1,
		inline:      o.Post == nil,
		keeping:     -1,
	}
	if s.inline {
		s.post = func(fn func()) { fn() }
	}
	s.context, s.cancel = context.WithCancel(context.Background())
	if s.book == nil {
		if o.NoBook != nil {
			s.fault(AtContents, o.NoBook)
		}
		s.Notify(Notice{Place: AtContents, Text: "no notebook is open: you can play, but nothing can be kept", Fault: true})
	} else {
		s.version, _ = s.book.ChangedElsewhere() // before it is read: what comes between is seen later
		s.readContents()
		if readOnly, why := s.book.ReadOnly(); readOnly {
			s.Notify(Notice{Place: AtContents, Text: why + "; takes can be recalled and proved, not kept", Fault: true})
		} else if o.Draft {
			s.openDraft()
		}
	}
	return s
}

// Engine returns what a loudspeaker pulls: it is a sound.Source.
func (s *Session) Engine() *engine.Engine { return s.engine }

// Attach gives the session its loudspeaker.
func (s *Session) Attach(speaker Speaker) {
	s.speaker = speaker
	s.tell(Sound)
}

// Rate returns the samples a second.
func (s *Session) Rate() int { return s.rate }

// Close stores the work in progress, fades out and lets the loudspeaker go.
// The notebook stays open: it belongs to whoever opened it.
func (s *Session) Close() error {
	s.cancel()
	if s.drafts != nil {
		s.drafts.close()
		s.drafts = nil // an answer that comes late finds nothing to write into
	}
	if s.speaker != nil {
		return s.speaker.Close()
	}
	return nil
}
