package notebook

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
)

// exported is a notebook with a take that has everything, and its export.
func exported(t testing.TB) (b *Book, take Take, file []byte) {
	b = openNew(t)
	cue := glasshouse(t, b)
	audio := wave(t)
	first := keep(t, b, short(cue, dust()))
	n := short(cue, reed(hashOf(audio)))
	n.From, n.Note, n.Tags, n.Memory = first.ID, "Wings at 23 Hz.\nKeep.", []string{"wings", "night"}, twoNotes()
	n.Recordings = map[string][]byte{hashOf(audio): audio}
	take = keep(t, b, n)
	return b, take, export(t, b, take.ID)
}

func export(t testing.TB, b *Book, id TakeID) []byte {
	t.Helper()
	var file buffer
	if err := b.Export(id, &file); err != nil {
		t.Fatal(err)
	}
	return file
}

func bring(b *Book, file []byte, into CueID) (Take, error) {
	return b.Import(context.Background(), bytes.NewReader(file), int64(len(file)), into)
}

func TestExportedTakeComesBack(t *testing.T) {
	b, take, file := exported(t)
	if again := export(t, b, take.ID); !bytes.Equal(file, again) {
		t.Error("the same take was exported as other bytes")
	}
	other := openNew(t)
	got := must(bring(other, file, 0))(t)
	if got.Note != take.Note || !reflect.DeepEqual(got.Tags, take.Tags) || !bytes.Equal(got.PatchJSON, take.PatchJSON) ||
		!bytes.Equal(got.MemoryJSON, take.MemoryJSON) || got.SHA256 != take.SHA256 || !reflect.DeepEqual(got.Recordings, take.Recordings) {
		t.Errorf("not the take that was exported: %+v", got)
	}
	if want := "The Glasshouse, 1M4, take 2, kept 2031-05-17T12:00:00Z, from take 1"; got.Origin != want {
		t.Errorf("its origin is %q, want %q", got.Origin, want)
	}
	if cue := must(other.Cue(got.Cue))(t); cue.Number != "1M4" || cue.Name != "Moths at the lamp" || cue.Timecode != "10:02:14:05" {
		t.Errorf("its cue is %+v", cue)
	}
	if p, err := other.Prove(context.Background(), got.ID, nil); err != nil || !p.OK() {
		t.Errorf("%v, %v", p, err)
	}
	if a, b := must(b.AuditionFLAC(take.ID))(t), must(other.AuditionFLAC(got.ID))(t); !bytes.Equal(a, b) {
		t.Error("its audition is another one")
	}
	// A second time it becomes the next take of the same cue; and it can travel on.
	if next := must(bring(other, file, 0))(t); next.Number != 2 || next.Cue != got.Cue {
		t.Errorf("imported again: take %d of cue %d", next.Number, next.Cue)
	}
	onward := must(bring(b, export(t, other, got.ID), take.Cue))(t)
	if onward.Number != 3 || !strings.Contains(onward.Origin, "before that: The Glasshouse, 1M4, take 2") {
		t.Errorf("travelled on: take %d, %q", onward.Number, onward.Origin)
	}
	if h := must(other.Check(context.Background(), nil))(t); len(h.Faults) > 0 {
		t.Errorf("faults: %q", h.Faults)
	}
	if _, err := bring(b, file, 99); !errors.Is(err, ErrMissing) {
		t.Errorf("into a cue that is not there: %v", err)
	}
}

// An export is of open formats: other programs read it.
func TestOtherProgramsReadAnExport(t *testing.T) {
	for _, tool := range []string{"python3", "ffmpeg"} {
		if _, err := exec.LookPath(tool); err != nil {
			t.Skipf("%s is not installed", tool)
		}
	}
	b, take, file := exported(t)
	folder := t.TempDir()
	path := filepath.Join(folder, "take.zip")
	write(t, path, file)
	if said, err := exec.Command("python3", "-m", "zipfile", "-e", path, folder).CombinedOutput(); err != nil {
		t.Fatalf("python3 can't unpack it: %v\n%s", err, said)
	}
	var p map[string]any
	if err := json.Unmarshal(must(os.ReadFile(filepath.Join(folder, "take.json")))(t), &p); err != nil || p["format"] != "lampblack take" || p["version"] != 1.0 {
		t.Errorf("take.json: %v, %v", p, err)
	}
	raw := must(exec.Command("ffmpeg", "-v", "error", "-i", filepath.Join(folder, "audition.flac"), "-f", "s32le", "-").Output())(t)
	samples, _, err := b.Audition(take.ID)
	if err != nil || len(raw) != 4*len(samples[0]) {
		t.Fatalf("ffmpeg reads %d bytes of %d samples, %v", len(raw), len(samples[0]), err)
	}
	for i, x := range samples[0] {
		got := int32(uint32(raw[4*i]) | uint32(raw[4*i+1])<<8 | uint32(raw[4*i+2])<<16 | uint32(raw[4*i+3])<<24)
		if float64(got)/(1<<31) != x {
			t.Fatalf("sample %d is %g here and %g for ffmpeg", i, x, float64(got)/(1<<31))
		}
	}
}

