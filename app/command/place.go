package command

import (
	"fmt"
	"strings"

	"lampblack/notebook"
)

// find returns the cue that is named, and makes it if that is wanted.
func (p place) find(b *notebook.Book, all contents) (notebook.CueID, error) {
	number, name, _ := strings.Cut(strings.TrimSpace(p.cue), " ")
	var found []cueLine
	for _, q := range all.cues {
		if strings.EqualFold(q.cue.Number, number) && (p.job == "" || strings.EqualFold(q.job.Name, p.job)) {
			found = append(found, q)
		}
	}
	switch {
	case len(found) == 1:
		return found[0].cue.ID, nil
	case len(found) > 1:
		return 0, fmt.Errorf("cue %q is found in %d jobs; name one with --job; nothing was kept", number, len(found))
	case !p.make:
		return 0, fmt.Errorf("there is no cue %q%s; the cues are %s; --make makes it; nothing was kept", number, p.ofJob(), cueWords(all))
	case p.job == "":
		return 0, fmt.Errorf("cue %q needs a job; name it with --job; nothing was kept", number)
	}
	job, err := findJob(b, p.job)
	if err != nil {
		return 0, err
	}
	cue, err := b.AddCue(notebook.Cue{Job: job, Number: number, Name: strings.TrimSpace(name), Timecode: p.timecode})
	return cue.ID, err
}

func (p place) ofJob() string {
	if p.job == "" {
		return ""
	}
	return fmt.Sprintf(" in job %q", p.job)
}

// findJob returns the job of that name, which it makes if there is none.
func findJob(b *notebook.Book, name string) (notebook.JobID, error) {
	jobs, err := b.Jobs()
	if err != nil {
		return 0, err
	}
	for _, j := range jobs {
		if strings.EqualFold(j.Name, name) {
			return j.ID, nil
		}
	}
	job, err := b.AddJob(notebook.Job{Name: name})
	return job.ID, err
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
