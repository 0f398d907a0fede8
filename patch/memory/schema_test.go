package memory_test

import (
	"bytes"
	"encoding/json"
	"os"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"lampblack/patch/memory"
	"pgregory.net/rapid"
)

const schemaFile = "../../assets/schema/memory.schema.json"

func compiled(t *testing.T, file string) *jsonschema.Schema {
	t.Helper()
	c := jsonschema.NewCompiler()
	c.DefaultDraft(jsonschema.Draft2020)
	s, err := c.Compile(file)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func check(s *jsonschema.Schema, file []byte) error {
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(file))
	if err != nil {
		return err
	}
	return s.Validate(v)
}

func fixture(t *testing.T, name string) []byte {
	t.Helper()
	file, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return file
}

func TestTheSchemaIsOfItsDraft(t *testing.T) {
	meta := compiled(t, "https://json-schema.org/draft/2020-12/schema") // it lies in the library
	if err := check(meta, fixture(t, schemaFile)); err != nil {
		t.Error(err)
	}
}

func TestEveryMemoryFileKeepsTheSchema(t *testing.T) {
	s := compiled(t, schemaFile)
	files := map[string][]byte{"version1.json": fixture(t, "testdata/version1.json")}
	var job struct {
		Cues []struct {
			Takes []struct{ Memory json.RawMessage }
		}
	}
	if err := json.Unmarshal(fixture(t, "../../assets/demo/job.json"), &job); err != nil {
		t.Fatal(err)
	}
	for _, c := range job.Cues {
		for _, k := range c.Takes {
			files["demo: "+string(k.Memory)] = k.Memory
		}
	}
	if len(files) < 4 {
		t.Errorf("only %d memories were found", len(files))
	}
	for name, file := range files {
		if err := check(s, file); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestEveryMemoryThatIsWrittenKeepsTheSchema(t *testing.T) {
	s := compiled(t, schemaFile)
	rapid.Check(t, func(t *rapid.T) {
		file, err := anyMemory(t).JSON()
		if err != nil {
			t.Fatal(err)
		}
		if err := check(s, file); err != nil {
			t.Fatalf("%v\n%s", err, file)
		}
	})
}

func TestTheSchemaAndTheReaderAgree(t *testing.T) {
	s := compiled(t, schemaFile)
	const good = `{"lampblack memory": 1, "length": "2 s", "speed": 1, "repeat": false,
		"notes": [{"at": "0.25 s", "for": "500 ms", "pitch": "D4", "velocity": 0.8}]}`
	for _, c := range []struct {
		old, new string
		taken    bool
	}{
		{`"D4"`, `"D4"`, true},
		{`"D4"`, `"Eb3 +12.3 c"`, true},
		{`"D4"`, `"C\u266f-1"`, true},
		{`"D4"`, `"440 Hz"`, true},
		{`"D4"`, `-1.25`, true},
		{`"500 ms"`, `"2e-05 s"`, true},
		{`"speed": 1`, `"speed": 0`, true},
		{`"speed": 1, "repeat": false,`, ``, true},
		{`"velocity": 0.8`, `"velocity": 0.8, "rest": true`, true},
		{`"lampblack memory": 1`, `"lampblack memory": 2`, false},
		{`"lampblack memory": 1,`, ``, false},
		{`"length": "2 s",`, ``, false},
		{`"2 s"`, `2`, false},
		{`"2 s"`, `"2"`, false},
		{`"2 s"`, `"-2 s"`, false},
		{`"500 ms"`, `"2e-05 ms"`, false},
		{`"500 ms"`, `"0 s"`, false},
		{`"speed": 1`, `"speed": 21`, false},
		{`"speed": 1`, `"tempo": 1`, false},
		{`"repeat": false`, `"repeat": "no"`, false},
		{`"D4"`, `"H4"`, false},
		{`"D4"`, `""`, false},
		{`"D4"`, `17`, false},
		{`"velocity": 0.8`, `"velocity": 1.1`, false},
		{`, "velocity": 0.8`, ``, false},
		{`"velocity": 0.8`, `"velocity": 0.8, "rest": 1`, false},
	} {
		file := []byte(strings.Replace(good, c.old, c.new, 1))
		if err := check(s, file); (err == nil) != c.taken {
			t.Errorf("%s: the schema says %v", c.new, err)
		}
		var m memory.Memory
		err := m.UnmarshalJSON(file)
		if err == nil {
			err = m.Validate()
		}
		if (err == nil) != c.taken {
			t.Errorf("%s: the reader says %v", c.new, err)
		}
	}
}