// parts unpacks an export into its files, in order.
func parts(t testing.TB, file []byte) (all []content) {
	t.Helper()
	z := must(zip.NewReader(bytes.NewReader(file), int64(len(file))))(t)
	for _, f := range z.File {
		r := must(f.Open())(t)
		all = append(all, content{f.Name, must(io.ReadAll(r))(t)})
	}
	return all
}

// pack makes an export of files; take.json lists what is there if seal is set.
func pack(t testing.TB, files []content, seal bool) []byte {
	t.Helper()
	if seal {
		var p map[string]any
		if err := json.Unmarshal(files[0].data, &p); err != nil {
			t.Fatal(err)
		}
		list := []passportFile{}
		for _, f := range files[1:] {
			list = append(list, passportFile{f.name, int64(len(f.data)), hashOf(f.data)})
		}
		p["files"] = list
		files[0].data = must(json.Marshal(p))(t)
	}
	var out buffer
	if err := writeZip(&out, files, noon); err != nil {
		t.Fatal(err)
	}
	return out
}

func TestDamagedExportsAreRefused(t *testing.T) {
	_, _, whole := exported(t)
	zipped := func(seal bool, change func(files []content) []content) func(*testing.T) []byte {
		return func(t *testing.T) []byte { return pack(t, change(parts(t, whole)), seal) }
	}
	replace := func(name, old, by string) func([]content) []content {
		return func(files []content) []content {
			for i := range files {
				if files[i].name == name {
					if !bytes.Contains(files[i].data, []byte(old)) {
						panic(old + " is not in " + name)
					}
					files[i].data = bytes.Replace(files[i].data, []byte(old), []byte(by), 1)
				}
			}
			return files
		}
	}
	drop := func(name string) func([]content) []content {
		return func(files []content) (left []content) {
			for _, f := range files {
				if !strings.HasPrefix(f.name, name) {
					left = append(left, f)
				}
			}
			return left
		}
	}
	add := func(name, text string) func([]content) []content {
		return func(files []content) []content { return append(files, content{name, []byte(text)}) }
	}
	for _, c := range []struct {
		name string
		file func(t *testing.T) []byte
		says string
	}{
		{"nothing", func(*testing.T) []byte { return nil }, "not a zip file"},
		{"a text", func(*testing.T) []byte { return []byte("Dear diary") }, "not a zip file"},
		{"cut off", func(*testing.T) []byte { return whole[:len(whole)/2] }, "not a zip file"},
		{"a zip file of something else", func(t *testing.T) []byte { return pack(t, []content{{"note.txt", nil}}, false) }, "take.json: it is missing"},
		{"no patch", zipped(true, drop("patch")), "patch.json: it is missing"},
		{"no audition", zipped(false, drop("audition")), "audition.flac: it is listed"},
		{"no recording", zipped(true, drop("recordings/")), "recording"},
		{"a path that leads out", zipped(true, add("../../.profile", "x")), `"../../.profile": no such file`},
		{"an absolute path", zipped(true, add("/etc/passwd", "x")), `"/etc/passwd": no such file`},
		{"a path of another system", zipped(true, add(`..\..\x.exe`, "x")), "no such file"},
		{"a path inside the recordings", zipped(true, add("recordings/../../x.wav", "x")), "no such file"},
		{"a file twice", zipped(false, add("note.txt", "x")), "note.txt: it is there twice"},
		{"a file that is not listed", zipped(false, add("recordings/"+strings.Repeat("a", 64)+".wav", "x")), "it is not listed"},
		{"a recording that no module plays", zipped(true, add("recordings/"+strings.Repeat("a", 64)+".wav", "x")), "no recording of take.json"},
		{"a note that was changed", zipped(false, replace("note.txt", "23", "32")), "note.txt: it is damaged"},
		{"a note that was made longer", zipped(false, replace("note.txt", "23", "230")), "note.txt: it has"},
		{"an audition that was changed, with a new seal", zipped(true, replace("audition.flac", "fLaC", "fLaX")), "audition.flac"},
		{"a patch of a kind that nobody knows", zipped(true, replace("patch.json", `"recording"`, `"moth"`)), "moth"},
		{"a patch that is no patch", zipped(true, replace("patch.json", `{`, `[`)), "patch.json"},
		{"a memory that is no memory", zipped(true, replace("memory.json", `{`, `[`)), "memory.json"},
		{"another format", zipped(false, replace("take.json", "lampblack take", "something else")), `must be "lampblack take"`},
		{"a newer version", zipped(false, replace("take.json", `"version": 1`, `"version": 9`)), "newer version"},
		{"a key that nobody knows", zipped(false, replace("take.json", `"peak"`, `"moths"`)), "moths"},
		{"three channels", zipped(false, replace("take.json", `"channels": 1`, `"channels": 3`)), "3 channels"},
		{"another rate", zipped(false, replace("take.json", `"rate": 8000`, `"rate": 9000`)), "9000 Hz"},
		{"a length that it has not", zipped(false, replace("take.json", `"seconds": 0.02`, `"seconds": 0.03`)), "0.03 s"},
		{"a cue that tears the contents", zipped(false, replace("take.json", `"number": "1M4"`, `"number": "1\u001b[31m\n4"`)), "control characters"},
		{"an endless length", zipped(false, replace("take.json", `"seconds": 0.02`, `"seconds": 1e300`)), "1e+300 s"},
		{"a bomb", bomb, "pack it without compression"},
		{"a bomb that lies", lyingBomb, "note.txt"},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := openNew(t)
			file := c.file(t)
			_, err := bring(b, file, 0)
			if err == nil || !strings.Contains(err.Error(), c.says) || !strings.Contains(err.Error(), "not imported") {
				t.Errorf("want %q, got %v", c.says, err)
			}
			if h := must(b.Check(context.Background(), nil))(t); h.Takes+h.Jobs+h.Cues+h.Recordings > 0 {
				t.Errorf("something was left behind: %+v", h)
			}
		})
	}
}

