package notebook

import (
	"bytes"
	"context"
	"database/sql"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"

	"lampblack/patch"
	"lampblack/patch/engine"
	"lampblack/patch/kind"
	"lampblack/patch/memory"
	"lampblack/patch/recording"
)

// DefaultRate is the rate of a take that names none, in samples a second.
const DefaultRate = 48000

// Keep renders a patch and stores patch, memory, note, tags, audition, hash
// and recordings in one transaction. The take is numbered after the last one
// of its cue. When Keep returns without an error, the take has reached the
// disk; otherwise nothing of it is in the file, and n is untouched, so that it
// can be kept again. progress, which may be nil, is called with 0 to 1 while
// rendering. A cancelled ctx ends the rendering; the writing is not cut off.
func (b *Book) Keep(ctx context.Context, n NewTake, progress func(done float64)) (Take, error) {
	p, err := b.compose(ctx, n, progress)
	if err == nil {
		err = b.change(context.WithoutCancel(ctx), p.write)
	}
	if err != nil {
		return Take{}, fmt.Errorf("the take was not kept: %w", err)
	}
	return p.take, nil
}

// page is a take that is complete and not yet written.
type page struct {
	take  Take // ID, Number, Star are not known yet
	flac  []byte
	files []played
}

// compose does all that is slow before the transaction begins. It renders what
// a recall will read: patch and memory are written and read again first.
func (b *Book) compose(ctx context.Context, n NewTake, progress func(float64)) (*page, error) {
	if n.Rate == 0 {
		n.Rate = DefaultRate
	}
	if !(n.Seconds >= 0 && n.Seconds <= MaxSeconds) {
		return nil, fmt.Errorf("its length is %g s; it must be 0 (one pass and its tail) to %d s", n.Seconds, MaxSeconds)
	}
	if b.write == nil {
		return nil, fmt.Errorf("%w: %s", ErrReadOnly, b.why)
	}
	// Known to be there before a long render; the transaction looks again.
	if _, err := b.Cue(n.Cue); err != nil {
		return nil, err
	}
	p := &page{take: Take{Heading: Heading{
		Cue: n.Cue, Kept: b.clock(), From: n.From, Note: strings.ToValidUTF8(n.Note, "\uFFFD"), Tags: tidy(n.Tags),
		Asked: n.Seconds, Rate: n.Rate, Kinds: versions(n.Patch), Program: b.program,
	}}}
	if err := p.take.write(n.Patch, n.Memory); err != nil {
		return nil, err
	}
	files, err := b.gather(p.take.Patch, n.Recordings)
	if err != nil {
		return nil, err
	}
	sound, err := p.take.render(ctx, files, progress)
	if err != nil {
		return nil, err
	}
	return p, p.fill(sound, files)
}

// write puts the written forms of a patch and a memory into the take, and what
// is read from them.
func (t *Take) write(p patch.Patch, m memory.Memory) (err error) {
	t.PatchJSON = p.JSON()
	if t.MemoryJSON, err = writeMemory(m); err != nil {
		return fmt.Errorf("its memory can't be written: %w", err)
	}
	return t.read()
}

// read makes patch and memory from their written forms.
func (t *Take) read() (err error) {
	if t.Patch, err = readPatch(t.PatchJSON); err != nil {
		return fmt.Errorf("its patch can't be read: %w", err)
	}
	if t.Memory, err = readMemory(t.MemoryJSON); err != nil {
		return fmt.Errorf("its memory can't be read: %w", err)
	}
	return nil
}

// render makes the sound of the take, as it was asked for.
func (t *Take) render(ctx context.Context, files map[string]played, progress func(float64)) (*engine.Rendered, error) {
	clips, err := decode(t.Patch, t.Rate, files)
	if err != nil {
		return nil, err
	}
	return engine.Render(t.Patch, t.Memory, engine.RenderOptions{
		Rate: t.Rate, Seconds: t.Asked, Clips: clips, Progress: progress, Context: ctx,
	})
}

