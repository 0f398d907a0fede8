package sheet

import (
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
)

// narrow shows the items in which every word that is typed occurs, and goes to
// the one that was most likely meant.
func (l *list) narrow(typed string) {
	words := strings.Fields(strings.ToLower(typed))
	var hits []item
	best, likeliest := 0, 0
	for _, it := range l.items {
		if n := it.match(words); n > 0 {
			if n > likeliest {
				best, likeliest = len(hits), n
			}
			hits = append(hits, it)
		}
	}
	l.put(hits)
	l.at = best
	if len(words) == 0 {
		l.at = 0
	}
	l.reveal()
	l.sheet.update()
	l.leaf.Refresh()
}

// match tells how well an item answers to what is typed: 0 not at all, most if
// its name is just that.
func (it *item) match(words []string) int {
	name, more := strings.ToLower(it.name), strings.ToLower(it.head+" "+it.words)
	for _, w := range words {
		if !strings.Contains(name+" "+more, w) {
			return 0
		}
	}
	if len(words) == 0 {
		return 1
	}
	switch typed := strings.Join(words, " "); {
	case name == typed || it.words == typed || strings.HasPrefix(it.words, typed+" "):
		return 5
	case strings.HasPrefix(name, typed):
		return 4
	case slices.ContainsFunc(words, func(w string) bool { return strings.Contains(" "+name, " "+w) }):
		return 3
	case slices.ContainsFunc(words, func(w string) bool { return strings.Contains(name, w) }):
		return 2
	}
	return 1
}

// put shows items, each heading once over what stands under it.
func (l *list) put(items []item) {
	l.shown, l.rows, l.at, l.first = items, l.rows[:0], 0, 0
	head := ""
	for i, it := range items {
		if it.head != head {
			head = it.head
			l.rows = append(l.rows, listRow{head, i})
		}
		l.rows = append(l.rows, listRow{item: i})
	}
}

// heads returns the headings of all items, in their order.
func (l *list) heads() []string {
	var heads []string
	for _, it := range l.items {
		if n := len(heads); it.head != "" && (n == 0 || heads[n-1] != it.head) {
			heads = append(heads, it.head)
		}
	}
	return heads
}

func (l *list) indexed() bool {
	n := len(l.heads())
	return n > 1 && n <= mostHeads && l.size.Width >= 34*look.Em()
}

// step goes by so many items; headings are passed over.
func (l *list) step(by int) { l.goTo(l.at + by) }

func (l *list) goTo(item int) {
	l.at = min(max(item, 0), max(len(l.shown)-1, 0))
	l.reveal()
	l.leaf.Refresh()
}

// stepHead goes to what stands first under the next heading, or the one before.
func (l *list) stepHead(back bool) {
	if len(l.shown) == 0 {
		return
	}
	var firsts []int
	for _, r := range l.rows {
		if r.head != "" {
			firsts = append(firsts, r.item)
		}
	}
	if len(firsts) == 0 {
		return
	}
	n := 0 // of the heading over the chosen item
	for i, first := range firsts {
		if first <= l.at {
			n = i
		}
	}
	if n++; back {
		n -= 2
	}
	l.goToHead(l.shown[firsts[(n+len(firsts))%len(firsts)]].head)
}

// goToHead goes to what stands first under a heading, if anything does.
func (l *list) goToHead(head string) {
	if i := slices.IndexFunc(l.shown, func(it item) bool { return it.head == head }); i >= 0 {
		l.goTo(i)
		for r, row := range l.rows {
			if row.head == head { // all that stands under it comes into view
				l.first = max(min(r, len(l.rows)-l.lines()), 0)
			}
		}
		l.leaf.Refresh()
	}
}

// reveal turns the list just so far that the chosen item is seen, and its
// heading if it is the first one.
func (l *list) reveal() {
	for r, row := range l.rows {
		if row.head == "" && row.item == l.at {
			top := r
			for top > 0 && l.rows[top-1].head != "" {
				top--
			}
			l.first = min(max(l.first, r-l.lines()+1), top)
			return
		}
	}
	l.first = 0
}

