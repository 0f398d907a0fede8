package app

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"image"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// The main job in the real window: the program runs under Xvfb with the
// software GL driver, and xdotool is the hand on its keys and mouse. What it
// did is read from outside, by the commands and SQLite's own shell.
// LAMPBLACK_PICTURES=folder keeps the pictures of the window.
func TestTheMainJobInARealWindow(t *testing.T) {
	if testing.Short() {
		t.Skip("drives a real window for half a minute")
	}
	needTools(t, "Xvfb", "xdotool", "import", "sqlite3")
	d := newDisplay(t, 1440, 900)
	book := filepath.Join(t.TempDir(), "story.lampblack")

	w := d.open(book)
	d.await("the demo job", func() bool { return len(d.takes(book)) == 19 && d.draft(book) != "" })
	d.keys("space")
	d.settle()
	d.picture("soot")
	d.keys("space")

	third := d.query(book, "SELECT parent FROM draft WHERE id = 1")

	// Turn a ruler with the mouse: reed's cutoff.
	d.drag(741, 528, 640, 528)
	d.await("the cutoff turned", func() bool { return !strings.Contains(d.draft(book), `"cutoff": "2.10 kHz"`) })

	// Add a module, join it, turn a control.
	d.keys("Insert")
	d.types("noise")
	d.keys("Return")
	d.await("a second noise module", func() bool { return strings.Contains(d.draft(book), `"name": "noise"`) })
	d.keys("ctrl+j")
	d.types("wings modulation")
	d.keys("Return")
	d.await("its cord", func() bool {
		return strings.Contains(d.draft(book), `"from": "noise / out", "to": "wings / modulation"`)
	})
	d.keys("F6", "Right") // the first ruler: colour
	d.await("the colour turned", func() bool { return strings.Contains(d.draft(book), `"colour": "pink"`) })

	// Play, keep, look at it on paper.
	d.keys("space")
	d.hold("a", 300*time.Millisecond)
	d.keys("ctrl+k")
	d.await("take 4 under 1M4", func() bool { return d.has(book, "1M4/4") })
	kept := d.query(book, "SELECT max(id) FROM take")
	d.keys("ctrl+t", "space")
	d.settle()
	d.picture("paper")
	d.quit(w)

	// Weeks later: recall another, then this one, and prove it.
	w = d.open(book)
	d.await("the bench as it was left", func() bool { return d.query(book, "SELECT parent FROM draft WHERE id = 1") == kept })
	d.keys("F6", "F6", "F6", "F6", "F6", "F6") // sheet, rulers, memory, instruments, note, contents
	d.keys("Up", "Return")
	d.await("take 3 on the bench", func() bool { return d.query(book, "SELECT parent FROM draft WHERE id = 1") == third })
	d.keys("Down", "Return")
	d.await("take 4 on the bench", func() bool { return d.query(book, "SELECT parent FROM draft WHERE id = 1") == kept })
	d.keys("F8")
	time.Sleep(2 * time.Second) // the proof is told on the page only: see the picture
	d.picture("proof")
	d.quit(w)

	out, err := exec.Command(d.program, "prove", "1M4/4", "--notebook", book).CombinedOutput()
	if err != nil || !bytes.Contains(out, []byte("bit-identical")) {
		t.Errorf("the proof from outside: %v\n%s", err, out)
	}
	t.Logf("%s", out)
	check, err := exec.Command("sqlite3", book, "PRAGMA integrity_check").Output()
	if err != nil || strings.TrimSpace(string(check)) != "ok" {
		t.Errorf("SQLite's own check says %q, %v", check, err)
	}
}

