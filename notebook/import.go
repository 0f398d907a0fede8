package notebook

import (
	"bytes"
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
	"time"
	"unicode/utf8"

	"lampblack/patch/engine"
	"lampblack/patch/recording"
)

// Import keeps a take that Export wrote, as a new take with a number of its
// own and its Origin noted. With into 0 it goes into the job and the cue of the
// same names, which are made if they are not there. Everything is checked first: names, lengths,
// hashes, patch, memory, audition and recordings. What does not hold is
// refused, saying which file and why, and nothing is changed. The claim of the
// render's hash is taken over as it stands; Prove tests it.
func (b *Book) Import(ctx context.Context, r io.ReaderAt, size int64, into CueID) (Take, error) {
	pass, p, err := readExport(r, size)
	if err == nil {
		p.take.Kept = b.clock()
		err = b.change(context.WithoutCancel(ctx), func(tx *sql.Tx) (err error) {
			if into == 0 {
				into, err = makeCue(tx, pass, p.take.Kept)
			}
			if err != nil {
				return err
			}
			p.take.Cue = into
			return p.write(tx)
		})
	}
	if err != nil {
		return Take{}, fmt.Errorf("the take was not imported: %w", err)
	}
	return p.take, nil
}

// makeCue finds or makes the job and cue that an exported take came from.
func makeCue(tx *sql.Tx, p passport, now time.Time) (id CueID, err error) {
	var job JobID
	for _, step := range []struct {
		query  string
		values []any
		result any
	}{
		{"INSERT INTO job (name, made) VALUES (?, ?) ON CONFLICT DO NOTHING", []any{p.Job, now.UnixMilli()}, nil},
		{"SELECT id FROM job WHERE name = ?", []any{p.Job}, &job},
		{"INSERT INTO cue (job, number, name, timecode, note, made) VALUES (?, ?, ?, ?, ?, ?) ON CONFLICT DO NOTHING",
			[]any{&job, p.Cue.Number, p.Cue.Name, p.Cue.Timecode, p.Cue.Note, now.UnixMilli()}, nil},
		{"SELECT id FROM cue WHERE job = ? AND number = ?", []any{&job, p.Cue.Number}, &id},
	} {
		if step.result == nil {
			_, err = tx.Exec(step.query, step.values...)
		} else {
			err = tx.QueryRow(step.query, step.values...).Scan(step.result)
		}
		if err != nil {
			return 0, err
		}
	}
	return id, nil
}

// readExport reads and checks a whole export.
func readExport(r io.ReaderAt, size int64) (passport, *page, error) {
	files, err := unzip(r, size)
	if err != nil {
		return passport{}, nil, err
	}
	pass, err := readPassport(files[takeFile])
	if err != nil {
		return passport{}, nil, fmt.Errorf("%s: %w", takeFile, err)
	}
	if err := pass.checkFiles(files); err != nil {
		return passport{}, nil, err
	}
	p, err := pass.page(files)
	return pass, p, err
}

// readPassport reads take.json.
func readPassport(file []byte) (p passport, err error) {
	var head struct {
		Format  string
		Version int
	}
	if err := json.Unmarshal(file, &head); err != nil {
		return p, err
	}
	if head.Format != exportFormat {
		return p, fmt.Errorf("its format is %q; it must be %q", head.Format, exportFormat)
	}
	if head.Version > exportVersion {
		return p, fmt.Errorf("%w: its version is %d, this program reads up to %d", ErrNewer, head.Version, exportVersion)
	}
	d := json.NewDecoder(bytes.NewReader(file))
	d.DisallowUnknownFields()
	if err := d.Decode(&p); err != nil {
		return p, err
	}
	return p, p.validate()
}

