// Package demo makes the demo job, The Glasshouse: a short film about a night
// greenhouse, invented so that a newcomer finds a notebook with pages in it.
//
//	assets/demo (job.json, patches) -> Build -> job, cues and takes in a notebook
//
// Everything in it is made by this program: the one recording that a take plays
// is rendered here from another patch. Held by tests: every kind of module is
// used, every take keeps below full scale, and every proof is bit-identical.
package demo

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"

	"lampblack/assets"
	"lampblack/notebook"
	"lampblack/patch"
	"lampblack/patch/engine"
	"lampblack/patch/kind"
	"lampblack/patch/memory"
	"lampblack/patch/recording"
)

// Job is the name of the demo job.
const Job = "The Glasshouse"

// rate of every audition and recording of the demo, in samples a second.
const rate = 48000

// script is the file job.json.
type script struct {
	Note       string `json:"note"`
	Recordings []struct {
		Name    string  `json:"name"`
		Patch   string  `json:"patch"`
		Seconds float64 `json:"seconds"`
	} `json:"recordings"`
	Cues []cue `json:"cues"`
}

type cue struct {
	Number   string `json:"number"`
	Name     string `json:"name"`
	Timecode string `json:"timecode"`
	Note     string `json:"note"`
	Takes    []take `json:"takes"`
}

type take struct {
	Patch   string        `json:"patch"`
	From    int           `json:"from"` // number of an earlier take of the cue, or 0
	Memory  memory.Memory `json:"memory"`
	Seconds float64       `json:"seconds"`
	Note    string        `json:"note"`
	Tags    []string      `json:"tags"`
	Star    bool          `json:"star"`
}

// Build puts the demo job into a notebook. What an earlier call has put there
// stays, and what it could not finish is finished; a complete job is left
// alone. progress, which may be nil, is called with 0 to 1.
func Build(ctx context.Context, b *notebook.Book, progress func(done float64)) error {
	if err := build(ctx, b, progress); err != nil {
		return fmt.Errorf("the demo job is not complete: %w", err)
	}
	return nil
}

func build(ctx context.Context, b *notebook.Book, progress func(done float64)) error {
	w := &work{book: b, progress: progress}
	if err := read("job", &w.script); err != nil {
		return err
	}
	for _, c := range w.script.Cues {
		w.takes += len(c.Takes)
	}
	job, err := findJob(b, w.script.Note)
	if err != nil {
		return err
	}
	there, err := b.Cues(job)
	if err != nil {
		return err
	}
	for _, c := range w.script.Cues {
		if err := w.makeCue(ctx, job, there, c); err != nil {
			return fmt.Errorf("cue %s: %w", c.Number, err)
		}
	}
	return nil
}

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
		sound, err := engine.Render(p, memory.Memory{}, engine.RenderOptions{Rate: rate, Seconds: r.Seconds, Context: ctx})
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

// read reads a JSON file of the demo.
func read(name string, into any) error {
	file, err := assets.Files.ReadFile("demo/" + name + ".json")
	if err == nil {
		err = json.Unmarshal(file, into)
	}
	if err != nil {
		return fmt.Errorf("demo file %q: %w", name, err)
	}
	return nil
}

func readPatch(name string) (patch.Patch, error) {
	file, err := assets.Files.ReadFile("demo/" + name + ".json")
	if err != nil {
		return patch.Patch{}, err
	}
	p, err := patch.Load(file, kind.Catalogue)
	if err != nil {
		return p, fmt.Errorf("demo patch %q: %w", name, err)
	}
	return p, nil
}
