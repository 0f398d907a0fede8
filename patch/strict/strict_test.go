package strict_test

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"lampblack/patch/strict"
)

var most = strict.Limits{Bytes: 1000, Values: 100}

func TestAFileThatIsNotStrictJSONIsRefusedWithItsLine(t *testing.T) {
	for _, c := range []struct{ file, says string }{
		{"", "empty"},
		{" \n ", "empty"},
		{"{\n\"a\": 1,\n}", "line 3"},
		{"[1,]", "not JSON"},
		{"[1] 2", "not JSON"},
		{"{\"a\":1}\n{}", "line 2"},
		{"[NaN]", "not JSON"},
		{"[Infinity]", "not JSON"},
		{"{\n\"a\": 1,\n\"b\": 2,\n\"a\": 3}", `line 4: "a" stands a second time; the first is in line 2`},
		{"[\n\"\xff\"]", "line 2: the file is not UTF-8"},
		{strings.Repeat("[", 40) + strings.Repeat("]", 40), "deep"},
		{"[" + strings.Repeat("0,", 200) + "0]", "too many values"},
		{`"` + strings.Repeat("a", 1000) + `"`, "1002 bytes; allowed are 1000"},
		{strings.Repeat("[", 900), "not JSON"},
	} {
		if _, err := strict.Read([]byte(c.file), most); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%.40q: %v; want it refused saying %q", c.file, err, c.says)
		}
	}
}

func TestEveryDuplicateIsTold(t *testing.T) {
	_, err := strict.Read([]byte(`{"a":1,"a":2,"b":{"c":1,"c":1}}`), most)
	if err == nil || strings.Count(err.Error(), "second time") != 2 {
		t.Errorf("two keys stand twice, told is: %v", err)
	}
}

func TestEveryFaultOfAnObjectIsTold(t *testing.T) {
	v, err := strict.Read([]byte("{\n\"name\": 3,\n\"colour\": true,\n\"size\": \"big\", \"seed\": -1, \"list\": {}, \"on\": null}"), most)
	if err != nil {
		t.Fatal(err)
	}
	var told []string
	tell := func(line int, message string) { told = append(told, fmt.Sprintf("%d: %s", line, message)) }
	f := v.Fields(tell, "name", "size", "seed", "list", "on", "at", "note?")
	f["name"].Text(tell)
	f["size"].Number(tell)
	f["seed"].Whole(tell)
	f["list"].Array(tell)
	f["on"].Bool(tell)
	for _, want := range []string{`3: "colour" is not known`, `1: "at" is missing`, "2: the number 3 stands where a text", `4: the text "big"`, "4: the number -1 stands where a whole", "4: an object stands where an array", "4: null stands"} {
		if !strings.Contains(strings.Join(told, "\n"), want) {
			t.Errorf("%q is not told; told is\n%s", want, strings.Join(told, "\n"))
		}
	}
	if len(told) != 7 {
		t.Errorf("told are %d faults, want 7", len(told))
	}
}

func TestNumbersKeepTheirBits(t *testing.T) {
	v, err := strict.Read([]byte("\uFEFF[18446744073709551615, 0.1, 1e999]"), most)
	if err != nil {
		t.Fatal(err)
	}
	faults := 0
	tell := func(int, string) { faults++ }
	if u := v.Items[0].Whole(tell); u != 1<<64-1 {
		t.Errorf("the largest seed is read as %d", u)
	}
	if x := v.Items[1].Number(tell); x != 0.1 || faults != 0 {
		t.Errorf("0.1 is read as %g with %d faults", x, faults)
	}
	if v.Items[2].Number(tell); faults != 1 {
		t.Error("1e999 is taken for a number")
	}
}

func FuzzRead(f *testing.F) {
	for _, s := range []string{`{}`, `[1,2]`, `{"a":{"a":[null,true,"x"]}}`, `{"a":1,"a":1}`, `"\ud800"`, `[[[`} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, file []byte) {
		if _, err := strict.Read(file, strict.Limits{Bytes: 1 << 20, Values: 1 << 16}); err == nil && !json.Valid([]byte(strings.TrimPrefix(string(file), "\uFEFF"))) {
			t.Error("encoding/json refuses what was read")
		}
	})
}
