package keys

import (
	"slices"

	"fyne.io/fyne/v2"

	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
)

// Page is the page of keys: it lies over the whole window until it is closed.
type Page struct {
	leaf.Turning
	Close func()
	Hints func()    // shows the hints again that were put away; nil offers it not
	more  []Section // of other parts of the page
	lines float32   // how far it is turned, in ems
	whole bool      // everything is on the page: there is nothing to turn to
}

// NewPage returns the page; more are sections that other views add.
func NewPage(close func(), more ...Section) *Page {
	g := &Page{Close: close, more: more}
	g.Write, g.Key = g.write, g.key
	g.Extend(g)
	return g
}

func (g *Page) key(k fyne.KeyName) bool {
	switch k {
	case fyne.KeyEscape, fyne.KeyF1:
		g.Close()
	case fyne.KeyDown, fyne.KeyPageDown:
		g.turn(-1)
	case fyne.KeyUp, fyne.KeyPageUp:
		g.turn(1)
	default:
		return false
	}
	return true
}

// turns is said where not every key is on the page.
const turns = "the wheel or ↑ ↓ show more"

func (g *Page) turn(n int) {
	g.lines = max(g.lines-3*float32(n), 0)
	g.Refresh()
}

// flow sets lines in columns, one after the other.
type flow struct {
	p           *leaf.Pen
	x, y        float32
	top, bottom float32
	width, gap  float32
}

// room goes to the next column if height does not fit below.
func (f *flow) room(height float32) {
	if f.y+height > f.bottom && f.y > f.top {
		f.x += f.width + f.gap
		f.y = f.top
	}
}

func (g *Page) write(p *leaf.Pen) {
	p.Box(0, 0, p.Width, p.Height, p.Ink.Ground, nil)
	all := p.Place("page", 0, 0, p.Width, p.Height)
	all.Step, all.Unmarked, all.Unlisted = g.turn, true, true
	margin := p.Em * 2.6
	p.Text(look.Title, margin, p.Em*2.9, "The keys")
	word := "Escape closes this page"
	place, _ := p.Word("close", look.Quiet, p.Width-margin-p.Wide(look.Quiet, word), p.Em*2.9, word)
	place.Tap = g.Close
	if g.Hints != nil {
		const again = "show the hints again"
		place, _ = p.Word("hints", look.Quiet, place.X-p.Em*2-p.Wide(look.Quiet, again), p.Em*2.9, again)
		place.Tap = g.Hints
	}
	p.Level(margin, p.Em*3.6, p.Width-2*margin, p.Ink.Line)
	foot := g.writeCautions(p, margin)
	columns := max(min(int((p.Width-margin)/(p.Em*24)), 3), 1)
	gap := p.Em * 2.6
	f := flow{p: p, x: margin, top: p.Em * 4.4, bottom: foot - p.Em, gap: gap,
		width: (p.Width - 2*margin - gap*float32(columns-1)) / float32(columns)}
	sections := append(Sections(), g.more...)
	if g.whole = f.all(sections, columns); g.whole {
		return
	}
	p.Fit(look.Quiet, margin+p.Wide(look.Title, "The keys")+p.Em*1.4, p.Em*2.9, place.X-p.Em*10, turns)
	f.x, f.y = margin, f.top-g.lines*p.Em
	for _, s := range sections {
		f.section(s)
	}
}

// all writes every section whole, each in the first column that has room for
// it; false, and nothing is written, if they do not all fit on the page.
func (f *flow) all(sections []Section, columns int) bool {
	ends := make([]float32, columns)
	for i := range ends {
		ends[i] = f.top
	}
	in := make([]int, len(sections))
	at := make([]float32, len(sections))
	for i, s := range sections {
		height := f.height(s, f.keys(s))
		in[i] = slices.IndexFunc(ends, func(end float32) bool { return end+height <= f.bottom })
		if in[i] < 0 {
			return false
		}
		at[i] = ends[in[i]]
		ends[in[i]] += height + f.p.Em*1.1
	}
	left := f.x
	for i, s := range sections {
		f.x, f.y = left+float32(in[i])*(f.width+f.gap), at[i]
		f.section(s)
	}
	return true
}

// keys returns how wide the keys of a section are, with the room after them.
func (f *flow) keys(s Section) (width float32) {
	for _, l := range s.Lines {
		width = max(width, f.p.Wide(look.Figures, l.Keys)+f.p.Em*1.2)
	}
	return width
}

func (f *flow) section(s Section) {
	p := f.p
	keys := f.keys(s)
	f.room(min(f.height(s, keys), (f.bottom-f.top)*0.6)) // a short section is not torn apart
	f.seen(func() { p.Text(look.Caps, f.x, f.y+p.Em*1.2, s.Title) })
	f.y += p.Em * 1.75
	for _, l := range s.Lines {
		does := look.Quiet.Wrap(l.Does, f.width-keys)
		f.room(p.Em * 1.4 * float32(len(does)))
		for i, part := range does {
			f.seen(func() {
				if i == 0 {
					p.Fit(look.Figures, f.x, f.y+p.Em*1.1, keys-p.Em*0.5, l.Keys)
				}
				p.Text(look.Quiet, f.x+keys, f.y+p.Em*1.1, part)
			})
			f.y += p.Em * 1.4
		}
	}
	f.y += p.Em * 1.1
}

// height returns how high a section is without the room after it.
func (f *flow) height(s Section, keys float32) float32 {
	lines := 0
	for _, l := range s.Lines {
		lines += len(look.Quiet.Wrap(l.Does, f.width-keys))
	}
	return f.p.Em * (1.75 + 1.4*float32(lines))
}

// seen writes what lies between top and bottom and within the page.
func (f *flow) seen(write func()) {
	if f.y >= f.top-1 && f.y+f.p.Em*1.4 <= f.bottom+f.p.Em && f.x < f.p.Width-f.gap {
		write()
	}
}

// writeCautions writes the cautions at the foot and returns where they begin.
func (g *Page) writeCautions(p *leaf.Pen, margin float32) float32 {
	var lines []string
	for _, c := range Cautions() {
		lines = append(lines, look.Emphasis.Wrap(c, p.Width-2*margin)...)
	}
	y := p.Height - p.Em*1.6 - p.Em*1.4*float32(len(lines))
	p.Level(margin, y-p.Em*0.6, p.Width-2*margin, p.Ink.Line)
	for i, line := range lines {
		p.Text(look.Emphasis, margin, y+p.Em*(1+1.4*float32(i)), line)
	}
	return y - p.Em*0.6
}