func (l *list) scroll(dy float32) {
	l.first = min(max(l.first-int(dy/10), 0), max(len(l.rows)-l.lines(), 0))
	l.leaf.Refresh()
}

// write sets the title, the headings at the left and the rows.
func (l *list) write(p *leaf.Pen) {
	em := p.Em
	p.Text(look.Caps, em, 1.4*em, l.title)
	if len(l.shown) == 0 {
		p.Text(look.Quiet, em, (listHead+1)*em, "nothing is called that")
	}
	left := float32(0)
	if l.indexed() {
		left = listIndex * em
		l.writeIndex(p, left)
	}
	for i := range l.lines() {
		if n := l.first + i; n < len(l.rows) {
			l.writeRow(p, l.rows[n], left, (listHead-0.3+float32(i)*listLine)*em)
		}
	}
	l.writeTurn(p)
}

// writeTurn marks at the right edge which part of the rows is seen.
func (l *list) writeTurn(p *leaf.Pen) {
	all, seen := float32(len(l.rows)), float32(l.lines())
	if all <= seen {
		return
	}
	top, height := (listHead-0.3)*p.Em, seen*listLine*p.Em
	p.Upright(p.Width-0.35*p.Em, top, height, p.Ink.Faint)
	p.Box(p.Width-0.35*p.Em-1, top+height*float32(l.first)/all, 3, height*seen/all, p.Ink.Line, nil)
}

// writeIndex lists the headings; the one that the chosen item stands under is
// marked, and those under which nothing is left are quiet.
func (l *list) writeIndex(p *leaf.Pen, width float32) {
	em := p.Em
	p.Upright(width, (listHead-0.3)*em, p.Height-(listHead+0.3)*em, p.Ink.Line)
	now := ""
	if l.at < len(l.shown) {
		now = l.shown[l.at].head
	}
	for i, head := range l.heads() {
		y := (listHead - 0.3 + float32(i)*listLine) * em
		if y+listLine*em > p.Height {
			return
		}
		colour := p.Ink.Drawn
		if !slices.ContainsFunc(l.shown, func(it item) bool { return it.head == head }) {
			colour = p.Ink.Quiet
		}
		if head == now {
			p.Box(0.35*em, y+0.2*em, 2, (listLine-0.4)*em, p.Ink.Drawn, nil)
		}
		p.Tinted(look.Quiet, colour, em, y+1.15*em, look.Quiet.Fit(head, width-1.4*em, 1))
		place := p.Place("to "+head, 0, y, width, listLine*em)
		place.Unlisted = true
		place.Tap = func() { l.goToHead(head) }
	}
}

func (l *list) writeRow(p *leaf.Pen, r listRow, left, y float32) {
	em := p.Em
	if r.head != "" {
		end := p.Text(look.Caps, left+em, y+1.2*em, r.head)
		p.Level(end+0.8*em, y+0.95*em, p.Width-end-1.8*em, p.Ink.Faint)
		return
	}
	it := l.shown[r.item]
	indent := left + em
	if it.head != "" {
		indent += em
	}
	if r.item == l.at {
		p.Box(left+1, y, p.Width-left-0.8*em, listLine*em, p.Ink.Wash, nil)
		p.Box(left+0.4*em, y+0.2*em, 2, (listLine-0.4)*em, p.Ink.Drawn, nil)
	}
	colour, detail := p.Ink.Drawn, it.detail
	if it.why != "" {
		colour, detail = p.Ink.Quiet, it.why
	}
	end := p.Tinted(look.Body, colour, indent, y+1.15*em, look.Body.Fit(it.name, p.Width-indent-1.5*em, 1))
	x := max(end+em, left+l.names*em)
	if room := p.Width - x - 1.4*em; room > 5*em {
		p.Fit(look.Quiet, x, y+1.15*em, room, look.Shown(detail))
	}
	place := p.Place(it.head+" / "+it.name, left, y, p.Width-left, listLine*em)
	place.Unmarked, place.Unlisted = true, true
	place.Tap = func() {
		l.at = r.item
		l.take()
	}
}

// shifted tells whether Shift is held.
func shifted() bool { return held()&fyne.KeyModifierShift != 0 }