// validate checks every claim that can be checked without another file.
func (p *passport) validate() error {
	var faults []error
	refuse := func(bad bool, format string, values ...any) {
		if bad {
			faults = append(faults, fmt.Errorf(format, values...))
		}
	}
	refuse(p.Version < 1, "its version is %d; the first is 1", p.Version)
	refuse(strings.TrimSpace(p.Job) == "", "the job has no name")
	refuse(strings.TrimSpace(p.Cue.Number) == "", "the cue has no number")
	for _, err := range []error{oneLine("the job's name", p.Job), Cue{Number: p.Cue.Number, Name: p.Cue.Name, Timecode: p.Cue.Timecode}.oneLine()} {
		refuse(err != nil, "%w", err)
	}
	refuse(p.Number < 1, "its take is number %d; the first is 1", p.Number)
	refuse(!(p.Seconds > 0 && p.Seconds <= MaxSeconds), "it lasts %g s; it must be over 0 and up to %d s", p.Seconds, MaxSeconds)
	refuse(p.Asked != 0 && math.Abs(p.Asked-p.Seconds)*float64(p.Rate) > 1, "%g s were asked for and it lasts %g s", p.Asked, p.Seconds)
	refuse(p.Rate < recording.MinRate || p.Rate > recording.MaxRate, "its rate is %d Hz; it must be %d to %d Hz", p.Rate, recording.MinRate, recording.MaxRate)
	refuse(p.Channels != 1 && p.Channels != 2, "it has %d channels; it must have 1 or 2", p.Channels)
	refuse(!(p.Peak >= 0 && p.Peak <= engine.MaxOutput), "its peak is %g; it must be 0 to %g", p.Peak, engine.MaxOutput)
	refuse(!isHash(p.SHA256), "the SHA-256 of its render is %q; it must be 64 lower-case hexadecimal digits", p.SHA256)
	refuse(p.Kept.Year() < 2000 || p.Kept.Year() > 9999, "it was kept in the year %d; it must be 2000 to 9999", p.Kept.Year())
	return errors.Join(faults...)
}

func isHash(s string) bool {
	return len(s) == 64 && strings.Trim(s, "0123456789abcdef") == ""
}

// checkFiles compares what is in the zip with what take.json lists.
func (p *passport) checkFiles(files map[string][]byte) error {
	listed := map[string]bool{takeFile: true}
	for _, f := range p.Files {
		data, ok := files[f.Name]
		switch {
		case listed[f.Name]:
			return fmt.Errorf("%s: it is listed twice in %s", f.Name, takeFile)
		case !ok:
			return fmt.Errorf("%s: it is listed in %s and missing", f.Name, takeFile)
		case int64(len(data)) != f.Bytes:
			return fmt.Errorf("%s: it has %d bytes; %s says %d", f.Name, len(data), takeFile, f.Bytes)
		case hashOf(data) != f.SHA256:
			return fmt.Errorf("%s: it is damaged: its SHA-256 is %s; %s says %s", f.Name, hashOf(data), takeFile, f.SHA256)
		}
		listed[f.Name] = true
	}
	for name := range files {
		if !listed[name] {
			return fmt.Errorf("%s: it is not listed in %s", name, takeFile)
		}
	}
	for _, name := range []string{patchFile, memoryFile, noteFile, auditionFile} {
		if !listed[name] {
			return fmt.Errorf("%s: it is missing", name)
		}
	}
	return nil
}

// page builds the take from checked files.
func (p *passport) page(files map[string][]byte) (*page, error) {
	note := files[noteFile]
	if !utf8.Valid(note) {
		return nil, fmt.Errorf("%s: it is not UTF-8", noteFile)
	}
	made := &page{flac: files[auditionFile]}
	made.take = Take{
		Heading: Heading{
			Origin: p.origin(), Note: string(note), Tags: tidy(p.Tags),
			Asked: p.Asked, Seconds: p.Seconds, Rate: p.Rate, Channels: p.Channels, Peak: p.Peak, SHA256: p.SHA256,
			Kinds: p.Kinds, Program: p.Program,
		},
		PatchJSON: files[patchFile], MemoryJSON: files[memoryFile],
	}
	var err error
	if made.take.Patch, err = readPatch(files[patchFile]); err != nil {
		return nil, fmt.Errorf("%s: %w", patchFile, err)
	}
	if made.take.Memory, err = readMemory(files[memoryFile]); err != nil {
		return nil, fmt.Errorf("%s: %w", memoryFile, err)
	}
	if err := p.checkAudition(made.flac); err != nil {
		return nil, fmt.Errorf("%s: %w", auditionFile, err)
	}
	if err := p.takeRecordings(made, files); err != nil {
		return nil, err
	}
	// The engine looks at kinds, sockets, ranges and recordings as one.
	if err := compiles(made, p.Rate); err != nil {
		return nil, fmt.Errorf("%s: %w", patchFile, err)
	}
	return made, nil
}

