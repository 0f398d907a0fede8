package recording

import (
	"lampblack/patch/dsp/approx"
	"lampblack/patch/dsp/bound"
	"lampblack/patch/dsp/gate"
	"lampblack/patch/dsp/resample"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// The choices of play.
const (
	through = iota
	held
	sustain
)

// fading is how many sounds may fade out while another plays.
const fading = 3

// fastest is the highest speed on the tape, in samples a sample: it bounds the
// work of the interpolation.
const fastest = 32

// sound is a recording being played.
type sound struct {
	reader      resample.Reader
	left, right []float64 // nil: there is no recording
	mono        bool
	n           float64 // samples of the recording
	rate        float64

	now     voice         // what the last trigger started
	fading  [fading]voice // what it cut off
	trigger gate.Edge
	where   where
	kept    kept
}

// where is what the controls say at a sample. Places are samples from the
// beginning in the direction of play, whole ones.
type where struct {
	lo, hi          float64 // of what is played
	loopLo, loopHi  float64
	fade            float64 // samples of the recording
	speed, ratio    float64 // ratio: 2^pitch
	edge            float64 // the part of an edge's fade that a sample takes; 1: there is none
	hop             float64 // samples from grain to grain
	repeat          bool
	backward, grain bool
}

// kept are the values for which the parts of where that take long were computed.
type kept struct {
	pitch    float64
	places   [4]float64
	backward bool
	valid    bool
}

func newSound(s module.Setup) module.Sound {
	p := &sound{reader: resample.New(), rate: s.Rate}
	if s.Clip != nil && len(s.Clip.Channels) > 0 && len(s.Clip.Channels[0]) > 0 {
		p.left = s.Clip.Channels[0]
		p.right = s.Clip.Channels[len(s.Clip.Channels)-1]
		p.mono = len(s.Clip.Channels) == 1
		p.n = float64(len(p.left))
	}
	return p
}

// Block plays on.
func (s *sound) Block(b *module.Block) {
	left, right := b.Out[0][:b.N], b.Out[1][:b.N]
	trigger, held := b.In[0][:b.N], b.In[1][:b.N]
	if s.left == nil {
		clear(left)
		clear(right)
		return
	}
	how, level := control.Number(b.Controls[play].V[0], sustain), b.Controls[level].V[:b.N]
	still, looked := still(b), false
	for i := range left {
		starts := s.trigger.Rises(trigger[i])
		if !starts && !s.now.playing && !s.fades() {
			left[i], right[i] = 0, 0
			continue
		}
		if !still || !looked {
			s.look(b, i)
			looked = true
		}
		if starts {
			s.start()
		}
		s.heed(how, gate.Up(held[i]))
		l, r := s.sum(&b.Clamped)
		g := control.Gain(level[i])
		left[i] = bound.In(float64(l*g), &b.Clamped)
		right[i] = bound.In(float64(r*g), &b.Clamped)
	}
}

// still reports whether no control but the level moves within the block.
func still(b *module.Block) bool {
	for i := range level {
		if !b.Controls[i].Steady {
			return false
		}
	}
	return true
}

// fades reports whether anything is still fading out.
func (s *sound) fades() bool {
	for i := range s.fading {
		if s.fading[i].playing {
			return true
		}
	}
	return false
}

// look reads the controls at sample i.
func (s *sound) look(b *module.Block, i int) {
	w, c := &s.where, b.Controls
	w.repeat = c[loop].V[0] > 0.5
	w.grain = c[stretch].V[0] > 0.5
	w.backward = c[direction].V[0] > 0.5
	w.speed = c[speed].V[i]
	if v := c[pitch].V[i]; v != s.kept.pitch || !s.kept.valid {
		s.kept.pitch, w.ratio = v, approx.Exp2(v)
	}
	if !w.grain && float64(w.speed*w.ratio) > fastest {
		b.Clamped = true
	}
	w.fade = float64(c[fade].V[i] * s.rate)
	w.edge = min(1/max(float64(c[edges].V[i]*s.rate), 1), 1)
	w.hop = float64(c[grain].V[i] * s.rate / 2)
	places := [4]float64{s.sample(&c[start], i), s.sample(&c[end], i), s.sample(&c[loopStart], i), s.sample(&c[loopEnd], i)}
	if !s.kept.valid || places != s.kept.places || w.backward != s.kept.backward {
		s.kept.places, s.kept.backward = places, w.backward
		w.set(places, s.n)
	}
	s.kept.valid = true
}

// sample is the whole sample at a share of the recording or a time in seconds,
// so that a recording at speed 1 comes out sample by sample.
func (s *sound) sample(c *module.Control, i int) float64 {
	if c.Scale == 0 {
		return float64(int(float64(c.V[i] * s.n)))
	}
	return min(float64(int(float64(c.V[i]*s.rate)+0.5)), s.n)
}

// set takes start, end, loop start and loop end, counted from the beginning of
// the file of n samples.
func (w *where) set(places [4]float64, n float64) {
	w.lo, w.hi, w.loopLo, w.loopHi = places[0], places[1], max(places[2], places[0]), min(places[3], places[1])
	if w.loopHi <= w.loopLo {
		w.loopLo, w.loopHi = w.lo, w.hi
	}
	if w.backward {
		w.turn(n)
	}
}

// turn counts the places from the other end.
func (w *where) turn(n float64) {
	w.lo, w.hi = n-w.hi, n-w.lo
	w.loopLo, w.loopHi = n-w.loopHi, n-w.loopLo
}

// start begins anew.
func (s *sound) start() {
	s.giveWay()
	w := &s.where
	s.now = voice{playing: true, place: w.lo, backward: w.backward, grain: w.grain}
	if w.lo == 0 || w.edge >= 1 {
		s.now.risen = 1
	}
}

// giveWay lets what is playing fade out beside what comes.
func (s *sound) giveWay() {
	s.now.stop(&s.where)
	if !s.now.playing {
		return
	}
	at := 0
	for i := range s.fading {
		if !s.fading[i].playing {
			at = i
			break
		}
		if s.fading[i].fallen > s.fading[at].fallen {
			at = i
		}
	}
	s.fading[at] = s.now
}

// heed does what the gate says, and goes on from the same place in another way
// if direction or stretch have changed.
func (s *sound) heed(how int, up bool) {
	v, w := &s.now, &s.where
	if !v.playing || v.falls {
		return
	}
	if how == held && !up {
		v.stop(w)
	}
	v.freed = v.freed || how == sustain && !up
	if v.playing && !v.falls && (v.backward != w.backward || v.grain != w.grain) {
		next := voice{playing: true, place: v.place, backward: w.backward, grain: w.grain, freed: v.freed}
		if v.backward != w.backward {
			next.place = s.n - 1 - v.place
		}
		if w.edge >= 1 {
			next.risen = 1
		}
		s.giveWay()
		s.now = next
	}
}

// sum adds up what plays and what fades out.
func (s *sound) sum(clamped *bool) (left, right float64) {
	left, right = s.now.next(s)
	for i := range s.fading {
		if s.fading[i].playing {
			l, r := s.fading[i].next(s)
			left, right = left+l, right+r
		}
	}
	return left, right
}

// read gives both channels at a place, read with a step of so many samples.
func (s *sound) read(place, step float64, backward bool) (left, right float64) {
	if backward {
		place = s.n - 1 - place
	}
	if i := int(place); step <= 1 && float64(i) == place && uint(i) < uint(len(s.left)) {
		return s.left[i], s.right[i] // what the interpolation comes to
	}
	left = s.reader.At(s.left, place, step)
	if s.mono {
		return left, left
	}
	return left, s.reader.At(s.right, place, step)
}
