// Package meters is the plate of the trade's meters: peak programme, VU, true peak,
// correlation, tuner, fluctuation and roughness, and loudness over time.
//
//	taps -> gauges (package scope/meter) -> reading -> needles, figures, chart
//
// Needles follow the signal at the screen's speed, figures change five times a
// second at most. What is metered is the take's own level, before the loudspeaker's
// listening level and limiter. It measures only while it is seen, but for the
// loudness, which goes on once it was begun, and says since when.
//
// Held by tests: the signals of EBU Tech 3341 and 3342, ITU-R BS.1770, IEC 60268-10
// and -17, played by a patch, read on the plate what the standards say.
package meters

import (
	"fyne.io/fyne/v2/canvas"

	"lampblack/app/desk"
	"lampblack/app/window/look"
	"lampblack/app/window/plate"
)

// Plate is the instrument. Make it with New.
type Plate struct {
	session *desk.Session
	freeze  func() plate.Setting // holds the pictures of all instruments
	frozen  func() bool
	set     switches
	gauges  *gauges
	shown   reading // what is on the screen
	source  source
	since   float64 // where in the pass, in s, the loudness was begun
	begun   bool    // it was seen once
	seen    bool
	playing bool
	needles needles
	figures []*figure
	written int64 // frames at which the figures were written
	chart   *canvas.Raster
	drawn   int64 // entries that the chart shows
	panel   bool  // there is room for the chart
	crowded bool  // there is no room for all rulers
}

// New returns the meters of a session. The watching ends with what is given to
// until; freeze is the setting that holds all instruments, frozen what it says.
func New(s *desk.Session, until func(stop func()), freeze func() plate.Setting, frozen func() bool) *Plate {
	p := &Plate{session: s, freeze: freeze, frozen: frozen, set: usual()}
	p.source.buffer(s.Rate())
	p.chart = canvas.NewRaster(p.drawChart)
	p.gauges = newGauges(float64(s.Rate()), p.set.of.channels())
	p.shown = p.gauges.now
	until(look.Live.Watch(p.follow))
	return p
}

// Name is plate.Plate's.
func (p *Plate) Name() string { return "meters" }

// Show is plate.Plate's.
func (p *Plate) Show(on bool) {
	p.seen = on
	if !on {
		return
	}
	p.gauges.tune() // what was not seen was not heard: there would be a seam
	if !p.begun {
		p.begun, p.playing = true, p.session.Playing()
		p.source.restart()
		p.begin()
	}
	p.follow()
}

// Beat is plate.Plate's.
func (p *Plate) Beat() {
	p.follow()
	if p.frozen() {
		return
	}
	p.shown = p.gauges.now
	p.move()
}

// Redraw is plate.Plate's: needles move with Beat, for other signals than the
// probes' as well.
func (p *Plate) Redraw() {}

// begin begins the loudness anew, from what is read next.
func (p *Plate) begin() {
	p.gauges.begin()
	p.since = p.session.Position()
	p.shown = p.gauges.now
}

// renew makes the meters for what is metered now.
func (p *Plate) renew() {
	hold := p.set.hold
	p.gauges = newGauges(float64(p.session.Rate()), p.set.of.channels())
	p.gauges.hold, p.gauges.paused = hold, p.set.paused
	p.gauges.tune()
	p.source.restart()
	p.begin()
}

// follow reads what has come since it was called last. Hidden, it does so for the
// loudness alone.
func (p *Plate) follow() {
	if !p.begun {
		return
	}
	playing := p.session.Playing()
	if playing && !p.playing && p.set.anew {
		p.begin()
	}
	p.playing = playing
	if !p.seen && p.set.paused {
		p.source.end = -1
		return
	}
	if p.source.find(p.session, p.set.of) { // a probe was moved
		p.gauges.tune()
		p.begin()
	}
	p.source.read(p.gauges, p.seen)
}
