package window

import (
	"fyne.io/fyne/v2"

	"lampblack/app/desk"
	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
	"lampblack/app/window/told"
)

// offer is the line over the sheet on which work that was not kept is offered,
// and a newcomer is told where to begin. It takes no room when it is empty.
type offer struct {
	leaf.Leaf
	leaf.Ends
	session *desk.Session
	relay   func()
	taught  func() bool // a lesson stands beside it: no other hint is needed
	tall    bool
}

const firstHint = "Space plays; drag a ruler below and listen; click an output to measure there; F10: lessons; F1: every key"

func newOffer(s *desk.Session, relay func()) *offer {
	o := &offer{session: s, relay: relay, taught: func() bool { return false }}
	o.Write = o.write
	o.Extend(o)
	for _, t := range []desk.Topic{desk.Patch, desk.Contents} {
		o.Until(s.Watch(t, o.changed))
	}
	return o
}

// changed lays the page anew when the line comes or goes.
func (o *offer) changed() {
	if o.wanted() != o.tall {
		o.relay()
		return
	}
	if o.tall {
		o.Refresh()
	}
}

func (o *offer) wanted() bool {
	_, found := o.session.Draft()
	return found || told.Wanted("first") && !o.taught()
}

func (o *offer) height(float32) float32 {
	o.tall = o.wanted()
	if !o.tall {
		return 0
	}
	return look.Em() * 2.1
}

func (o *offer) write(p *leaf.Pen) {
	if p.Height < p.Em {
		return
	}
	x, base := p.Em*1.3, p.Em*1.4
	draft, found := o.session.Draft()
	if !found {
		told.Hint(p, "first", firstHint, x, base, p.Width-2*x, o.relay)
		p.Level(0, p.Height-1, p.Width, p.Ink.Faint)
		return
	}
	const take, aside = "take it up", "set it aside"
	room := p.Width - 2*x - p.Wide(look.Body, take+aside) - p.Em*2.4
	text := "work from " + draft.Saved.Local().Format("Monday 15:04") + " was not kept"
	end := p.Fit(look.Emphasis, x, base, room, text)
	word, end := p.Word(take, look.Body, end+p.Em*1.2, base, take)
	word.Tap = o.session.TakeUpDraft
	word, _ = p.Word(aside, look.Body, end+p.Em*1.2, base, aside)
	word.Tap = o.session.SetAsideDraft
	p.Level(0, p.Height-1, p.Width, p.Ink.Line)
}

var _ fyne.Widget = (*offer)(nil)
