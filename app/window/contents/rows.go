package contents

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"

	"lampblack/app/desk"
	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
	"lampblack/app/window/told"
	"lampblack/notebook"
)

// row is one line of the list, or a few that belong together.
type row struct {
	key    string  // unique; "" can't be chosen
	height float32 // in ems
	write  func(p *leaf.Pen, y float32)
	enter  func() // Enter or a double press
	take   notebook.TakeID
	cue    notebook.CueID
}

// listRows returns what is to be seen: hits while something is searched for,
// else jobs, cues and takes.
func (c *Column) listRows(p *leaf.Pen) []row {
	var rows []row
	if h := told.Height(c.session, desk.AtContents, p.Width-2*margin(p)); h > 0 {
		rows = append(rows, row{height: h/p.Em + 0.6, write: func(p *leaf.Pen, y float32) {
			told.Notices(p, c.session, desk.AtContents, margin(p), y+p.Em*0.3, p.Width-2*margin(p))
		}})
	}
	if c.query != "" {
		return append(rows, c.hitRows()...)
	}
	if !c.session.HasNotebook() {
		return rows
	}
	jobs := c.session.Contents()
	for _, job := range jobs {
		rows = append(rows, c.jobRow(job))
		for _, cue := range job.Cues {
			rows = append(rows, c.cueRow(cue))
			for i, take := range cue.Takes {
				rows = append(rows, c.takeRow(take, i == len(cue.Takes)-1))
			}
		}
		rows = append(rows, c.addRow("cue", job.Job.ID, "add a cue"))
	}
	if len(jobs) == 0 {
		rows = append(rows, textRow("An empty notebook.", "Add a job, then a cue in it; a take is kept under a cue.")...)
	}
	rows = append(rows, c.addRow("job", 0, "add a job"))
	if len(jobs) > 0 {
		rows = append(rows, c.doingRow("new sound", "begin a new sound", c.session.NewSound))
	}
	rows = append(rows, c.asideRows()...)
	if len(jobs) > 0 && told.Wanted(hintName) {
		rows = append(rows, c.hintRow())
	}
	return rows
}

const (
	hintName = "contents"
	hint     = "A double click or Enter puts a take on the bench; hear plays what was kept."
)

// hintRow tells a newcomer what the rows are for.
func (c *Column) hintRow() row {
	return row{height: 6, write: func(p *leaf.Pen, y float32) {
		base := y + p.Em*1.5
		for _, line := range look.Emphasis.Wrap(hint, p.Width-2*margin(p)) {
			p.Text(look.Emphasis, margin(p), base, line)
			base += p.Em * 1.35
		}
		place, _ := p.Word("hint", look.Quiet, margin(p), base, "put away")
		place.Tap = func() {
			told.Dismiss(hintName)
			c.list.Refresh()
		}
	}}
}

func textRow(lines ...string) []row {
	var rows []row
	for i, line := range lines {
		style := look.Quiet
		if i == 0 {
			style = look.Emphasis
		}
		rows = append(rows, row{height: 3.2, write: func(p *leaf.Pen, y float32) {
			for n, part := range style.Wrap(line, p.Width-2*margin(p)) {
				p.Text(style, margin(p), y+p.Em*(1.2+1.4*float32(n)), part)
			}
		}})
	}
	return rows
}

func margin(p *leaf.Pen) float32 { return p.Em * 1.3 }

func (c *Column) jobRow(job desk.JobEntry) row {
	key := fmt.Sprintf("job %d", job.Job.ID)
	if c.writing.what == "edit job" && c.writing.job == job.Job.ID {
		return c.fieldRow(key)
	}
	edit := func() {
		c.begin(writing{what: "edit job", job: job.Job.ID, note: job.Job.Note}, job.Job.Name)
	}
	return row{key: key, height: 3, enter: edit, write: func(p *leaf.Pen, y float32) {
		base := y + p.Em*1.75
		right := p.Width - margin(p)
		if key == c.chosen {
			right -= p.Wide(look.Quiet, "edit")
		} else {
			right = p.Right(look.Quiet, right, base, "job")
		}
		p.Fit(look.Title, margin(p), base, right-margin(p)-p.Em, job.Job.Name)
		c.place(p, key, y, p.Em*2.6)
		if key == c.chosen {
			c.word(p, "edit", p.Width-margin(p), base, edit)
		}
	}}
}

