// Package contents is the contents page of the notebook: job, cue, take.
//
//	session contents or hits -> rows -> leaf; find field below
//
// Every row can be reached with the mouse and the keyboard; the chosen take
// unfolds what can be done with it. It keeps nothing but which row is chosen.
// Held by tests: a story in which a take is found, recalled, heard and proved.
package contents

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"lampblack/app/desk"
	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
	"lampblack/notebook"
)

// Column is the widget.
type Column struct {
	widget.BaseWidget
	leaf.Ends
	session *desk.Session
	list    *leaf.Turning
	foot    *leaf.Leaf
	find    *leaf.Field
	write   *leaf.Field // the line in which a job or cue is written
	rows    []row
	first   int    // the row at the top
	chosen  string // the key of the chosen row
	writing writing
	query   string
	hits    []notebook.Hit
	playing notebook.TakeID // whose audition sounds
	fault   error           // why the search failed

	Picture func(notebook.TakeID) // asks where, and draws the page of a take; may be nil
}

// writing says what the line is for.
type writing struct {
	what string // "", "job", "cue", "edit job", "edit cue"
	note string // of the job, which stays
	job  notebook.JobID
	cue  notebook.Cue
}

// New returns the contents of a session's notebook.
func New(s *desk.Session) *Column {
	c := &Column{session: s}
	c.list = leaf.NewTurning(c.writeList)
	c.list.Key = c.key
	c.list.Focus = c.come
	c.foot = leaf.New(c.writeFoot)
	c.find = leaf.NewField(false, "find words, names, tags")
	c.find.OnChanged = c.search
	c.find.Escape = c.endSearch
	c.find.Enter = func(string) { c.focusList() }
	c.write = leaf.NewField(false, "")
	c.write.Enter = c.written
	c.write.Escape = c.endWriting
	for _, t := range []desk.Topic{desk.Contents, desk.Proofs, desk.Notices} {
		c.Until(s.Watch(t, c.list.Refresh))
	}
	c.Until(look.Live.Watch(c.beat))
	c.ExtendBaseWidget(c)
	return c
}

// beat sees that an audition has come to its end.
func (c *Column) beat() {
	if now := c.session.AuditionPlaying(); now != c.playing {
		c.playing = now
		c.list.Refresh()
	}
}

// Find gives the keyboard to the find field.
func (c *Column) Find() {
	if can := fyne.CurrentApp().Driver().CanvasForObject(c); can != nil {
		can.Focus(c.find)
	}
}

// List is the leaf with the rows; tests press its places.
func (c *Column) List() *leaf.Leaf { return &c.list.Leaf }

// Keyboard is what takes the keyboard for the rows.
func (c *Column) Keyboard() fyne.Focusable { return c.list }

// Search finds takes, as if the words had been typed into the find field.
func (c *Column) Search(query string) { c.find.SetText(query) }

func (c *Column) focusList() {
	if can := fyne.CurrentApp().Driver().CanvasForObject(c); can != nil {
		can.Focus(c.list)
	}
}

func (c *Column) search(query string) {
	c.query, c.first = query, 0
	c.hits, c.fault = nil, nil
	if query != "" {
		c.hits, c.fault = c.session.Search(query)
	}
	c.list.Refresh()
}

func (c *Column) endSearch() {
	c.find.SetText("")
	c.focusList()
}

// CreateRenderer is fyne's.
func (c *Column) CreateRenderer() fyne.WidgetRenderer { return &renderer{c} }

type renderer struct{ c *Column }

// Layout leaves the foot two lines.
func (r *renderer) Layout(size fyne.Size) {
	foot := look.Em() * 3.4
	r.c.list.Resize(fyne.NewSize(size.Width, max(size.Height-foot, 0)))
	r.c.foot.Move(fyne.NewPos(0, size.Height-foot))
	r.c.foot.Resize(fyne.NewSize(size.Width, foot))
}

func (r *renderer) MinSize() fyne.Size { return fyne.NewSize(look.Em()*12, look.Em()*12) }

func (r *renderer) Refresh() {
	r.c.list.Refresh()
	r.c.foot.Refresh()
}

func (r *renderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.c.list, r.c.foot} }

func (r *renderer) Destroy() {}

func (c *Column) writeFoot(p *leaf.Pen) {
	margin := p.Em * 1.3
	p.Put(c.find.Object(), margin, p.Em*0.7, p.Width-2*margin, p.Em*1.7)
	p.Level(margin, p.Em*2.35, p.Width-2*margin, p.Ink.Line)
}
