//go:build unix

package notebook

import (
	"bufio"
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

const (
	keeperEnv = "LAMPBLACK_TEST_KEEPER"
	makerEnv  = "LAMPBLACK_TEST_MAKER"
)

// killWithin is how long after the start of writing a kill comes at the latest;
// a keep of the child's take writes for about as long.
const killWithin = 6 * time.Millisecond

// Programs are killed at random moments while they keep takes, again and again
// in the same notebook. Every take that was reported as kept is there and
// sound, none is half there, and the draft is at least the last one that was
// reported as stored.
func TestKillsWhileKeeping(t *testing.T) {
	kills := 200
	if testing.Short() {
		kills = 20
	}
	b := openNew(t)
	glasshouse(t, b)
	path := b.Path()
	b.Close()
	random := rand.New(rand.NewPCG(1, uint64(time.Now().UnixNano())))
	reported, inside, unreported := 0, 0, 0
	for kill := range kills {
		said := killWhile(t, keeperEnv, path, "writing", time.Duration(random.Int64N(int64(killWithin))))
		kept, draft := 0, ""
		for _, line := range said {
			word, rest, _ := strings.Cut(line, " ")
			switch word {
			case "kept":
				kept++
				var number int
				fmt.Sscan(rest, &number)
				reported = max(reported, number)
			case "draft":
				draft = rest
			}
		}
		if strings.HasPrefix(said[len(said)-1], "writing") {
			inside++
		}
		if there := examine(t, path, reported, draft); there > reported {
			unreported++
			reported = there // whole, as every other: the kill came between the commit and its report
		}
		if t.Failed() {
			t.Fatalf("after kill %d; the program had said %q", kill+1, said)
		}
	}
	b = openAt(t, path)
	takes := must(b.AllTakes())(t)
	for _, h := range takes {
		if p, err := b.Prove(context.Background(), h.ID, nil); err != nil || !p.OK() {
			t.Errorf("%v, %v", p, err)
		}
	}
	if h := must(b.Check(context.Background(), nil))(t); len(h.Faults) > 0 {
		t.Errorf("faults: %q", h.Faults)
	}
	t.Logf("%d kills, %d of them between the start of a keep's writing and its report (in %d the take was not there, in %d it was whole); %d takes are there, 0 that were reported are lost, integrity_check ok after every kill",
		kills, inside, inside-unreported, unreported, len(takes))
	if inside == 0 {
		t.Error("no kill hit a keep: the test shows nothing")
	}
}

// examine opens a notebook after a kill and returns how many takes are there.
func examine(t *testing.T, path string, reported int, draft string) int {
	t.Helper()
	b, err := Open(path, testOptions())
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	var sound string
	if err := b.read.QueryRow("PRAGMA integrity_check").Scan(&sound); err != nil || sound != "ok" {
		t.Errorf("integrity_check says %q, %v", sound, err)
	}
	takes := must(b.Takes(1))(t)
	if len(takes) < reported {
		t.Errorf("%d takes are there, %d were reported as kept", len(takes), reported)
	}
	for i, h := range takes {
		if h.Number != i+1 {
			t.Errorf("take %d stands at place %d", h.Number, i+1)
		}
	}
	if n := len(takes); n > 0 { // the one that the kill may have cut
		if _, err := b.Take(takes[n-1].ID); err != nil {
			t.Error(err)
		}
		if _, _, err := b.Audition(takes[n-1].ID); err != nil {
			t.Error(err)
		}
	}
	if d, ok, err := b.Draft(); err != nil || draft != "" && (!ok || len(d.Note) < len(draft)) {
		t.Errorf("the draft is %q, %q was reported as stored: %v", d.Note, draft, err)
	}
	return len(takes)
}

// Programs are killed while they make a notebook; what they leave opens.
func TestKillsWhileMaking(t *testing.T) {
	kills := 40
	if testing.Short() {
		kills = 10
	}
	left := map[string]int{}
	for range kills {
		path := filepath.Join(t.TempDir(), "notebook"+Extension)
		killWhile(t, makerEnv, path, "making", time.Duration(rand.Int64N(int64(30*time.Millisecond))))
		info, err := os.Stat(path)
		switch {
		case err != nil:
			left["nothing"]++
		case info.Size() == 0:
			left["an empty file"]++
		default:
			left["a file"]++
		}
		b := openAt(t, path)
		keep(t, b, short(glasshouse(t, b), dust()))
		if h := must(b.Check(context.Background(), nil))(t); len(h.Faults) > 0 || h.Takes != 1 {
			t.Errorf("%+v", h)
		}
		b.Close()
	}
	t.Logf("%d kills left %v; all could be opened and written", kills, left)
}

// killWhile starts a child, waits until it says word, waits for delay, kills it
// with SIGKILL and returns all lines that it said.
func killWhile(t *testing.T, env, path, word string, delay time.Duration) (said []string) {
	t.Helper()
	child := exec.Command(must(os.Executable())(t), "-test.run=^TestCrashChild$")
	child.Env = append(os.Environ(), env+"="+path)
	out := must(child.StdoutPipe())(t)
	if err := child.Start(); err != nil {
		t.Fatal(err)
	}
	lines := bufio.NewScanner(out)
	skip := rand.IntN(3) // so that kills fall upon first and later keeps
	for lines.Scan() {
		said = append(said, lines.Text())
		if strings.HasPrefix(lines.Text(), word) {
			if skip--; skip < 0 || env == makerEnv {
				break
			}
		}
	}
	for start := time.Now(); time.Since(start) < delay; {
	} // a sleep is too coarse for a moment within a transaction
	child.Process.Kill()
	for lines.Scan() {
		said = append(said, lines.Text())
	}
	child.Wait()
	if len(said) == 0 {
		t.Fatal("the child said nothing")
	}
	return said
}

// TestCrashChild is the program that is killed.
func TestCrashChild(t *testing.T) {
	if path := os.Getenv(makerEnv); path != "" {
		fmt.Println("making")
		openAt(t, path)
		select {}
	}
	path := os.Getenv(keeperEnv)
	if path == "" {
		t.Skip("it is the child of the tests that kill")
	}
	b := openAt(t, path)
	note := ""
	for {
		note += "x"
		if err := b.SaveDraft(Draft{Cue: 1, Patch: dust(), Note: note}); err != nil {
			t.Fatal(err)
		}
		fmt.Println("draft", note)
		n := NewTake{Cue: 1, Patch: dust(), Seconds: 0.1, Rate: 8000, Note: note}
		p, err := b.compose(context.Background(), n, nil)
		if err != nil {
			t.Fatal(err)
		}
		fmt.Println("writing")
		if err := b.change(context.Background(), p.write); err != nil {
			t.Fatal(err)
		}
		fmt.Println("kept", p.take.Number)
	}
}
