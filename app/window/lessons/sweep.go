package lessons

import (
	"lampblack/app/desk"
	"lampblack/patch"
)

// sweepBeats is how many beats a control takes from A to B by itself: eight
// seconds, slow enough to hear what changes.
const sweepBeats = 240

// sweep is a control that goes from A to B by itself.
type sweep struct {
	on    bool
	beats int
	last  patch.Setting // as it was set last; anything else is the learner's hand
}

// toggleSweep lets the control go, or holds it where it is.
func (c *Column) toggleSweep() {
	if c.sweep.on {
		c.endSweep()
		return
	}
	if !c.taught() {
		return
	}
	c.session.Settle()
	c.sweep = sweep{on: true}
	c.glide()
}

func (c *Column) endSweep() {
	c.sweep.on = false
	c.session.Settle()
	c.Refresh()
}

// beat moves the control on.
func (c *Column) beat() {
	if !c.sweep.on {
		return
	}
	if now, ok := c.setting(c.at.Steps[c.step].Move.Control); !ok || now != c.sweep.last || !c.taught() {
		c.endSweep() // a hand has taken hold of it
		return
	}
	c.sweep.beats++
	c.glide()
}

// glide sets the control to where it stands at this beat. It is an edit; all of
// a way is one step of undo.
func (c *Column) glide() {
	part := float64(c.sweep.beats) / sweepBeats
	c.put(part)
	if c.sweep.last, _ = c.setting(c.at.Steps[c.step].Move.Control); part >= 1 {
		c.endSweep()
	}
}

// put sets the control to a part of its way. Everything else stays as the
// learner has set it.
func (c *Column) put(part float64) {
	at := c.at.Steps[c.step].Move.Control
	p := c.at.At(c.step, part)
	c.session.Do(desk.SetControl(at.Module, at.Name, p.Module(at.Module).Settings[at.Name]))
}

// stand sets the control to A or B by hand.
func (c *Column) stand(part float64) {
	c.sweep.on = false
	c.session.Settle()
	c.put(part)
	c.session.Settle()
	c.Refresh()
}

// part returns how far along its way the control stands, from 0 to 1; ok is
// false where it is off the way, or written in another unit.
func (c *Column) part() (part float64, ok bool) {
	move := c.at.Steps[c.step].Move
	now, there := c.setting(move.Control)
	if !there {
		return 0, false
	}
	control := c.session.Kind(move.Control.Module).Control(move.Control.Name)
	scale := control.Scale(now.Unit)
	if now.Unit != move.From.Unit || scale < 0 {
		return 0, false
	}
	sc := &control.Scales[scale]
	from, to := sc.Fraction(move.From.Value), sc.Fraction(move.To.Value)
	if from == to {
		return 0, false
	}
	part = (sc.Fraction(now.Value) - from) / (to - from)
	return part, part > -1e-6 && part < 1+1e-6
}
