package command

import (
	"fmt"
	"regexp"
	"strings"

	"lampblack/notebook"
)

// timecode is a place in the picture: hours, minutes, seconds and frames, with a
// semicolon before the frames where some are dropped (SMPTE ST 12-1).
var timecode = regexp.MustCompile(`^([01]\d|2[0-3]):[0-5]\d:[0-5]\d[:;]\d\d$`)

func (p place) check() error {
	if p.timecode != "" && !timecode.MatchString(p.timecode) {
		return fmt.Errorf("--timecode is %q; it must be HH:MM:SS:FF, such as 10:02:14:05; nothing was kept", p.timecode)
	}
	return nil
}

// find returns the cue that is named, and makes it if that is wanted. forget
// takes away what it made, if no take came into it.
func (p place) find(b *notebook.Book, all contents) (_ notebook.CueID, forget func(), _ error) {
	forget = func() {}
	if err := p.check(); err != nil {
		return 0, forget, err
	}
	number, name, _ := strings.Cut(strings.TrimSpace(p.cue), " ")
	var found []cueLine
	for _, q := range all.cues {
		if strings.EqualFold(q.cue.Number, number) && (p.job == "" || strings.EqualFold(q.job.Name, p.job)) {
			found = append(found, q)
		}
	}
	switch {
	case len(found) == 1:
		return found[0].cue.ID, forget, nil
	case len(found) > 1:
		return 0, forget, fmt.Errorf("cue %q is found in %d jobs; name one with --job; nothing was kept", number, len(found))
	case !p.make:
		return 0, forget, fmt.Errorf("there is no cue %q%s; the cues are %s; --make makes it; nothing was kept", number, p.ofJob(), cueWords(all))
	case p.job == "":
		return 0, forget, fmt.Errorf("cue %q needs a job; name it with --job; nothing was kept", number)
	}
	job, isNew, err := findJob(b, p.job)
	if err != nil {
		return 0, forget, err
	}
	cue, err := b.AddCue(notebook.Cue{Job: job, Number: number, Name: strings.TrimSpace(name), Timecode: p.timecode})
	return cue.ID, func() {
		if err == nil {
			_ = b.RemoveCue(cue.ID) // one that came into use meanwhile stays
		}
		if isNew {
			_ = b.RemoveJob(job)
		}
	}, err
}

func (p place) ofJob() string {
	if p.job == "" {
		return ""
	}
	return fmt.Sprintf(" in job %q", p.job)
}

// findJob returns the job of that name, which it makes if there is none.
func findJob(b *notebook.Book, name string) (_ notebook.JobID, isNew bool, _ error) {
	jobs, err := b.Jobs()
	if err != nil {
		return 0, false, err
	}
	for _, j := range jobs {
		if strings.EqualFold(j.Name, name) {
			return j.ID, false, nil
		}
	}
	job, err := b.AddJob(notebook.Job{Name: name})
	return job.ID, err == nil, err
}

func cueWords(all contents) string {
	var words []string
	for _, q := range all.cues {
		words = append(words, fmt.Sprintf("%s (%s)", q.cue.Number, q.job.Name))
	}
	if len(words) == 0 {
		return "none yet"
	}
	return strings.Join(words, ", ")
}
