package command

import (
	"encoding/json"
	"time"

	"lampblack/notebook"
)

// The keys of everything that --json prints about takes. They are told by
// --help and do not change within a major version.

const headingKeys = `With --json: a list of takes with take, key, job, cue, cue_name, timecode,
number, kept (RFC 3339), from (a take's name), from_key, note, tags, star,
seconds, rate (Hz), channels, peak (1 = full scale), peak_dbfs, sha256 (of the
render's samples), kinds {kind: version}, program.`

type headingJSON struct {
	Take     string         `json:"take"`
	Key      string         `json:"key"`
	Job      string         `json:"job"`
	Cue      string         `json:"cue"`
	CueName  string         `json:"cue_name"`
	Timecode string         `json:"timecode"`
	Number   int            `json:"number"`
	Kept     time.Time      `json:"kept"`
	From     string         `json:"from,omitempty"`
	FromKey  string         `json:"from_key,omitempty"`
	Note     string         `json:"note"`
	Tags     []string       `json:"tags"`
	Star     bool           `json:"star"`
	Seconds  float64        `json:"seconds"`
	Rate     int            `json:"rate"`
	Channels int            `json:"channels"`
	Peak     float64        `json:"peak"`
	PeakDBFS *float64       `json:"peak_dbfs"` // null for silence
	SHA256   string         `json:"sha256"`
	Kinds    map[string]int `json:"kinds"`
	Program  string         `json:"program"`
}

func newHeadingJSON(l line, all contents) headingJSON {
	h := l.take
	j := headingJSON{
		Take: l.name(), Key: l.key(), Job: l.job.Name, Cue: l.cue.Number, CueName: l.cue.Name,
		Timecode: l.cue.Timecode, Number: h.Number, Kept: h.Kept, Note: h.Note,
		Tags: append([]string{}, h.Tags...), Star: h.Star, Seconds: h.Seconds, Rate: h.Rate,
		Channels: h.Channels, Peak: h.Peak, PeakDBFS: dbfs(h.Peak), SHA256: h.SHA256, Kinds: h.Kinds, Program: h.Program,
	}
	if from, ok := all.byID(h.From); ok {
		j.From, j.FromKey = from.name(), from.key()
	}
	return j
}

func newHeadingsJSON(lines []line, all contents) []headingJSON {
	list := []headingJSON{}
	for _, l := range lines {
		list = append(list, newHeadingJSON(l, all))
	}
	return list
}

const takeKeys = `With --json: the keys of take list, and changes [{text, module, place,
before, after}], origin (what an imported take was, elsewhere), recordings [{name,
sha256, bytes}], patch and memory as they were written (the forms of a patch file
and of a memory file).`

type takeJSON struct {
	headingJSON
	Changes    []change        `json:"changes"`
	Origin     string          `json:"origin,omitempty"`
	Recordings []recordingJSON `json:"recordings"`
	Patch      json.RawMessage `json:"patch"`
	Memory     json.RawMessage `json:"memory"`
}

// change is one difference from the take that another came from.
type change struct {
	Text   string `json:"text"` // the whole change as a sentence
	Module string `json:"module"`
	Place  string `json:"place"`
	Before string `json:"before"`
	After  string `json:"after"`
}

type recordingJSON struct {
	Name   string `json:"name"`
	SHA256 string `json:"sha256"`
	Bytes  int64  `json:"bytes"`
}

func newTakeJSON(l line, t notebook.Take, p page, all contents) takeJSON {
	j := takeJSON{
		headingJSON: newHeadingJSON(l, all), Origin: t.Origin,
		Changes: append([]change{}, p.changes...), Recordings: []recordingJSON{},
		Patch: t.PatchJSON, Memory: t.MemoryJSON,
	}
	for _, r := range t.Recordings {
		j.Recordings = append(j.Recordings, recordingJSON{r.Name, r.SHA256, r.Bytes})
	}
	return j
}
