package memory_test

import (
	"encoding/json"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"lampblack/patch/memory"
	"pgregory.net/rapid"
)

// A file of version 1 must load for ever, whatever later versions look like.
func TestAFileOfVersion1LoadsAndIsWrittenUnchanged(t *testing.T) {
	file, err := os.ReadFile("testdata/version1.json")
	if err != nil {
		t.Fatal(err)
	}
	var m memory.Memory
	if err := json.Unmarshal(file, &m); err != nil {
		t.Fatal(err)
	}
	cents := 12.3 // a variable: constants would be added with more than float64's digits
	want := memory.Memory{Length: 8.2, Speed: 0.72, Repeat: true, Notes: []memory.Note{
		{At: 0.25, For: 0.5, Pitch: d4, Velocity: 0.8},
		{At: 0.75, For: 1.0 / 3, Pitch: e4, Velocity: 1, Rest: true},
		{At: 2, For: 0.000020833333333333333, Pitch: float64(d4) + cents/1200, Velocity: 0.8},
		{At: 2, For: 1, Pitch: 0.1, Velocity: 0},
	}}
	if d := cmp.Diff(want, m); d != "" {
		t.Errorf("-want +got:\n%s", d)
	}
	if written, err := m.JSON(); err != nil || string(written) != string(file) {
		t.Errorf("written again (%v):\n%s", err, cmp.Diff(string(file), string(written)))
	}
}

func TestWhatIsWrittenComesBackUnchanged(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := anyMemory(t)
		file, err := m.JSON()
		if err != nil {
			t.Fatal(err)
		}
		packed, err := json.Marshal(map[string]memory.Memory{"memory": m}) // as a part of another file
		if err != nil {
			t.Fatal(err)
		}
		var read memory.Memory
		var parts map[string]memory.Memory
		if err := json.Unmarshal(file, &read); err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(packed, &parts); err != nil {
			t.Fatal(err)
		}
		for _, got := range []memory.Memory{read, parts["memory"]} {
			if d := cmp.Diff(m, got, cmpopts.EquateEmpty()); d != "" {
				t.Fatalf("-written +read:\n%s", d)
			}
		}
	})
}

func TestAFileThatIsNoMemoryIsRefused(t *testing.T) {
	note := func(text string) string {
		return `{"lampblack memory": 1, "length": "2 s", "notes": [` + text + `]}`
	}
	for _, c := range []struct{ file, says string }{
		{``, "empty"},
		{`[]`, "an array stands where an object"},
		{`{"length": "2 s"}`, `"lampblack memory" is missing`},
		{`{"lampblack memory": 2, "lanes": []}`, "version 2; this program reads version 1"},
		{`{"lampblack memory": 1}`, `"length" is missing`},
		{`{"lampblack memory": 1, "length": 2}`, "the number 2 stands where a text"},
		{`{"lampblack memory": 1, "length": "NaN s"}`, "is no time"},
		{`{"lampblack memory": 1, "length": "1e999 s"}`, "is no time"},
		{`{"lampblack memory": 1, "length": "0x2 s"}`, "is no time"},
		{`{"lampblack memory": 1, "length": "1e3 ms"}`, "is no time"},
		{`{"lampblack memory": 1, "length": "2"}`, "is no time"},
		{`{"lampblack memory": 1, "length": "2 s", "tempo": 3}`, `"tempo" is not known`},
		{`{"lampblack memory": 1, "length": "2 s", "length": "3 s"}`, "second time"},
		{note(`{"at": "0 s"}`), `note 1: "for" is missing`},
		{note(`{"at": "0 s", "for": "1 s", "pitch": "H4", "velocity": 1}`), `note 1: pitch: "H4" is no pitch; allowed are notes such as`},
		{note(`{"at": "0 s", "for": "1 s", "pitch": "A99", "velocity": 1}`), "more than 16 octaves"},
		{note(`{"at": "0 s", "for": "1 s", "pitch": null, "velocity": 1}`), "null stands"},
		{note(`{"at": "0 s", "for": "1 s", "pitch": 1e999, "velocity": 1}`), "too large"},
		{note(strings.Repeat(`0,`, memory.MaxNotes) + `0`), "100001 notes; allowed are 100000"},
	} {
		m := memory.Memory{Length: 3}
		if err := m.UnmarshalJSON([]byte(c.file)); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%.80s: %.200v; want it refused saying %q", c.file, err, c.says)
		}
		if m.Length != 3 {
			t.Errorf("%.80s: the memory was changed by what was refused", c.file)
		}
	}
}

func TestAMemoryThatIsNoNumberIsNotWritten(t *testing.T) {
	m := memory.Memory{Length: 1, Notes: []memory.Note{{}, {For: math.NaN()}}}
	if _, err := json.Marshal(m); err == nil || !strings.Contains(err.Error(), "note 2") {
		t.Errorf("NaN was written (%v)", err)
	}
}

func FuzzUnmarshal(f *testing.F) {
	if file, err := os.ReadFile("testdata/version1.json"); err == nil {
		f.Add(file)
	}
	for _, s := range []string{
		`{"lampblack memory": 1, "length": "-0 s", "notes": [{"at": "5e-324 s", "for": "-1 s", "pitch": "Cb-1 -0.05 c", "velocity": -0.0}]}`,
		`{"lampblack memory": 1, "length": "NaN s", "speed": 1e400}`,
		`{"lampblack memory": 1, "length": "1 ms", "notes": [{"at": "0 s", "for": "1 s", "pitch": "0.001 Hz", "velocity": 2}]}`,
	} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, file []byte) {
		var m, again memory.Memory
		if m.UnmarshalJSON(file) != nil {
			return // it may refuse, it may not panic
		}
		written, err := m.JSON()
		if err != nil {
			t.Fatalf("accepted, and can't be written: %v", err)
		}
		if err := again.UnmarshalJSON(written); err != nil || !cmp.Equal(m, again) {
			t.Fatalf("accepted, written, and then not the same: %v\n%s", err, written)
		}
		if m.Validate() == nil {
			if _, err := memory.Prepare(m, 48000); err != nil {
				t.Fatalf("valid, and can't be played: %v", err)
			}
		}
	})
}
