package lesson_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"lampblack/app/lesson"
	"lampblack/assets"
	"lampblack/patch"
)

func embedded(t testing.TB, name string) string {
	t.Helper()
	file, err := assets.Lesson(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(file)
}

func schema(t *testing.T) *jsonschema.Schema {
	t.Helper()
	c := jsonschema.NewCompiler()
	c.DefaultDraft(jsonschema.Draft2020)
	for _, name := range []string{"patch", "memory"} {
		f, err := os.Open("../../assets/schema/" + name + ".schema.json")
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		doc, err := jsonschema.UnmarshalJSON(f)
		if err != nil {
			t.Fatal(err)
		}
		if err := c.AddResource("urn:lampblack:"+name+":1", doc); err != nil {
			t.Fatal(err)
		}
	}
	s, err := c.Compile("../../assets/schema/lesson.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func keeps(s *jsonschema.Schema, file string) error {
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader([]byte(file)))
	if err != nil {
		return err
	}
	return s.Validate(v)
}

func TestEveryLessonKeepsTheSchema(t *testing.T) {
	s := schema(t)
	for _, name := range assets.Lessons() {
		if err := keeps(s, embedded(t, name)); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// The words that the schema lists are those of the program.
func TestTheSchemaKnowsTheWords(t *testing.T) {
	file, err := os.ReadFile("../../assets/schema/lesson.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	var s struct {
		Defs struct {
			Measure struct {
				Properties struct{ What struct{ Enum []string } }
			}
			Step struct {
				Properties struct {
					Watch struct {
						Properties struct{ Instrument struct{ Enum []string } }
					}
				}
			}
		} `json:"$defs"`
	}
	if err := json.Unmarshal(file, &s); err != nil {
		t.Fatal(err)
	}
	names, unit, help := lesson.Measures()
	if got := s.Defs.Measure.Properties.What.Enum; !slices.Equal(got, names) {
		t.Errorf("the schema measures %q, the program %q", got, names)
	}
	if got := s.Defs.Step.Properties.Watch.Properties.Instrument.Enum; !slices.Equal(got, lesson.Instruments()) {
		t.Errorf("the schema's instruments are %q, the program's %q", got, lesson.Instruments())
	}
	guide, err := os.ReadFile("../../assets/lessons/README.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		row := fmt.Sprintf("| `%s` | %s | %s |", name, unit[name], help[name])
		if !strings.Contains(string(guide), strings.ReplaceAll(row, "|  |", "| |")) {
			t.Errorf("the guide for teachers lacks the row\n%s", row)
		}
	}
}

// Each fault is told with the line of the file in which it stands, wherever that
// is; form tells whether the schema can see it too.
func TestFaultsAreToldWithTheirLine(t *testing.T) {
	s := schema(t)
	for _, c := range []struct {
		lesson, old, new, says string
		form                   bool
	}{
		{"05-pulse", `"lampblack lesson": 1`, `"lampblack lesson": 2`, "of version 2", true},
		{"05-pulse", `"lampblack lesson": 1,`, ``, "no lesson file", true},
		{"05-pulse", `"title": "Pulse width"`, `"title": " "`, "the text is empty", true},
		{"05-pulse", `"title": "Pulse width"`, `"title": 5`, "the number 5 stands where a text", true},
		{"05-pulse", `"title": "Pulse width"`, `"colour": "red", "title": "Pulse width"`, `"colour" is not known here`, true},
		{"05-pulse", `"kind": "oscillator"`, `"kind": "siren"`, `siren`, false},
		{"05-pulse", `"width": "50 %"`, `"width": "500 %"`, "out of range", false},
		{"05-pulse", `"to": "out / left"`, `"to": "out / up"`, "up", false},
		{"05-pulse", `"to": "out / left"`, `"to": 4`, "the number 4", true},
		{"05-pulse", `"control": "relay / width"`, `"control": "relay / breadth"`, "the patch has no control relay / breadth; relay has frequency, shape, width", false},
		{"05-pulse", `"from": "50 %", "to": "10 %"`, `"from": "50 %", "to": "150 %"`, "150 %", false},
		{"05-pulse", `"from": "50 %", "to": "10 %"`, `"from": "50 %", "to": "50 %"`, "is no way", false},
		{"05-pulse", `"instrument": "scope"`, `"instrument": "kazoo"`, `"kazoo" is not known; known are scope`, true},
		{"05-pulse", `"A": "relay / out"`, `"A": "relay / exit"`, "relay has out", false},
		{"05-pulse", `"A": "relay / out"`, `"A": "relay"`, "is no place in a patch", true},
		{"05-pulse", `"unit": "%"`, `"unit": "Hz"`, `duty is measured in "%"`, false},
		{"05-pulse", `"tolerance": 0.5`, `"tolerance": 0`, "must be over 0", true},
		{"05-pulse", `"what": "duty"`, `"what": "charm"`, `"charm" is not known`, true},
		{"05-pulse", `"what": "duty"`, `"down": "3 dB", "what": "duty"`, `"down" is not known here`, false},
		{"05-pulse", `"for": "3 s"`, `"for": "3 min"`, "for: ", false},
		{"05-pulse", `"for": "3 s"`, `"for": "300 s"`, "for: ", false},
		{"05-pulse", `"line": "3*f"`, `"line": "3*g"`, `"g" is not known here`, false},
		{"05-pulse", `"line": "3*f"`, `"line": "3*"`, "is no formula", false},
		{"05-pulse", `"line": "3*f"`, `"line": "root(f)"`, `no function "root"`, false},
		{"05-pulse", `"value": "w"`, `"value": "w^2"`, "a power is written pow(x, y)", false},
		{"05-pulse", `"w": "relay / width"`, `"w": "relay / girth"`, "the patch has no control relay / girth", false},
		{"04-envelopes", `"pitch": "A4"`, `"pitch": "H4"`, "H4", true},
		{"04-envelopes", `"velocity": 0.8`, `"velocity": 8`, "velocity", true},
		{"02-vibrato", `"d": "push / out -> pane / frequency"`, `"d": "push / out -> pane / phase"`, "the patch has no cord push / out -> pane / phase", false},
	} {
		good := embedded(t, c.lesson)
		if err := keeps(s, good); err != nil {
			t.Fatal(err)
		}
		at := strings.Index(good, c.old)
		if at < 0 {
			t.Errorf("%s has no %s", c.lesson, c.old)
			continue
		}
		bad := good[:at] + c.new + good[at+len(c.old):]
		line := 1 + strings.Count(good[:at], "\n")
		if c.lesson == "05-pulse" && strings.Contains(c.says, "no lesson file") {
			line = 1 // of the whole
		}
		_, err := lesson.Load([]byte(bad))
		want := fmt.Sprintf("line %d: ", line)
		if err == nil || !strings.Contains(err.Error(), c.says) || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: told is\n%v\nwant %q and %q", c.new, err, want, c.says)
		}
		if c.form && keeps(s, bad) == nil {
			t.Errorf("the schema accepts %s", c.new)
		}
	}
}

func TestAllFaultsAreToldAtOnce(t *testing.T) {
	bad := embedded(t, "05-pulse")
	for old, new := range map[string]string{
		`"title": "Pulse width"`: `"title": ""`, `"width": "50 %"`: `"width": "500 %"`, `"unit": "%"`: `"unit": "s"`, `"listen"`: `"hear"`,
	} {
		bad = strings.Replace(bad, old, new, 1)
	}
	_, err := lesson.Load([]byte(bad))
	faults := patch.Faults(err)
	if len(faults) != 5 { // "hear" is unknown, and "listen" is missing
		t.Errorf("told are %d faults, want 5:\n%v", len(faults), err)
	}
	for _, f := range faults {
		if f.Line == 0 {
			t.Errorf("%v: without its line", f)
		}
	}
}

func TestALessonHoldsNoRecordings(t *testing.T) {
	bad := strings.Replace(embedded(t, "05-pulse"), `"modules": [`, "\"modules\": [\n{\"name\": \"tape\", \"kind\": \"recording\", \"file\": {\"name\": \"a.wav\"}},", 1)
	if _, err := lesson.Load([]byte(bad)); err == nil || !strings.Contains(err.Error(), "without recordings") {
		t.Errorf("%v; want recordings refused", err)
	}
}

// Check finds what is too loud and what its theory does not say.
func TestCheckFindsWhatDoesNotHold(t *testing.T) {
	for _, c := range []struct{ old, new, says string }{
		{`"level": "-15 dB"`, `"level": "+6 dB"`, "a lesson may have -6 at most"},
		{`"level": "-15 dB"`, `"level": "-96 dB"`, "nothing is heard"},
		{`"value": "w"`, `"value": "w + 2"`, "theory says 52.00 %"},
		{`"value": "w"`, `"value": "1/(w-50)"`, "gives no number"},
	} {
		l, err := lesson.Load([]byte(strings.Replace(embedded(t, "05-pulse"), c.old, c.new, 1)))
		if err != nil {
			t.Fatal(err)
		}
		if _, err := lesson.Check(t.Context(), l); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v; want %q", c.new, err, c.says)
		}
	}
}

func FuzzLoad(f *testing.F) {
	for _, name := range assets.Lessons() {
		f.Add([]byte(embedded(f, name)))
	}
	f.Add([]byte(`{"lampblack lesson": 1, "patch": [], "memory": 3, "steps": [{}]}`))
	f.Add([]byte(`{"lampblack lesson": 1, "steps": [{"move": {}, "watch": 1, "question": {"measure": {"what": "line"}, "where": {"a": "b -> c"}}}]}`))
	f.Fuzz(func(t *testing.T, file []byte) {
		l, err := lesson.Load(file)
		if err == nil && len(l.Steps) == 0 {
			t.Error("a lesson without steps is taken")
		}
		var fault *patch.Fault
		if err != nil && errors.As(err, &fault) && fault.Message == "" {
			t.Errorf("a fault says nothing: %v", err)
		}
		for i := range l.Steps {
			l.At(i, 0.5)
		}
	})
}