// The system asks the program to end: what is on the bench is stored, and
// nothing is complained about, even while the demo job is being made.
func TestASignalClosesTheRealWindow(t *testing.T) {
	if testing.Short() {
		t.Skip("opens a real window twice")
	}
	needTools(t, "Xvfb", "xdotool", "sqlite3")
	d := newDisplay(t, 1440, 900)
	book := filepath.Join(t.TempDir(), "signal.lampblack")
	w := d.open(book)
	d.asks(w, syscall.SIGINT) // too early for the demo job to be complete

	w = d.open(book)
	d.await("the demo job", func() bool { return len(d.takes(book)) == 19 && d.draft(book) != "" })
	d.keys("Insert")
	d.types("noise")
	d.keys("Return")
	d.await("the module", func() bool { return strings.Contains(d.draft(book), `"name": "noise"`) })
	d.run("xdotool", "key", "Insert", "a", "Escape") // may come while it closes
	d.asks(w, syscall.SIGTERM)
	if !strings.Contains(d.draft(book), `"name": "noise"`) {
		t.Error("what was on the bench when the program was asked to end is not stored")
	}
}

// asks sends the program a signal, and expects it to end in silence.
func (d *display) asks(w *window, signal os.Signal) {
	d.t.Helper()
	if err := w.process.Process.Signal(signal); err != nil {
		d.t.Fatal(err)
	}
	d.ends(w)
}

func needTools(t testing.TB, names ...string) {
	t.Helper()
	for _, name := range names {
		if _, err := exec.LookPath(name); err == nil {
			continue
		}
		if os.Getenv("LAMPBLACK_TOOLS") == "must" {
			t.Fatalf("%s is missing: .ci/need test installs it", name)
		}
		t.Skipf("%s is missing: .ci/need test installs it", name)
	}
}

// display is a screen of the test's own, with the program on it.
type display struct {
	t       testing.TB
	name    string
	program string
	home    string
}

func newDisplay(t testing.TB, width, height int) *display {
	t.Helper()
	d := &display{t: t, program: program(t), home: t.TempDir()}
	// Xvfb finds a free number itself and writes it to the pipe.
	read, write, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	server := exec.Command("Xvfb", "-displayfd", "3", "-screen", "0", fmt.Sprintf("%dx%dx24", width, height))
	server.ExtraFiles = []*os.File{write}
	if err := server.Start(); err != nil {
		t.Fatal(err)
	}
	write.Close()
	t.Cleanup(func() { server.Process.Kill(); server.Wait() })
	var number int
	if _, err := fmt.Fscan(read, &number); err != nil {
		t.Fatalf("Xvfb did not start: %v", err)
	}
	d.name = fmt.Sprintf(":%d", number)
	return d
}

func (d *display) command(name string, args ...string) *exec.Cmd {
	c := exec.Command(name, args...)
	c.Env = append(os.Environ(), "DISPLAY="+d.name, "LIBGL_ALWAYS_SOFTWARE=1",
		"XDG_CONFIG_HOME="+d.home, "XDG_DATA_HOME="+d.home, "HOME="+d.home)
	return c
}

// window is the running program.
type window struct {
	process *exec.Cmd
	output  bytes.Buffer
	done    chan error
}

// open starts the program and waits for its window to have the keys.
func (d *display) open(book string, more ...string) *window {
	d.t.Helper()
	w := &window{process: d.command(d.program, append([]string{"--notebook", book}, more...)...), done: make(chan error, 1)}
	w.process.Stdout, w.process.Stderr = &w.output, &w.output
	if err := w.process.Start(); err != nil {
		d.t.Fatal(err)
	}
	go func() { w.done <- w.process.Wait() }()
	d.t.Cleanup(func() { w.process.Process.Kill() })
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	find := d.command("xdotool", "search", "--sync", "--onlyvisible", "--name", "Lampblack", "windowsize", "%@", "1440", "900", "windowfocus", "--sync", "%@")
	go func() { <-ctx.Done(); find.Process.Kill() }()
	if out, err := find.CombinedOutput(); err != nil {
		d.t.Fatalf("no window: %v\n%s%s", err, out, w.output.String())
	}
	return w
}

// quit asks the program to end as a person would, and expects silence on its
// standard output and error.
func (d *display) quit(w *window) {
	d.t.Helper()
	d.run("xdotool", "key", "--clearmodifiers", "ctrl+q")
	for i := range 12 { // a hand that is on its way to the mouse's next place
		d.run("xdotool", "mousemove", fmt.Sprint(400+40*i), fmt.Sprint(200+30*i))
	}
	d.ends(w)
}