// bomb is a small zip file that unpacks to 512 kB of zeros.
func bomb(t *testing.T) []byte {
	var out buffer
	z := zip.NewWriter(&out)
	w := must(z.Create("note.txt"))(t)
	w.Write(make([]byte, 512<<10))
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return out
}

// lyingBomb claims to unpack to 10 bytes, and goes on.
func lyingBomb(t *testing.T) []byte {
	file := bomb(t)
	central := bytes.LastIndex(file, []byte("PK\x01\x02"))
	copy(file[central+24:], []byte{10, 0, 0, 0}) // uncompressed size (PKWARE APPNOTE 6.3.10, section 4.3.12)
	return file
}

// An export that somebody unpacked and packed again, with compression, is welcome.
func TestCompressedExportIsTaken(t *testing.T) {
	_, take, file := exported(t)
	var out buffer
	z := zip.NewWriter(&out)
	for _, f := range parts(t, file) {
		w := must(z.Create(f.name))(t)
		w.Write(f.data)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	if got := must(bring(openNew(t), out, 0))(t); got.SHA256 != take.SHA256 {
		t.Error("it is another take")
	}
}

// Whatever the file: it is refused, or it comes back out as it went in.
func FuzzImport(f *testing.F) {
	_, _, whole := exported(f)
	f.Add(whole)
	f.Add(whole[:len(whole)-1])
	f.Add(whole[len(whole)/3:])
	f.Add([]byte("PK\x05\x06" + strings.Repeat("\x00", 18))) // an empty zip file
	files := parts(f, whole)
	for i := range files {
		changed := append([]content{}, files...)
		changed[i].data = changed[i].data[:len(changed[i].data)/2]
		f.Add(pack(f, changed, i > 0))
	}
	b := openNew(f)
	f.Fuzz(func(t *testing.T, file []byte) {
		take, err := bring(b, file, 0)
		if err != nil {
			return // it may refuse, it may not panic
		}
		got, err := b.Take(take.ID)
		if err != nil || !reflect.DeepEqual(got, take) {
			t.Fatalf("accepted, and then not the same: %v", err)
		}
		again := must(bring(b, export(t, b, take.ID), 0))(t)
		if again.SHA256 != take.SHA256 || !bytes.Equal(again.PatchJSON, take.PatchJSON) || !bytes.Equal(again.MemoryJSON, take.MemoryJSON) {
			t.Fatal("accepted, exported, and then not the same")
		}
	})
}

// As FuzzImport, with one file of the export replaced and all seals renewed, so
// that the checks behind the hashes are reached.
func FuzzImportedFile(f *testing.F) {
	_, _, whole := exported(f)
	files := parts(f, whole)
	for i, file := range files {
		f.Add(uint8(i), file.data)
		f.Add(uint8(i), file.data[:len(file.data)/2])
	}
	f.Add(uint8(0), bytes.Replace(files[0].data, []byte(`"seconds": 0.02`), []byte(`"seconds": -0`), 1))
	f.Add(uint8(1), bytes.Replace(files[1].data, []byte(`"left"`), []byte(`"right"`), 1))
	b := openNew(f)
	f.Fuzz(func(t *testing.T, which uint8, data []byte) {
		changed := append([]content{}, files...)
		changed[int(which)%len(files)].data = data
		seal := int(which)%len(files) > 0 || json.Valid(data) && bytes.HasPrefix(data, []byte("{"))
		take, err := bring(b, pack(t, changed, seal), 0)
		if err != nil {
			return // it may refuse, it may not panic
		}
		got, err := b.Take(take.ID)
		if err != nil || !reflect.DeepEqual(got, take) {
			t.Fatalf("accepted, and then not the same: %v", err)
		}
		if _, err := b.Prove(context.Background(), take.ID, nil); err != nil {
			t.Fatalf("accepted, and can't be proved: %v", err)
		}
		export(t, b, take.ID)
	})
}