func (c *Column) cueRow(cue desk.CueEntry) row {
	key := fmt.Sprintf("cue %d", cue.Cue.ID)
	if c.writing.what == "edit cue" && c.writing.cue.ID == cue.Cue.ID {
		return c.fieldRow(key)
	}
	edit := func() { c.begin(writing{what: "edit cue", cue: cue.Cue}, cueLine(cue.Cue)) }
	names := c.wrapped(cue.Cue)
	more := 1.25 * float32(len(names)-1)
	return row{key: key, height: 2.9 + more, enter: edit, cue: cue.Cue.ID, write: func(p *leaf.Pen, y float32) {
		base := y + p.Em*1.35
		c.choice(p, key, y, p.Em*(2.75+more))
		end := p.Text(look.Figures, margin(p), base, cue.Cue.Number)
		for i, name := range names {
			p.Fit(look.Caps, end+p.Em*0.5, base+p.Em*1.25*float32(i), p.Width-margin(p)-end-p.Em*0.5, name)
		}
		y += p.Em * more
		base += p.Em * more
		p.Text(look.Small, margin(p), base+p.Em*1.15, cue.Cue.Timecode)
		if key == c.chosen {
			file := c.session.Bench().Cue != cue.Cue.ID
			x := p.Width - margin(p)
			x = c.word(p, "edit", x, base+p.Em*1.15, edit)
			if file {
				c.word(p, "file here", x, base+p.Em*1.15, func() { c.session.Do(desk.FileUnder(cue.Cue)) })
			}
		}
		if c.session.Bench().Cue == cue.Cue.ID {
			p.Box(margin(p)*0.45, y-p.Em*(more-0.6), 2, p.Em*0.95, p.Ink.Drawn, nil) // the work is filed here
		}
		p.Level(margin(p), y+p.Em*2.85, p.Width-2*margin(p), p.Ink.Faint)
	}}
}

// wrapped breaks a cue's name into the lines that it takes, two at most.
func (c *Column) wrapped(cue notebook.Cue) []string {
	em := look.Em()
	width := c.list.Size().Width - 2*1.3*em - look.Figures.Measure(cue.Number).Width - em*0.5
	names := look.Caps.Wrap(cue.Name, width)
	if len(names) > 2 {
		names = []string{names[0], strings.Join(names[1:], " ")}
	}
	if len(names) == 2 && len(names[1]) < 4 { // "3.4 s" stays together
		if cut := strings.LastIndexByte(names[0], ' '); cut > 0 {
			names = []string{names[0][:cut], names[0][cut+1:] + " " + names[1]}
		}
	}
	return names
}

// word writes a word that ends at x and returns where the next one ends.
func (c *Column) word(p *leaf.Pen, text string, x, base float32, tap func()) float32 {
	x -= p.Wide(look.Quiet, text)
	place, _ := p.Word(text, look.Quiet, x, base, text)
	place.Tap, place.Unlisted = tap, true
	return x - p.Em*0.9
}

func (c *Column) takeRow(t notebook.Heading, last bool) row {
	key := fmt.Sprintf("take %d", t.ID)
	height := float32(1.95)
	open := key == c.chosen
	_, state, proof := c.session.ProofOf(t.ID)
	if open {
		height += 1.6
	}
	if state == desk.ProofRunning {
		proof = "rendering it again …"
	}
	said := c.saidOf(proof)
	height += 1.4 * float32(len(said))
	if last {
		height += 0.5
	}
	return row{key: key, height: height, enter: func() { c.session.Recall(t.ID) }, take: t.ID, write: func(p *leaf.Pen, y float32) {
		c.choice(p, key, y, p.Em*1.9)
		c.takeLine(p, t, firstLine(t.Note), y+p.Em*1.3)
		below := y + p.Em*2.8
		if open {
			c.actions(p, t, below)
			below += p.Em * 1.5
		}
		for _, line := range said {
			p.Text(look.Emphasis, indent(p), below, line)
			below += p.Em * 1.4
		}
	}}
}

// saidOf breaks what a proof says into the lines that it takes.
func (c *Column) saidOf(proof string) []string {
	if proof == "" {
		return nil
	}
	em := look.Em()
	return look.Emphasis.Wrap(look.Shown(proof), c.list.Size().Width-3.2*em)
}

func indent(p *leaf.Pen) float32 { return margin(p) + p.Em*1.2 }

func (c *Column) takeLine(p *leaf.Pen, t notebook.Heading, text string, base float32) {
	right := p.Width - margin(p)*0.8
	if t.Star {
		right = p.Right(look.Body, right, base, "★") - p.Em*0.4
	}
	if c.session.Bench().From == t.ID { // on the bench, or where it came from
		p.Box(margin(p)*0.45, base-p.Em*0.75, 2, p.Em*0.95, p.Ink.Drawn, nil)
	}
	x := p.Text(look.Quiet, indent(p), base, "take ")
	x = max(p.Text(look.Figures, x, base, fmt.Sprint(t.Number)), indent(p)+p.Wide(look.Quiet, "take ")+p.Wide(look.Figures, "00"))
	if text == "" {
		p.Text(look.Quiet, x+p.Em*0.6, base, "no note")
		return
	}
	p.Fit(look.Body, x+p.Em*0.6, base, right-x-p.Em*0.6, text)
}

