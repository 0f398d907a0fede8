package ruler

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"lampblack/app/desk"
	"lampblack/app/window/look"
	"lampblack/patch"
)

// Rulers is the panel below the sheet: the rulers of the chosen module, or of
// the chosen cord's depth.
type Rulers struct {
	widget.BaseWidget
	session *desk.Session

	// OnKey gets the keys that no ruler has a use for; see Ruler.OnKey. It is
	// set before anything is chosen.
	OnKey func(ev *fyne.KeyEvent, down bool)

	shown   shown
	rulers  []*Ruler
	table   *Table // of the rows that the chosen module has, or nil
	title   *look.Text
	kind    *look.Text
	explain *look.Text
	about   string // what the explaining line says when no control is explained
	more    *helpMark
	help    bool
	turning *turnMark
	scroll  *window
	column  *fyne.Container
	stops   []func()
	fresh   int // beats until the ranges begin again, after something was set
}

// settleBeats is how many beats a control takes to glide to a new setting. The
// ranges that modulation has swept begin anew then: the glide is not a sweep.
const settleBeats = 10

// shown is what the panel was built for; a change of it builds it anew.
type shown struct {
	module, kind string
	from, to     patch.Socket
	help         bool
	em           float32
	clip         string
	controls     int // how many are shown: a mixer grows
}

// NewRulers returns the panel.
func NewRulers(s *desk.Session) *Rulers {
	p := &Rulers{session: s}
	p.title = look.NewText(look.Caps, "")
	p.kind = look.NewText(look.Quiet, "")
	p.explain = look.NewText(look.Quiet, "").Cutting()
	p.more = newHelpMark(p.toggleHelp)
	p.turning = newTurnMark(p)
	p.column = container.New(&rowsLayout{})
	p.scroll = newWindow(p.column, p.turned)
	p.scroll.OnScrolled = func(fyne.Position) { p.turning.Refresh() }
	p.ExtendBaseWidget(p)
	p.stops = []func(){s.Watch(desk.Select, p.follow), s.Watch(desk.Patch, p.changed), look.Live.Watch(p.beat)}
	p.build()
	return p
}

// Stop ends watching the session.
func (p *Rulers) Stop() {
	for _, stop := range append(p.stops, p.drop) {
		stop()
	}
	p.stops = nil
}

func (p *Rulers) changed() {
	p.fresh = settleBeats
	p.follow()
}

func (p *Rulers) beat() {
	if p.fresh == 0 {
		return
	}
	if p.fresh--; p.fresh == 0 {
		p.session.ClearMarks()
	}
}

func (p *Rulers) drop() {
	for _, r := range p.rulers {
		r.Stop()
	}
	p.rulers = nil
	if p.table != nil {
		p.table.Stop()
		p.table = nil
	}
}

// Shown returns the rulers of the panel, from top to bottom.
func (p *Rulers) Shown() []*Ruler { return p.rulers }

// Keyboard returns what takes the keyboard first in the panel, nil if nothing
// does.
func (p *Rulers) Keyboard() fyne.Focusable {
	switch {
	case p.table != nil:
		return p.table
	case len(p.rulers) > 0:
		return p.rulers[0]
	}
	return nil
}

// Help tells whether the help of the chosen kind is open.
func (p *Rulers) Help() bool { return p.help }

func (p *Rulers) toggleHelp() {
	p.help = !p.help
	p.follow()
	p.scroll.ScrollToTop()
}

func (p *Rulers) wanted() shown {
	w := shown{em: look.Em()}
	sel := p.session.Selection()
	if cords := p.session.Patch().Cords; sel.Cord >= 0 && sel.Cord < len(cords) {
		w.from, w.to = cords[sel.Cord].From, cords[sel.Cord].To
		return w
	}
	w.module, w.help = p.session.Chosen(), p.help
	if k := p.session.ShownKind(w.module); k != nil {
		w.kind, w.controls = k.Name, len(k.Controls)
		if m := p.session.Patch().Module(w.module); m.Recording != nil {
			w.clip = m.Recording.Name
		}
	}
	return w
}

// follow builds the panel anew if something else is chosen.
func (p *Rulers) follow() {
	if p.wanted() != p.shown {
		p.build()
	}
}

func (p *Rulers) build() {
	p.drop()
	w := p.wanted()
	if w.module != p.shown.module && p.help {
		p.help, w.help = false, false
	}
	p.shown = w
	p.column.Objects = nil
	switch {
	case w.to != (patch.Socket{}):
		p.buildCord(w)
	case w.kind != "":
		p.buildModule(w)
	default:
		p.head("", "", "Choose a module or a cord on the sheet: its controls are set here.")
		p.more.Hide()
	}
	p.align()
	p.scroll.ScrollToTop()
	p.column.Refresh()
	p.scroll.Refresh()
	p.Refresh()
}

func (p *Rulers) head(title, kind, about string) {
	about = look.Shown(about)
	p.about = about
	p.title.SetText(title)
	p.kind.SetText(kind)
	p.explain.SetText(about)
}

