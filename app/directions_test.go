package app

import (
	"encoding/json"
	"errors"
	"io"
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// chain is the order in which the code may look: each row may import those
// below it, never one above.
var chain = []string{"lampblack/app", "lampblack/notebook", "lampblack/scope", "lampblack/patch"}

// mayNotReach holds what one part must not come to know by any detour.
var mayNotReach = []struct{ from, to, why string }{
	{"lampblack/patch", "fyne.io/fyne/v2", "a patch loads and renders without a screen"},
	{"lampblack/scope", "fyne.io/fyne/v2", "measuring needs no screen"},
	{"lampblack/notebook", "fyne.io/fyne/v2", "a take is kept and proved without a screen"},
	{"lampblack/app/desk", "fyne.io/fyne/v2", "the session is tested without a window"},
	{"lampblack/app/sound", "fyne.io/fyne/v2", "a loudspeaker needs no screen"},
	{"lampblack/app/probing", "fyne.io/fyne/v2", "a test signal goes through a patch without a screen"},
	{"lampblack/scope/sounding", "lampblack/patch", "what an answer tells needs numbers and no patch"},
	{"lampblack/app/lesson", "fyne.io/fyne/v2", "a lesson is read, measured and answered without a screen"},
	{"lampblack/app/lesson", "lampblack/notebook", "a lesson does not know who keeps its takes"},
	{"lampblack/app/command", "fyne.io/fyne/v2", "a command never needs a display"},
	{"lampblack/patch", "github.com/ebitengine/oto/v3", "a patch renders without a sound device"},
	{"lampblack/scope", "github.com/ebitengine/oto/v3", "measuring needs no sound device"},
	{"lampblack/notebook", "github.com/ebitengine/oto/v3", "a take is kept and proved without a sound device"},
	{"lampblack/scope", "lampblack/patch/engine", "the measuring part of scope takes numbers and knows no patch"},
	{"lampblack/scope/picture", "lampblack/patch/engine", "a picture is drawn from numbers, whoever made them"},
	{"lampblack/scope/meter", "lampblack/patch", "meters take numbers and know no patch"},
	{"lampblack/patch/module", "lampblack/patch/engine", "a module's sound does not know who runs it"},
}

type listed struct {
	ImportPath   string
	Imports      []string
	Deps         []string
	TestImports  []string
	XTestImports []string
}

// packages asks the go command for every package of the program.
func packages(t *testing.T) []listed {
	t.Helper()
	out, err := exec.Command("go", "list", "-json=ImportPath,Imports,Deps,TestImports,XTestImports", "lampblack/...").Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	var all []listed
	for d := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p listed
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			return all
		} else if err != nil {
			t.Fatal(err)
		}
		all = append(all, p)
	}
}

func within(path, folder string) bool {
	return path == folder || strings.HasPrefix(path, folder+"/")
}

func rank(path string) int {
	return slices.IndexFunc(chain, func(folder string) bool { return within(path, folder) })
}

func TestNoPackageLooksUp(t *testing.T) {
	seen := make([]bool, len(chain))
	for _, p := range packages(t) {
		from := rank(p.ImportPath)
		if from < 0 {
			continue
		}
		seen[from] = true
		for _, to := range slices.Concat(p.Imports, p.TestImports, p.XTestImports) {
			if r := rank(to); r >= 0 && r < from {
				t.Errorf("%s imports %s, which stands above it", p.ImportPath, to)
			}
		}
	}
	for i, ok := range seen {
		if !ok {
			t.Errorf("%s is gone: mend the chain in this test", chain[i])
		}
	}
}

func TestWhatMustNotBeReached(t *testing.T) {
	all := packages(t)
	known := map[string]bool{}
	for _, p := range all {
		known[p.ImportPath] = true
		for _, d := range p.Deps {
			known[d] = true
		}
	}
	for _, row := range mayNotReach {
		if row.why == "" {
			t.Errorf("%s may not reach %s, but the row says no reason", row.from, row.to)
		}
		if !known[row.to] {
			t.Errorf("%s is gone: mend the row %q", row.to, row.why)
		}
		found := false
		for _, p := range all {
			// patch is the folder with all that lies in it; scope is the measuring part alone.
			if p.ImportPath != row.from && (row.from == "lampblack/scope" || !within(p.ImportPath, row.from)) {
				continue
			}
			if strings.HasPrefix(row.to, p.ImportPath+"/") || p.ImportPath == row.to {
				continue
			}
			found = true
			if slices.ContainsFunc(p.Deps, func(d string) bool { return within(d, row.to) }) {
				t.Errorf("%s reaches %s: but %s", p.ImportPath, row.to, row.why)
			}
		}
		if !found {
			t.Errorf("%s is gone: mend the row %q", row.from, row.why)
		}
	}
}

func TestOnlyTheProgramImportsApp(t *testing.T) {
	for _, p := range packages(t) {
		if p.ImportPath == "lampblack" || within(p.ImportPath, "lampblack/app") {
			continue
		}
		for _, to := range p.Imports {
			if within(to, "lampblack/app") {
				t.Errorf("%s imports %s: only the program itself may", p.ImportPath, to)
			}
		}
	}
}