func (d *display) ends(w *window) {
	d.t.Helper()
	select {
	case err := <-w.done:
		if err != nil {
			d.t.Errorf("the program ended with %v", err)
		}
	case <-time.After(30 * time.Second):
		d.t.Fatal("the program did not end")
	}
	if said := w.output.String(); said != "" {
		d.t.Errorf("the program wrote to its standard output or error:\n%s", said)
	}
}

// keys presses keys one after the other, each once the one before is drawn.
func (d *display) keys(names ...string) {
	d.t.Helper()
	for _, name := range names {
		d.run("xdotool", "key", "--clearmodifiers", name)
		d.settle()
	}
}

func (d *display) types(text string) {
	d.t.Helper()
	d.run("xdotool", "type", "--delay", "30", text)
	d.settle()
}

func (d *display) hold(key string, long time.Duration) {
	d.t.Helper()
	d.run("xdotool", "keydown", key)
	time.Sleep(long) // how long a person holds it
	d.run("xdotool", "keyup", key)
	d.settle()
}

// settle gives the window the time that a person takes between two keys.
func (d *display) settle() { time.Sleep(250 * time.Millisecond) }

func (d *display) run(name string, args ...string) []byte {
	d.t.Helper()
	out, err := d.command(name, args...).Output()
	if err != nil {
		d.t.Fatalf("%s %s: %v", name, strings.Join(args, " "), err)
	}
	return out
}

// await waits until something is so, for a minute at most.
func (d *display) await(what string, done func() bool) {
	d.t.Helper()
	for end := time.Now().Add(time.Minute); time.Now().Before(end); time.Sleep(100 * time.Millisecond) {
		if done() {
			return
		}
	}
	d.picture("waiting")
	d.t.Fatalf("waited in vain for %s", what)
}

// screen returns what the screen shows.
func (d *display) screen() image.Image {
	d.t.Helper()
	img, err := png.Decode(bytes.NewReader(d.run("import", "-window", "root", "png:-")))
	if err != nil {
		d.t.Fatal(err)
	}
	return img
}

// picture keeps the screen where LAMPBLACK_PICTURES says.
func (d *display) picture(name string) {
	d.t.Helper()
	folder := os.Getenv("LAMPBLACK_PICTURES")
	if folder == "" {
		return
	}
	d.settle()
	f, err := os.Create(filepath.Join(folder, name+".png"))
	if err != nil {
		d.t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, d.screen()); err != nil {
		d.t.Fatal(err)
	}
}

// takes lists the takes of a notebook, read while the window has it open.
func (d *display) takes(book string) []string {
	out, err := exec.Command(d.program, "take", "list", "--json", "--notebook", book).Output()
	if err != nil {
		return nil // it is just being made
	}
	var list []struct{ Take string }
	if err := json.Unmarshal(out, &list); err != nil {
		d.t.Fatalf("%v in %s", err, out)
	}
	var names []string
	for _, take := range list {
		names = append(names, take.Take)
	}
	return names
}

func (d *display) has(book, take string) bool {
	for _, name := range d.takes(book) {
		if name == take {
			return true
		}
	}
	return false
}

// draft returns the patch of the work in progress, as it is stored.
func (d *display) draft(book string) string {
	return d.query(book, "SELECT patch FROM draft WHERE id = 1")
}

// query asks the notebook from outside, with SQLite's own shell.
func (d *display) query(book, sql string) string {
	out, err := exec.Command("sqlite3", "-readonly", book, sql).Output()
	if err != nil {
		return ""
	}
	return strings.TrimSpace(string(out))
}

// drag presses the mouse at one place and lets it go at another.
func (d *display) drag(x0, y0, x1, y1 int) {
	d.t.Helper()
	at := func(x, y int) []string { return []string{"mousemove", fmt.Sprint(x), fmt.Sprint(y)} }
	d.run("xdotool", append(at(x0, y0), "mousedown", "1")...)
	for i := 1; i <= 10; i++ {
		d.run("xdotool", at(x0+(x1-x0)*i/10, y0+(y1-y0)*i/10)...)
	}
	d.run("xdotool", "mouseup", "1")
	d.settle()
}
