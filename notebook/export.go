package notebook

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"time"

	"lampblack/patch/recording"
)

// An exported take is a zip file without compression, so that the same take
// gives the same bytes anywhere. In it:
//
//	take.json               what the take says of itself, and every other file's length and SHA-256
//	patch.json              as package patch writes it
//	memory.json             as package memory writes it
//	note.txt                UTF-8
//	audition.flac           24 bit
//	recordings/<sha256>.wav the files that the patch plays, .wav, .flac, .ogg or .mp3
const (
	exportFormat  = "lampblack take"
	exportVersion = 1

	takeFile, patchFile, memoryFile = "take.json", "patch.json", "memory.json"
	noteFile, auditionFile          = "note.txt", "audition.flac"
	recordingFolder                 = "recordings/"
)

// ExportExtension is the ending of an exported take's file name.
const ExportExtension = ".take.zip"

// passport is the content of take.json.
type passport struct {
	Format     string           `json:"format"`
	Version    int              `json:"version"`
	Job        string           `json:"job"`
	Cue        passportCue      `json:"cue"`
	Number     int              `json:"take"`
	Kept       time.Time        `json:"kept"`
	From       int              `json:"from take,omitempty"` // its number, if it is of the same cue
	Origin     string           `json:"origin,omitempty"`
	Tags       []string         `json:"tags"`
	Asked      float64          `json:"asked seconds"`
	Seconds    float64          `json:"seconds"`
	Rate       int              `json:"rate"`
	Channels   int              `json:"channels"`
	Peak       float64          `json:"peak"`
	SHA256     string           `json:"render sha256"`
	Kinds      map[string]int   `json:"kinds"`
	Program    string           `json:"program"`
	Recordings []passportSource `json:"recordings"`
	Files      []passportFile   `json:"files"`
}

type passportCue struct {
	Number   string `json:"number"`
	Name     string `json:"name"`
	Timecode string `json:"timecode"`
	Note     string `json:"note"`
}

type passportSource struct {
	File string `json:"file"`
	Name string `json:"name"`
}

type passportFile struct {
	Name   string `json:"name"`
	Bytes  int64  `json:"bytes"`
	SHA256 string `json:"sha256"`
}

// content is a file that goes into an export.
type content struct {
	name string
	data []byte
}

// Export writes a take as one file of open formats, for Import and for any
// program that reads zip, JSON and FLAC. The same take gives the same bytes.
// Nothing is written unless all of it could be read undamaged.
func (b *Book) Export(id TakeID, w io.Writer) error {
	t, err := b.Take(id)
	if err != nil {
		return fmt.Errorf("nothing was exported: %w", err)
	}
	p, files, err := b.pack(t)
	if err != nil {
		return fmt.Errorf("take %d was not exported: %w", t.Number, err)
	}
	for _, f := range files {
		p.Files = append(p.Files, passportFile{f.name, int64(len(f.data)), hashOf(f.data)})
	}
	head, err := json.MarshalIndent(p, "", "\t")
	if err != nil {
		return fmt.Errorf("take %d was not exported: %w", t.Number, err)
	}
	files = append([]content{{takeFile, append(head, '\n')}}, files...)
	if err := writeZip(w, files, t.Kept); err != nil {
		return fmt.Errorf("take %d could not be written; the file is not complete: %w", t.Number, err)
	}
	return nil
}

// pack collects what goes into an export.
func (b *Book) pack(t Take) (passport, []content, error) {
	flac, err := b.AuditionFLAC(t.ID)
	if err != nil {
		return passport{}, nil, err
	}
	c, err := b.Cue(t.Cue)
	if err != nil {
		return passport{}, nil, err
	}
	p := passport{
		Format: exportFormat, Version: exportVersion,
		Cue:    passportCue{c.Number, c.Name, c.Timecode, c.Note},
		Number: t.Number, Kept: t.Kept, Origin: t.Origin, Tags: append([]string{}, t.Tags...),
		Asked: t.Asked, Seconds: t.Seconds, Rate: t.Rate, Channels: t.Channels, Peak: t.Peak, SHA256: t.SHA256,
		Kinds: t.Kinds, Program: t.Program, Recordings: []passportSource{},
	}
	if p.Job, p.From, err = b.origins(t, c); err != nil {
		return passport{}, nil, err
	}
	files := []content{{patchFile, t.PatchJSON}, {memoryFile, t.MemoryJSON}, {noteFile, []byte(t.Note)}, {auditionFile, flac}}
	for _, r := range t.Recordings {
		file, err := b.Recording(r.SHA256)
		if err != nil {
			return passport{}, nil, err
		}
		info, err := recording.Check(file)
		if err != nil {
			return passport{}, nil, err
		}
		name := recordingFolder + r.SHA256 + endings[info.Format]
		p.Recordings = append(p.Recordings, passportSource{name, r.Name})
		files = append(files, content{name, file})
	}
	return p, files, nil
}

var endings = map[recording.Container]string{
	recording.WAV: ".wav", recording.FLAC: ".flac", recording.Vorbis: ".ogg", recording.MP3: ".mp3",
}

// origins returns the name of a take's job, and the number of its parent if
// that is a take of the same cue.
func (b *Book) origins(t Take, c Cue) (job string, from int, err error) {
	if err := b.read.QueryRow("SELECT name FROM job WHERE id = ?", c.Job).Scan(&job); err != nil {
		return "", 0, missing(err)
	}
	if t.From != 0 {
		parent, err := b.Take(t.From)
		if err != nil {
			return "", 0, err
		}
		if parent.Cue == t.Cue {
			from = parent.Number
		}
	}
	return job, from, nil
}

// writeZip writes the files in their order, stored, all of the same time.
func writeZip(w io.Writer, files []content, at time.Time) error {
	z := zip.NewWriter(w)
	for _, f := range files {
		head := &zip.FileHeader{Name: f.name, Method: zip.Store, Modified: at.UTC().Truncate(time.Second)}
		part, err := z.CreateHeader(head)
		if err != nil {
			return err
		}
		if _, err := io.Copy(part, bytes.NewReader(f.data)); err != nil {
			return err
		}
	}
	return z.Close()
}