func (p *Rulers) buildModule(w shown) {
	k := p.session.ShownKind(w.module)
	p.head(w.module, k.Title, look.Sentence(k.Help))
	p.more.Show()
	p.more.open(w.help)
	if w.help {
		p.column.Add(newHelpText(k.Help))
	}
	if k.Symbol == "recording" {
		p.column.Add(look.NewText(look.Quiet, recordingLine(w.clip)).Cutting())
	}
	if k.Table != nil {
		p.addTable(NewTable(p.session, w.module))
	}
	for _, c := range k.Controls {
		p.add(NewRuler(p.session, w.module, c.Name))
	}
	if len(k.Controls) == 0 {
		p.column.Add(look.NewText(look.Quiet, "Nothing is set here: it has no controls.").Cutting())
	}
}

func recordingLine(name string) string {
	if name == "" {
		return "No recording yet: drop a WAV, FLAC, Ogg or MP3 file on the module, or press Ctrl+O."
	}
	return "plays " + name
}

func (p *Rulers) buildCord(w shown) {
	p.more.Hide()
	k := p.session.Kind(w.to.Module)
	if k == nil || k.Control(w.to.Name) == nil {
		p.head(w.from.String()+" → "+w.to.String(), "cord", "Into an audio input a cord is added as it is: it has no depth.")
		return
	}
	p.head(w.from.String()+" → "+w.to.String(), "cord", "A cord into a control moves it by its signal times the depth.")
	p.add(NewDepthRuler(p.session, w.from, w.to))
}

// sayHelp explains a control; "" goes back to what the kind does.
func (p *Rulers) sayHelp(help string) {
	if help == "" {
		help = p.about
	}
	p.explain.SetText(look.Shown(help))
}

func (p *Rulers) addTable(t *Table) {
	p.table = t
	t.OnExplain = p.sayHelp
	t.OnFocus = func() { p.reveal(t) }
	p.column.Add(t)
}

func (p *Rulers) add(r *Ruler) {
	r.OnKey = p.OnKey
	r.OnExplain = p.sayHelp
	r.OnTaller = func() {
		p.column.Refresh()
		p.Refresh()
	}
	r.OnFocus = func() { p.reveal(r) }
	r.OnTurn = p.Turn
	p.rulers = append(p.rulers, r)
	p.column.Add(r)
}

// align gives all names and all values the same room.
func (p *Rulers) align() {
	var name, value float32 = 6 * look.Em(), 0
	for _, r := range p.rulers {
		n, v := r.natural()
		name, value = max(name, n+0.5*look.Em()), max(value, v)
	}
	for _, r := range p.rulers {
		r.nameWidth, r.valueWidth = name, value
		r.Refresh()
	}
}

// CreateRenderer is fyne's.
func (p *Rulers) CreateRenderer() fyne.WidgetRenderer { return &panelRenderer{p} }

type panelRenderer struct{ p *Rulers }

func (r *panelRenderer) Layout(size fyne.Size) {
	p, em := r.p, look.Em()
	x, line := float32(0.5)*em, look.Caps.Height()
	top := 0.5 * em
	put := func(o fyne.CanvasObject, width float32) {
		o.Move(look.Whole(fyne.NewPos(x, top+line-o.MinSize().Height))) // larger and smaller letters share their foot, nearly
		o.Resize(fyne.NewSize(max(width, 0), o.MinSize().Height))
		if width > 0 {
			x += width + em
		}
	}
	put(p.title, p.title.MinSize().Width)
	put(p.kind, p.kind.MinSize().Width)
	turn := p.turning.MinSize().Width
	put(p.explain, size.Width-x-3*em-turn)
	p.turning.Move(look.Whole(fyne.NewPos(size.Width-3*em-turn, top)))
	p.turning.Resize(fyne.NewSize(turn, line))
	p.more.Move(fyne.NewPos(size.Width-2.5*em, top))
	p.more.Resize(fyne.NewSize(1.5*em, line))
	head := top + line + 0.6*em
	p.scroll.Move(look.Whole(fyne.NewPos(0, head)))
	p.fitTable(size.Height - head)
	p.scroll.Resize(fyne.NewSize(size.Width, p.wholeRows(size.Width, max(size.Height-head, 0))))
	p.turning.Refresh()
}

func (r *panelRenderer) MinSize() fyne.Size {
	return fyne.NewSize(24*look.Em(), 6*look.Em())
}

func (r *panelRenderer) Refresh() {
	if r.p.shown.em != look.Em() {
		r.p.build() // the text size has changed: columns have other widths
		return
	}
	r.Layout(r.p.Size())
	canvas.Refresh(r.p)
}

func (r *panelRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.p.title, r.p.kind, r.p.explain, r.p.turning, r.p.more, r.p.scroll}
}

// Destroy is called when the panel has been out of sight for a minute: it goes on
// watching.
func (r *panelRenderer) Destroy() {}