// fill puts in what the sound gives.
func (p *page) fill(sound *engine.Rendered, files map[string]played) error {
	t := &p.take
	t.Seconds = float64(len(sound.Left)) / float64(t.Rate)
	t.Channels = len(sound.Channels())
	t.Peak = sound.Peak()
	t.SHA256 = hashOfSound(sound)
	if t.Seconds > MaxSeconds {
		return fmt.Errorf("with its tail it lasts %.0f s; a take lasts %d s at most; name a length", t.Seconds, MaxSeconds)
	}
	p.addFiles(files)
	var flac bytes.Buffer
	if err := recording.EncodeFLAC(&flac, sound.Channels(), t.Rate); err != nil {
		return fmt.Errorf("its audition: %w", err)
	}
	p.flac = flac.Bytes()
	if len(p.flac) > maxAudition {
		return fmt.Errorf("its audition has %d MB; the notebook holds up to %d MB; make it shorter or lower the rate", len(p.flac)/1e6, int(maxAudition)/1e6)
	}
	return nil
}

// addFiles puts in the recordings, by their hash so that writing is repeatable.
func (p *page) addFiles(files map[string]played) {
	for _, sum := range slices.Sorted(maps.Keys(files)) {
		p.files = append(p.files, files[sum])
		p.take.Recordings = append(p.take.Recordings, files[sum].RecordingLine)
	}
}

// maxAudition is the longest value that SQLite holds, with room for its row.
const maxAudition = 1e9 - 1<<16

// write stores the page and fills in its number.
func (p *page) write(tx *sql.Tx) error {
	t := &p.take
	err := tx.QueryRow("SELECT coalesce(max(number), 0) + 1 FROM take WHERE cue = ?", t.Cue).Scan(&t.Number)
	if err != nil {
		return err
	}
	kinds, err := json.Marshal(t.Kinds)
	if err != nil {
		return err
	}
	done, err := tx.Exec(`INSERT INTO take (cue, number, kept, parent, origin, note, tags, patch, memory,
		asked, seconds, rate, channels, peak, sha256, kinds, program, digest)
		VALUES (?, ?, ?, nullif(?, 0), ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
		t.Cue, t.Number, t.Kept.UnixMilli(), t.From, t.Origin, t.Note, list(t.Tags), string(t.PatchJSON), string(t.MemoryJSON),
		t.Asked, t.Seconds, t.Rate, t.Channels, t.Peak, t.SHA256, string(kinds), t.Program, t.digest())
	if err != nil {
		return noParent(err, "the take it came from, or its cue: take", int64(t.From))
	}
	id, err := done.LastInsertId()
	if err != nil {
		return err
	}
	t.ID = TakeID(id)
	for _, f := range p.files {
		if err := addRecording(tx, f.RecordingLine, f.file); err != nil {
			return err
		}
		if _, err := tx.Exec("INSERT INTO take_recording (take, recording, name) VALUES (?, ?, ?)", t.ID, f.SHA256, f.Name); err != nil {
			return err
		}
	}
	if err := index(tx, t); err != nil {
		return err
	}
	// Last: with its audition the page is closed, the file takes nothing more for it.
	_, err = tx.Exec("INSERT INTO audition (take, sha256, flac) VALUES (?, ?, ?)", t.ID, hashOf(p.flac), p.flac)
	return err
}

func hashOfSound(r *engine.Rendered) string {
	sum := r.SHA256()
	return hex.EncodeToString(sum[:])
}

// versions returns the version of every kind that a patch uses.
func versions(p patch.Patch) map[string]int {
	kinds := map[string]int{}
	for _, m := range p.Modules {
		if k, ok := kind.Catalogue.Kind(m.Kind); ok {
			kinds[m.Kind] = k.Version
		}
	}
	return kinds
}
