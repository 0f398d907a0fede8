package window

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"lampblack/app/window/look"
)

// page lays the parts of the window: contents at the left; take, sheet, rulers
// and memory in the middle; instruments and note at the right. What a person
// has dragged is kept in ems, so that it follows the size of the text.
type page struct {
	widget.BaseWidget
	contents, lessons, foot         fyne.CanvasObject // lessons take the place of the contents, or are hidden
	line, offer, sheet, rulers, mem fyne.CanvasObject
	instruments, note               fyne.CanvasObject
	large                           fyne.CanvasObject // an instrument in the place of the sheet, or hidden
	offerHeight                     func(width float32) float32
	left, right, low, ruled, upper  share
	taught                          share // of the lessons: a page to read needs more room than a list
	dividers                        []*divider
}

// share is a width or height that can be dragged.
type share struct {
	name        string  // in the preferences
	part        float32 // of the whole, where nobody has dragged
	least, most float32 // in ems
	dragged     float32 // in ems; 0 is nobody
	now         float32 // in fyne's units, as laid out last
}

// of returns the length that the share takes of all.
func (s *share) of(all float32) float32 {
	em := look.Em()
	want := s.part * all
	if s.dragged > 0 {
		want = s.dragged * em
	}
	s.now = min(max(want, s.least*em), max(s.most*em, s.least*em))
	return s.now
}

func newPage() *page {
	g := &page{
		left:   share{name: "contents width", part: 0.175, least: 11, most: 30},
		taught: share{name: "lessons width", part: 0.245, least: 17, most: 40},
		right:  share{name: "instruments width", part: 0.258, least: 19, most: 60},
		low:    share{name: "memory height", part: 0.215, least: 11, most: 40},
		ruled:  share{name: "rulers height", part: 0.265, least: 7, most: 40},
		upper:  share{name: "instruments height", part: 0.6, least: 22, most: 80},
	}
	g.load()
	for _, d := range []struct {
		s    *share
		up   bool
		sign float32
	}{{nil, true, 1}, {&g.right, true, -1}, {&g.low, false, -1}, {&g.ruled, false, -1}, {&g.upper, false, 1}} {
		g.dividers = append(g.dividers, newDivider(d.up, func(by float32) {
			s := d.s
			if s == nil {
				s = g.leftShare()
			}
			s.dragged = min(max((s.now+d.sign*by)/look.Em(), s.least), s.most)
			g.Refresh()
		}, g.save))
	}
	g.ExtendBaseWidget(g)
	return g
}

func (g *page) shares() []*share {
	return []*share{&g.left, &g.taught, &g.right, &g.low, &g.ruled, &g.upper}
}

// leftShare is the share of what stands at the left now.
func (g *page) leftShare() *share {
	if g.lessons.Visible() {
		return &g.taught
	}
	return &g.left
}

func (g *page) load() {
	for _, s := range g.shares() {
		if v := float32(preferences().Float(s.name)); v > 0 && v < 500 {
			s.dragged = v
		}
	}
}

func (g *page) save() {
	for _, s := range g.shares() {
		if s.dragged > 0 {
			preferences().SetFloat(s.name, float64(s.dragged))
		}
	}
}

func preferences() fyne.Preferences { return fyne.CurrentApp().Preferences() }

// CreateRenderer is fyne's.
func (g *page) CreateRenderer() fyne.WidgetRenderer { return &pageRenderer{g} }

type pageRenderer struct{ g *page }

func (r *pageRenderer) Layout(size fyne.Size) {
	g, em := r.g, look.Em()
	side := g.leftShare()
	left, right := side.of(size.Width), g.right.of(size.Width)
	middle := size.Width - left - right
	if least := 30 * em; middle < least { // a narrow window takes from both sides
		short := (least - middle) / 2
		left, right = max(left-short, side.least*em), max(right-short, g.right.least*em)
		middle = size.Width - left - right
	}
	foot := em * 2.3
	put(g.contents, 0, 0, left, size.Height-foot)
	put(g.lessons, 0, 0, left, size.Height-foot)
	put(g.foot, 0, size.Height-foot, left, foot)
	r.layMiddle(left, middle, size.Height)
	upper := min(g.upper.of(size.Height), size.Height-15*em)
	g.upper.now = upper
	put(g.instruments, left+middle, 0, right, upper)
	put(g.note, left+middle, upper, right, size.Height-upper)
	put(g.dividers[0], left-reach, 0, 2*reach, size.Height)
	put(g.dividers[1], left+middle-reach, 0, 2*reach, size.Height)
	put(g.dividers[4], left+middle, upper-reach, right, 2*reach)
}

func (r *pageRenderer) layMiddle(x, width, height float32) {
	g, em := r.g, look.Em()
	line := em * 2.9
	offer := g.offerHeight(width)
	low := min(g.low.of(height), height-line-offer-14*em)
	ruled := min(g.ruled.of(height), height-line-offer-low-7*em)
	g.low.now, g.ruled.now = low, ruled
	if g.large.Visible() { // it has the place of the sheet and of the memory; the rulers stay at hand
		low = 0
	}
	sheet := height - line - offer - low - ruled
	put(g.line, x, 0, width, line)
	put(g.offer, x, line, width, offer)
	put(g.sheet, x, line+offer, width, sheet)
	put(g.large, x, line+offer, width, sheet)
	put(g.rulers, x+em*0.8, line+offer+sheet+1, width-em*1.6, ruled-1)
	put(g.mem, x, height-low, width, low)
	put(g.dividers[2], x, height-low-reach, width, 2*reach)
	put(g.dividers[3], x, line+offer+sheet-reach, width, 2*reach)
}

func whole(v float32) float32 { return float32(math.Round(float64(v))) }

func put(o fyne.CanvasObject, x, y, width, height float32) {
	// Whole units: what lies between two pixels is blurred by a graphics card.
	left, top := whole(x), whole(y)
	o.Move(fyne.NewPos(left, top))
	o.Resize(fyne.NewSize(max(whole(x+width)-left, 0), max(whole(y+height)-top, 0)))
}

func (r *pageRenderer) MinSize() fyne.Size {
	em := look.Em()
	return fyne.NewSize(60*em, 38*em)
}

func (r *pageRenderer) Refresh() {
	r.Layout(r.g.Size())
	for _, o := range r.Objects() {
		o.Refresh()
	}
}

func (r *pageRenderer) Objects() []fyne.CanvasObject {
	g := r.g
	all := []fyne.CanvasObject{g.contents, g.lessons, g.foot, g.line, g.offer, g.sheet, g.large, g.rulers, g.mem, g.instruments, g.note}
	for _, i := range []int{2, 3, 4, 0, 1} { // the upright ones lie over the level ones
		if i == 2 && g.large.Visible() {
			continue // there is no memory to be dragged
		}
		all = append(all, g.dividers[i])
	}
	return all
}

func (r *pageRenderer) Destroy() {}