func (c *Column) actions(p *leaf.Pen, t notebook.Heading, base float32) {
	star, hear, draw := "star", "hear", "draw …"
	if t.Star {
		star = "unstar"
	}
	if c.session.AuditionPlaying() == t.ID {
		hear = "stop"
	}
	room := p.Width - margin(p)*0.6 - indent(p)
	if p.Wide(look.Quiet, "recall"+hear+"prove"+star+draw)+p.Em*1.4 > room {
		draw = "draw"
	}
	x := indent(p)
	gap := room - p.Wide(look.Quiet, "recall"+hear+"prove"+star+draw)
	gap = min(max(gap/4, p.Em*0.35), p.Em*0.85)
	for _, a := range []struct {
		word string
		tap  func()
	}{
		{"recall", func() { c.session.Recall(t.ID) }},
		{hear, func() { c.audition(t.ID) }},
		{"prove", func() { c.session.Prove(t.ID) }},
		{star, func() { c.session.Star(t.ID, !t.Star) }},
		{draw, func() { c.draw(t.ID) }},
	} {
		place, end := p.Word(a.word, look.Quiet, x, base, a.word)
		place.Tap, place.Unlisted = a.tap, true
		x = end + gap
	}
}

// Draw asks where the page of the chosen take is to be drawn; of the take that is
// on the bench where no other is chosen.
func (c *Column) Draw() {
	id := c.session.Bench().From
	if i := c.index(c.chosen); i >= 0 && c.rows[i].take != 0 {
		id = c.rows[i].take
	}
	if id != 0 {
		c.draw(id)
	}
}

// draw asks where the page of a take is to be drawn.
func (c *Column) draw(id notebook.TakeID) {
	if c.Picture != nil {
		c.Picture(id)
	}
}

func (c *Column) audition(id notebook.TakeID) {
	if c.session.AuditionPlaying() == id {
		c.session.StopAudition()
		return
	}
	c.session.PlayAudition(id)
}

func (c *Column) addRow(what string, job notebook.JobID, text string) row {
	key := fmt.Sprintf("add %s %d", what, job)
	if c.writing.what == what && c.writing.job == job {
		return c.fieldRow(key)
	}
	return c.doingRow(key, text, func() { c.begin(writing{what: what, job: job}, "") })
}

// doingRow is a row that does something when it is pressed.
func (c *Column) doingRow(key, text string, do func()) row {
	return row{key: key, height: 2.2, enter: do, write: func(p *leaf.Pen, y float32) {
		if key == c.chosen {
			p.Box(margin(p)*0.45, y, p.Width-margin(p)*0.9, p.Em*1.9, p.Ink.Wash, nil)
		}
		p.Text(look.Quiet, margin(p), y+p.Em*1.35, text)
		place := p.Place(key, margin(p), y, p.Width-2*margin(p), p.Em*1.9)
		place.Tap, place.Unlisted = do, true
	}}
}

func (c *Column) fieldRow(key string) row {
	return row{key: key, height: 2.6, write: func(p *leaf.Pen, y float32) {
		p.Put(c.write.Object(), margin(p), y+p.Em*0.35, p.Width-2*margin(p), p.Em*1.7)
		p.Level(margin(p), y+p.Em*2, p.Width-2*margin(p), p.Ink.Drawn)
	}}
}

func (c *Column) hitRows() []row {
	if c.fault != nil {
		return textRow("This could not be searched for.", c.fault.Error())
	}
	if len(c.hits) == 0 {
		return textRow("Nothing found.", "Every word must begin a word of a note, a tag, or the name of a job, cue or module.")
	}
	var rows []row
	for _, h := range c.hits {
		key := fmt.Sprintf("take %d", h.Take.ID)
		open := key == c.chosen
		height := float32(4.4)
		if open {
			height += 1.5
		}
		rows = append(rows, row{key: key, height: height, take: h.Take.ID, enter: func() { c.session.Recall(h.Take.ID) }, write: func(p *leaf.Pen, y float32) {
			base := y + p.Em*1.3
			c.choice(p, key, y, p.Em*4.2)
			c.takeLine(p, h.Take, h.Cue.Number+" "+h.Cue.Name, base)
			for n, line := range look.Quiet.Wrap(h.Snippet, p.Width-indent(p)-margin(p)*0.8) {
				if n < 2 {
					p.Text(look.Quiet, indent(p), base+p.Em*1.35*float32(n+1), line)
				}
			}
			if open {
				c.actions(p, h.Take, base+p.Em*4.1)
			}
		}})
	}
	return rows
}

func firstLine(note string) string {
	line, _, _ := strings.Cut(strings.TrimSpace(note), "\n")
	return line
}

// place marks a row that can be chosen.
func (c *Column) place(p *leaf.Pen, key string, y, height float32) {
	place := p.Place(key, margin(p)*0.5, y, p.Width-margin(p), height)
	place.Unlisted, place.Unmarked = true, true
	place.Tap = func() { c.choose(key) }
	place.Double = func() { c.enter(key) }
}

// choice marks a row and shows it chosen.
func (c *Column) choice(p *leaf.Pen, key string, y, height float32) {
	if key == c.chosen {
		p.Box(margin(p)*0.45, y, p.Width-margin(p)*0.9, height, p.Ink.Wash, nil)
	}
	c.place(p, key, y, height)
}

var _ fyne.Widget = (*Column)(nil)
