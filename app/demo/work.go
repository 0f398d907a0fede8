package demo

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"

	"lampblack/notebook"
	"lampblack/patch"
	"lampblack/patch/engine"
	"lampblack/patch/recording"
)

// work is one call of Build.
type work struct {
	book        *notebook.Book
	script      script
	progress    func(float64)
	takes, done int
	files       map[string][]byte // the recordings by SHA-256, once they are made
	sums        map[string]string // their SHA-256 by name
}

func (w *work) makeCue(ctx context.Context, job notebook.JobID, there []notebook.Cue, c cue) error {
	id, err := w.findCue(job, there, c)
	if err != nil {
		return err
	}
	kept, err := w.book.Takes(id)
	if err != nil {
		return err
	}
	for i, t := range c.Takes {
		if i >= len(kept) {
			h, err := w.keep(ctx, id, kept, t)
			if err != nil {
				return fmt.Errorf("take %d: %w", i+1, err)
			}
			kept = append(kept, h)
		}
		w.done++
		w.tell(0)
	}
	return nil
}

func (w *work) keep(ctx context.Context, id notebook.CueID, kept []notebook.Heading, t take) (notebook.Heading, error) {
	n := notebook.NewTake{Cue: id, Memory: t.Memory, Note: t.Note, Tags: t.Tags, Seconds: t.Seconds, Rate: rate}
	if t.From > 0 {
		n.From = kept[t.From-1].ID
	}
	var err error
	if n.Patch, err = w.patch(ctx, t.Patch); err != nil {
		return notebook.Heading{}, err
	}
	n.Recordings = w.files
	made, err := w.book.Keep(ctx, n, w.tell)
	if err == nil && t.Star {
		err = w.book.Star(made.ID, true)
	}
	return made.Heading, err
}

// tell passes on how much of the current take is done.
func (w *work) tell(part float64) {
	if w.progress != nil {
		w.progress((float64(w.done) + part) / float64(w.takes))
	}
}

// patch reads a patch of the demo and puts the sums of its recordings in.
func (w *work) patch(ctx context.Context, name string) (patch.Patch, error) {
	p, err := readPatch(name)
	if err != nil {
		return p, err
	}
	for i := range p.Modules {
		if r := p.Modules[i].Recording; r != nil {
			if err := w.record(ctx); err != nil {
				return p, err
			}
			r.SHA256 = w.sums[r.Name]
		}
	}
	return p, nil
}

// record renders the recordings of the demo, once.
func (w *work) record(ctx context.Context) error {
	if w.files != nil {
		return nil
	}
	files, sums := map[string][]byte{}, map[string]string{}
	for _, r := range w.script.Recordings {
		p, err := readPatch(r.Patch)
		if err != nil {
			return err
		}
		sound, err := engine.Render(p, r.Memory, engine.RenderOptions{Rate: rate, Seconds: r.Seconds, Context: ctx})
		if err != nil {
			return fmt.Errorf("recording %q: %w", r.Name, err)
		}
		var file bytes.Buffer
		if err := recording.WriteWAV(&file, [][]float64{sound.Left}, rate, recording.Bits24); err != nil {
			return fmt.Errorf("recording %q: %w", r.Name, err)
		}
		sum := sha256.Sum256(file.Bytes())
		sums[r.Name] = hex.EncodeToString(sum[:])
		files[sums[r.Name]] = file.Bytes()
	}
	w.files, w.sums = files, sums
	return nil
}

func findJob(b *notebook.Book, note string) (notebook.JobID, error) {
	jobs, err := b.Jobs()
	if err != nil {
		return 0, err
	}
	for _, j := range jobs {
		if j.Name == Job {
			return j.ID, nil
		}
	}
	j, err := b.AddJob(notebook.Job{Name: Job, Note: note})
	return j.ID, err
}

func (w *work) findCue(job notebook.JobID, there []notebook.Cue, c cue) (notebook.CueID, error) {
	for _, q := range there {
		if q.Number == c.Number {
			return q.ID, nil
		}
	}
	q, err := w.book.AddCue(notebook.Cue{Job: job, Number: c.Number, Name: c.Name, Timecode: c.Timecode, Note: c.Note})
	return q.ID, err
}
