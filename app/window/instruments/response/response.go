// Package response is the plate that shows what a module does to what goes
// through it, computed and measured.
//
//	chosen module, settings -> question -> computed  (package predict)  -> fields: lines
//	                                    -> measured (package probing)  -> fields: rings
//
// A filter has its response over frequency, an envelope its shape over time, a
// source one cycle with its harmonics, a curve its curve; of what has none of them
// it says why. It is drawn anew while a control is dragged: a question is answered
// outside, the newest one wins, and what was measured for an older one is not
// shown beside a newer line. Held by tests: what is computed and measured agree,
// a drag moves the line, what is kept stays, nothing is asked while it is hidden.
package response

import (
	"slices"

	"fyne.io/fyne/v2/canvas"

	"lampblack/app/desk"
	"lampblack/app/probing"
	"lampblack/app/window/calm"
	"lampblack/app/window/leaf"
	"lampblack/app/window/plate"
)

// Plate is the instrument.
type Plate struct {
	session *desk.Session
	set     settings
	last    string // the module that was shown last
	asked   question
	shown   result // computed, and measured as soon as that is there
	kept    *result
	seen    bool
	stops   []func()
	compute lane
	measure lane
	picture *leaf.Turning
	raster  *canvas.Raster
	calm    calm.Picture
	places  []placed // where the fields lie on the picture, as it was written last
}

// lane does one piece of slow work at a time. What is asked meanwhile waits, and
// only the newest of it.
type lane struct {
	busy bool
	next func() (then func())
}

func (l *lane) ask(s *desk.Session, work func() (then func())) {
	if l.busy {
		l.next = work
		return
	}
	l.busy = true
	s.Elsewhere(func() func() {
		then := work()
		return func() {
			l.busy = false
			then()
			if next := l.next; next != nil && !l.busy {
				l.next = nil
				l.ask(s, next)
			}
		}
	})
}

// New returns the plate of a session. It watches the session while it is seen;
// until takes what ends that for good.
func New(s *desk.Session, until func(stop func())) *Plate {
	p := &Plate{session: s, set: usual()}
	p.picture = leaf.NewTurning(p.writePicture)
	p.raster = canvas.NewRaster(p.draw)
	until(func() { p.Show(false) })
	return p
}

// Name is the plate's.
func (p *Plate) Name() string { return "response" }

// Redraw does nothing: what is shown does not follow the signal.
func (p *Plate) Redraw() {}

// Show begins or ends the following of the bench.
func (p *Plate) Show(on bool) {
	p.seen = on
	for _, stop := range p.stops {
		stop()
	}
	p.stops = nil
	if !on {
		return
	}
	for _, topic := range []desk.Topic{desk.Patch, desk.Select, desk.Probes} {
		p.stops = append(p.stops, p.session.Watch(topic, p.ask))
	}
	p.ask()
}

// Beat draws what has waited so as not to flash, and asks anew where moved controls
// are taken as they now stand.
func (p *Plate) Beat() {
	if p.calm.Late(calm.Clock()) { // lines and scales of one answer
		p.redraw()
	}
	if p.set.live && !p.compute.busy && !p.measure.busy {
		p.ask()
	}
}

// Write puts the picture on the leaf.
func (p *Plate) Write(pen *leaf.Pen, area plate.Box) {
	pen.Put(p.picture, area.X, area.Y, area.Width, area.Height)
	p.redraw()
}

func (p *Plate) redraw() {
	p.picture.Refresh()
	p.raster.Refresh()
}

// change changes a setting and asks anew.
func (p *Plate) change(to func(s *settings)) {
	to(&p.set)
	p.ask()
	p.redraw()
}

// ask asks for what is to be shown, if that is another question than the last.
func (p *Plate) ask() {
	if !p.seen {
		return
	}
	q := p.question()
	if q.same(p.asked) {
		return
	}
	p.asked = q
	if q.form == probing.Words {
		p.show(result{question: q})
		return
	}
	p.compute.ask(p.session, func() func() {
		r := q.compute()
		return func() {
			if !q.same(p.asked) {
				return
			}
			p.show(r)
			p.measure.ask(p.session, func() func() {
				m := r.measure()
				return func() {
					if q.same(p.asked) {
						p.show(m)
					}
				}
			})
		}
	})
}

func (p *Plate) show(r result) {
	p.shown = r
	if !p.calm.Waits(calm.Clock()) { // scales wait with their lines
		p.redraw()
	}
}

// module is the one that is shown: the chosen one, or the one that was shown last,
// or what comes first before probe A of which anything can be shown.
func (p *Plate) module() string {
	all := p.session.Patch()
	name := p.session.Chosen()
	if name == "" {
		name = p.last
	}
	if all.Module(name) == nil {
		name = ""
		from := p.session.Probe(desk.ProbeA).Module
		candidates := probing.Before(all, from)
		if all.Module(from) == nil {
			candidates = nil
		}
		for i := range all.Modules {
			candidates = append(candidates, all.Modules[i].Name)
		}
		for _, c := range candidates {
			if k := p.session.Kind(c); k != nil {
				if f, _ := probing.FormsOf(k); f[0] != probing.Words {
					name = c
					break
				}
			}
		}
		if name == "" && len(candidates) > 0 {
			name = candidates[0]
		}
	}
	p.last = name
	return name
}

// stepModule chooses the next module of the patch.
func (p *Plate) stepModule(by int) {
	all := p.session.Patch().Modules
	if len(all) == 0 {
		return
	}
	at := slices.IndexFunc(all, func(m patchModule) bool { return m.Name == p.last })
	at = ((at+by)%len(all) + len(all)) % len(all)
	p.session.Select(desk.Selection{Modules: []string{all[at].Name}, Cord: -1, Note: -1})
	p.ask()
}