// origin says where the take was kept first.
func (p *passport) origin() string {
	here := fmt.Sprintf("%s, %s, take %d, kept %s", p.Job, p.Cue.Number, p.Number, p.Kept.UTC().Format(time.RFC3339))
	if p.From > 0 {
		here += fmt.Sprintf(", from take %d", p.From)
	}
	if p.Origin != "" {
		here += "; before that: " + p.Origin
	}
	return here
}

// checkAudition decodes the audition; it must be as long as the take says.
func (p *passport) checkAudition(flac []byte) error {
	info, err := recording.Check(flac)
	if err != nil {
		return err
	}
	if info.Format != recording.FLAC || info.Bits != 24 || info.Rate != p.Rate || info.Channels != p.Channels {
		return fmt.Errorf("it is %s, %d bit, %d Hz, %d channels; the take says FLAC, 24 bit, %d Hz, %d channels",
			info.Format, info.Bits, info.Rate, info.Channels, p.Rate, p.Channels)
	}
	samples, _, err := recording.DecodeFLAC(flac)
	if err != nil {
		return err
	}
	if off := math.Abs(float64(len(samples[0])) - p.Seconds*float64(p.Rate)); off > 1 {
		return fmt.Errorf("it has %d samples; %g s at %d Hz are %.0f", len(samples[0]), p.Seconds, p.Rate, p.Seconds*float64(p.Rate))
	}
	return nil
}

// takeRecordings takes over the files that the patch plays: all of them, and no others.
func (p *passport) takeRecordings(made *page, files map[string][]byte) error {
	found := map[string]played{}
	for _, r := range p.Recordings {
		file, ok := files[r.File]
		if !ok || !strings.HasPrefix(r.File, recordingFolder) {
			return fmt.Errorf("%s: %s names it as a recording, and it is not there", r.File, takeFile)
		}
		info, err := recording.Check(file)
		if err != nil {
			return fmt.Errorf("%s: %w", r.File, err)
		}
		sum := hashOf(file)
		if want := recordingFolder + sum + endings[info.Format]; r.File != want {
			return fmt.Errorf("%s: its name must be %s, after its content", r.File, want)
		}
		found[sum] = played{RecordingLine{SHA256: sum, Name: r.Name, Bytes: int64(len(file))}, file}
	}
	for name := range files {
		if sum, ok := strings.CutPrefix(name, recordingFolder); ok && found[sum[:64]].SHA256 == "" { // unzip has looked at the form of the name
			return fmt.Errorf("%s: no recording of %s is of that file", name, takeFile)
		}
	}
	used := map[string]bool{}
	for _, m := range made.take.Patch.Modules {
		if m.Recording == nil {
			continue
		}
		if _, ok := found[m.Recording.SHA256]; !ok {
			return fmt.Errorf("%s: module %q plays a recording of SHA-256 %q, which is not in the file", patchFile, m.Name, m.Recording.SHA256)
		}
		used[m.Recording.SHA256] = true
	}
	for sum := range found {
		if !used[sum] {
			return fmt.Errorf("%s%s: no module plays it", recordingFolder, sum)
		}
	}
	made.addFiles(found)
	return nil
}

// compiles reports what the engine would say to the patch.
func compiles(made *page, rate int) error {
	files := map[string]played{}
	for _, f := range made.files {
		files[f.SHA256] = f
	}
	clips, err := decode(made.take.Patch, rate, files)
	if err != nil {
		return err
	}
	_, err = engine.Compile(made.take.Patch, engine.Settings{Rate: rate, Clips: clips})
	return err
}
