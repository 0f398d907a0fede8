package sheet

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"lampblack/app/desk"
	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
	"lampblack/patch"
	"lampblack/patch/engine"
)

// Sheet is the widget. It draws from the session; what it holds itself is where
// the eye and the hand are.
type Sheet struct {
	widget.BaseWidget
	session *desk.Session

	layout  *layout
	voices  engine.Voices
	view    view
	fitted  bool // the view has been fitted to the patch that is shown
	owned   bool // somebody has chosen the view: a new size of the window keeps it
	hover   hit
	hand    hand
	open    string // the module that shows all its controls while a cord is drawn
	cordsOf string // the module through whose cords Page Up and Page Down go

	focused bool
	top     *leaf.Leaf
	list    *list      // of kinds to add or sockets to join, nil if none is open
	naming  *nameField // while a module is renamed, else nil
	traces  map[patch.Socket]*signal
	drawn   *drawing
	stops   []func()
}

// New returns the sheet of a session.
func New(s *desk.Session) *Sheet {
	sh := &Sheet{session: s, hover: hit{cord: -1}, traces: map[patch.Socket]*signal{}}
	sh.view.zoom = 1
	sh.top = leaf.New(sh.writeTop)
	sh.ExtendBaseWidget(sh)
	sh.relay()
	sh.stops = []func(){
		s.Watch(desk.Patch, sh.patchChanged),
		s.Watch(desk.Select, sh.update),
		s.Watch(desk.Probes, sh.update),
		s.Watch(desk.Notices, sh.retop),
		look.Live.WatchClosely(sh.beat),
	}
	return sh
}

// Stop ends watching the session.
func (s *Sheet) Stop() {
	for _, stop := range s.stops {
		stop()
	}
	s.stops = nil
}

// Under returns the module that is seen at a place of the canvas, "" if there
// is none, and the free place of the sheet nearest below.
func (s *Sheet) Under(pos fyne.Position) (module string, at patch.Point) {
	pos = pos.Subtract(fyne.CurrentApp().Driver().AbsolutePositionForObject(s))
	p := s.view.under(pos)
	return s.layout.at(p, s.reach()).socket.Module, s.layout.freePlace(p)
}

// reach is how much larger sockets and cords are to the hand, so that they can
// be hit however small they are.
func (s *Sheet) reach() float64 { return max(1, 0.8/s.view.zoom) }

// typeset measures in sheet units: at the text size of body text.
func setting() typeset {
	unit := look.Em() / look.TextSize
	styles := map[lettering]look.Style{nameLetters: look.Caps, titleLetters: look.Quiet, labelLetters: look.Quiet, valueLetters: look.Figures}
	scales := map[lettering]float32{nameLetters: 1, titleLetters: titleScale, labelLetters: 1, valueLetters: valueScale}
	return typeset{
		measure: func(l lettering, text string) float64 {
			return float64(styles[l].MeasureAt(text, scales[l]).Width / unit)
		},
		shown: look.Shown,
	}
}

// relay lays the patch out again.
func (s *Sheet) relay() {
	before := s.layout
	s.voices = s.session.Voices()
	s.layout = layOut(s.session.Patch(), s.kindOf, s.open, setting(), before)
	if before != nil && !s.sharesModules(before) {
		s.fitted, s.owned = false, false // another patch has come to the bench
	}
	s.dropTraces()
}

// sharesModules tells whether this is the same work as before: most modules of
// the smaller patch are in the other (many patches have an "out" and "keys").
func (s *Sheet) sharesModules(before *layout) bool {
	shared := 0
	for _, b := range before.blocks {
		if s.layout.block(b.name) != nil {
			shared++
		}
	}
	if len(before.blocks) == 0 {
		return len(s.layout.blocks) < 2
	}
	return 2*shared >= min(len(before.blocks), len(s.layout.blocks))
}

func (s *Sheet) patchChanged() {
	s.relay()
	if s.naming != nil && s.layout.block(s.naming.module) == nil {
		s.naming = nil
	}
	s.update()
}

// fitOnce fits a patch that has come to the bench into the view.
func (s *Sheet) fitOnce() {
	if s.fitted || s.view.size.Width <= 0 || len(s.layout.blocks) == 0 {
		return
	}
	s.fitted = true
	s.view = s.view.fitted(s.layout.bounds())
}

// Fit shows the whole patch.
func (s *Sheet) Fit() {
	s.view = s.view.fitted(s.layout.bounds())
	s.owned = false
	s.update()
}

// Zoom enlarges by factor about the middle of the view.
func (s *Sheet) Zoom(factor float64) {
	size := s.Size()
	s.look(s.view.zoomed(factor, fyne.NewPos(size.Width/2, (size.Height+float32(s.view.top))/2)))
}

// look shows what somebody wants to see.
func (s *Sheet) look(v view) {
	s.view, s.owned = v, true
	s.update()
}

// update draws again after a change.
func (s *Sheet) update() {
	if s.drawn != nil {
		s.drawn.update()
	}
	s.retop()
}

// beat reads the live signals of the cords that are seen.
func (s *Sheet) beat() {
	if s.drawn != nil && s.Visible() {
		s.drawn.beat()
	}
}

// dropTraces lets go of signals whose cords are gone.
func (s *Sheet) dropTraces() {
	alive := map[patch.Socket]bool{}
	for _, c := range s.layout.cords {
		alive[c.cord.From] = true
	}
	for at := range s.traces {
		if !alive[at] {
			delete(s.traces, at)
		}
	}
}

// signal returns the live signal of an output.
func (s *Sheet) signal(at patch.Socket) *signal {
	if sig := s.traces[at]; sig != nil {
		return sig
	}
	tap := s.session.Tap(at)
	if tap == nil {
		return nil
	}
	sig := &signal{at: at, from: tap}
	s.traces[at] = sig
	return sig
}

// CreateRenderer is fyne's.
func (s *Sheet) CreateRenderer() fyne.WidgetRenderer {
	s.drawn = newDrawing(s)
	return s.drawn
}
