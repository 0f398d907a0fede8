package patch_test

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"lampblack/patch"
	"pgregory.net/rapid"
)

const schemaFile = "../assets/schema/patch.schema.json"

func schema(t *testing.T) *jsonschema.Schema {
	t.Helper()
	c := jsonschema.NewCompiler()
	c.DefaultDraft(jsonschema.Draft2020)
	s, err := c.Compile(schemaFile)
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

func TestTheSchemaIsOfItsDraft(t *testing.T) {
	v, err := os.ReadFile(schemaFile)
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	meta, err := c.Compile("https://json-schema.org/draft/2020-12/schema") // it lies in the library
	if err != nil {
		t.Fatal(err)
	}
	if err := check(meta, v); err != nil {
		t.Error(err)
	}
}

func TestEveryPatchFileKeepsTheSchema(t *testing.T) {
	s := schema(t)
	files := []string{"testdata/version1.json"}
	for _, folder := range []string{"../assets/patches/*.json", "../assets/demo/*.json"} {
		found, err := filepath.Glob(folder)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, found...)
	}
	for _, name := range files {
		if filepath.Base(name) == "job.json" {
			continue // the demo's list of takes is no patch
		}
		file, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if err := check(s, file); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if _, err := patch.Read(file); err != nil {
			t.Errorf("%s: the schema accepts what the reader refuses: %v", name, err)
		}
	}
}

func TestEveryPatchThatIsWrittenKeepsTheSchema(t *testing.T) {
	s := schema(t)
	rapid.Check(t, func(t *rapid.T) {
		file := anyPatch(t).JSON()
		if err := check(s, file); err != nil {
			t.Fatalf("%v\n%s", err, file)
		}
	})
}

// The schema has to refuse what a reader would refuse by form alone.
func TestTheSchemaAndTheReaderRefuseTheSame(t *testing.T) {
	s := schema(t)
	good := string(fixture(t, "version1.json"))
	for _, c := range []struct{ old, new string }{
		{`"lampblack patch": 1`, `"lampblack patch": 2`},
		{`"seed": 18446744073709551615`, `"seed": -1`},
		{`"seed": 18446744073709551615`, `"seed": 18446744073709551616`},
		{`"name": "moths`, `"colour": 1, "name": "moths`},
		{`"kind": "slow",`, ``},
		{`"at": [20, 290.5]`, `"at": [20]`},
		{`"rate": "310 mHz"`, `"rate": 0.31`},
		{`"rate": "310 mHz"`, `"rate": ""`},
		{`"rate": "310 mHz"`, `"rate": "` + strings.Repeat("1", 65) + `"`},
		{`"from": "voice / out", `, ``},
		{`"voice / out"`, `"voice"`},
		{`"name": "sounds/vent.wav", `, ``},
	} {
		bad := strings.Replace(good, c.old, c.new, 1)
		if bad == good {
			t.Fatalf("the fixture has no %s", c.old)
		}
		if check(s, []byte(bad)) == nil {
			t.Errorf("the schema accepts %s", c.new)
		}
		if _, err := patch.Read([]byte(bad)); err == nil {
			t.Errorf("the reader accepts %s", c.new)
		}
	}
}
