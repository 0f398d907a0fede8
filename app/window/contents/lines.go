package contents

import (
	"regexp"
	"strings"

	"fyne.io/fyne/v2"

	"lampblack/app/window/look"
	"lampblack/notebook"
)

func emOf() float32 { return look.Em() }

// begin opens the line in which a job or a cue is written.
func (c *Column) begin(w writing, text string) {
	c.writing = w
	hint := "1M6 Fog lifts 10:05:00:00"
	if w.what == "job" || w.what == "edit job" {
		hint = "name of the job"
	}
	c.write.SetPlaceHolder(hint)
	c.write.SetText(text)
	c.list.Refresh()
	c.write.TakeKeyboard(fyne.CurrentApp().Driver().CanvasForObject(c))
}

func (c *Column) endWriting() {
	c.writing = writing{}
	c.focusList()
	c.list.Refresh()
}

// written makes what was written, and keeps the line open if it was refused.
func (c *Column) written(text string) {
	w, ok := c.writing, true
	text = strings.TrimSpace(text)
	switch w.what {
	case "job":
		if text != "" {
			_, ok = c.session.AddJob(text)
		}
	case "cue":
		if text != "" {
			cue := readCue(text)
			cue.Job = w.job
			_, ok = c.session.AddCue(cue)
		}
	case "edit job":
		ok = c.session.EditJob(notebook.Job{ID: w.job, Name: text, Note: w.note})
	case "edit cue":
		cue := readCue(text)
		cue.ID, cue.Job, cue.Note = w.cue.ID, w.cue.Job, w.cue.Note
		ok = c.session.EditCue(cue)
	}
	if ok {
		c.endWriting()
	}
}

// timecode is hours, minutes, seconds and frames of the picture; ";" or "."
// before the frames is how drop-frame counts are written.
//
// Source: SMPTE ST 12-1, the usual way to write its time address.
var timecode = regexp.MustCompile(`^\d{1,2}:\d{2}:\d{2}([:;.]\d{1,3})?$`)

// readCue reads a cue as it stands on a cue sheet: its number, its name, and
// the timecode of the picture if there is one.
func readCue(line string) notebook.Cue {
	words := strings.Fields(line)
	var cue notebook.Cue
	if n := len(words); n > 1 && timecode.MatchString(words[n-1]) {
		cue.Timecode, words = words[n-1], words[:n-1]
	}
	if len(words) > 0 {
		cue.Number, words = words[0], words[1:]
	}
	cue.Name = strings.Join(words, " ")
	return cue
}

// cueLine writes what readCue reads.
func cueLine(c notebook.Cue) string {
	return strings.Join(strings.Fields(c.Number+" "+c.Name+" "+c.Timecode), " ")
}
