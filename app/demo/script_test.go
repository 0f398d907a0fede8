package demo

import (
	"fmt"
	"io/fs"
	"strings"
	"testing"

	"lampblack/assets"
)

// framesASecond is what the job's note says of the film.
const framesASecond = 25

// A take must have ended before the next cue begins, or the two could not be
// laid to the same picture.
func TestTakesFitTheirPlaceInTheFilm(t *testing.T) {
	var s script
	if err := read("job", &s); err != nil {
		t.Fatal(err)
	}
	ends, last := 0, ""
	for _, c := range s.Cues {
		var hours, minutes, seconds, frames int
		if _, err := fmt.Sscanf(c.Timecode, "%02d:%02d:%02d:%02d", &hours, &minutes, &seconds, &frames); err != nil || frames >= framesASecond {
			t.Errorf("cue %s: its timecode is %q, %v", c.Number, c.Timecode, err)
		}
		at := ((hours*60+minutes)*60+seconds)*framesASecond + frames
		if at < ends {
			t.Errorf("cue %s begins %d frames before cue %s has ended", c.Number, ends-at, last)
		}
		for i, k := range c.Takes {
			ends = max(ends, at+int(k.Seconds*framesASecond)+1)
			if k.From > i {
				t.Errorf("cue %s take %d comes from take %d, which is not kept yet", c.Number, i+1, k.From)
			}
			if i > 0 && k.From == 0 {
				t.Errorf("cue %s take %d comes from nowhere: nobody can see what was tried", c.Number, i+1)
			}
		}
		last = c.Number
	}
}

// Nothing is recorded on the place, and nothing comes from elsewhere: each file
// that a patch plays is made by this program, and no file lies about unused.
func TestEverythingInTheDemoIsMadeByIt(t *testing.T) {
	var s script
	if err := read("job", &s); err != nil {
		t.Fatal(err)
	}
	unused, made := map[string]bool{"job": true}, map[string]bool{}
	files, err := fs.Glob(assets.Files, "demo/*.json")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		unused[strings.TrimSuffix(strings.TrimPrefix(f, "demo/"), ".json")] = true
	}
	delete(unused, "job")
	for _, r := range s.Recordings {
		made[r.Name] = false
		delete(unused, r.Patch)
	}
	for _, c := range s.Cues {
		for _, k := range c.Takes {
			delete(unused, k.Patch)
			p, err := readPatch(k.Patch)
			if err != nil {
				t.Error(err)
			}
			for _, m := range p.Modules {
				if m.Recording == nil {
					continue
				}
				if _, ok := made[m.Recording.Name]; !ok {
					t.Errorf("patch %s plays %q, which the demo does not make", k.Patch, m.Recording.Name)
				}
				made[m.Recording.Name] = true
			}
		}
	}
	for name, played := range made {
		if !played {
			t.Errorf("recording %q is made and never played", name)
		}
	}
	for name := range unused {
		t.Errorf("nothing uses the demo file %s.json", name)
	}
}
