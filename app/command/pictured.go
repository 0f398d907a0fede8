package command

import (
	"bytes"
	"cmp"
	"context"
	"encoding/hex"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"

	"lampblack/app/summary"
	"lampblack/notebook"
	"lampblack/patch/engine"
	"lampblack/patch/recording"
	"lampblack/scope/picture"
)

// pictured is what a picture is drawn of.
type pictured struct {
	summary.Page
	files []string // what was read for it, never to be written over
}

// pictured reads what picture's argument names: an audio file, a patch file, or a
// take. What moves is looked for only if the whole page is wanted.
func (s *session) pictured(ctx context.Context, name, memoryPath string, whole bool) (pictured, error) {
	info, err := os.Stat(name)
	switch {
	case err == nil && info.Mode().IsRegular() && !looksLikePatch(name):
		if memoryPath != "" {
			return pictured{}, fmt.Errorf("--memory is for a patch file; %s is none", name)
		}
		return s.picturedAudio(name)
	case err == nil || name == "-" || strings.HasSuffix(name, ".json"):
		return s.picturedPatch(ctx, name, memoryPath, whole)
	case memoryPath != "":
		return pictured{}, fmt.Errorf("--memory is for a patch file; a take (%s) has its own", name)
	}
	var subject pictured
	err = s.reading(func(b *notebook.Book, all contents) error {
		l, err := all.find(name)
		if err != nil {
			return fmt.Errorf("%w; nor is there a file of that name", err)
		}
		subject, err = s.picturedTake(ctx, b, l.take.ID, whole)
		return err
	})
	return subject, err
}

// looksLikePatch reports whether a file begins as a patch file does.
func looksLikePatch(name string) bool {
	if strings.HasSuffix(name, ".json") {
		return true
	}
	f, err := os.Open(name)
	if err != nil {
		return false
	}
	defer f.Close()
	head := make([]byte, 64)
	n, _ := f.Read(head) // a file that cannot be read is told when it is read whole
	return bytes.HasPrefix(bytes.TrimSpace(head[:n]), []byte("{"))
}

func (s *session) picturedAudio(name string) (pictured, error) {
	file, err := readRegular(name, recording.MaxBytes)
	if err != nil {
		return pictured{}, err
	}
	info, err := recording.Check(file)
	if err != nil {
		return pictured{}, fmt.Errorf("%s: %w", name, err)
	}
	clip, info, err := recording.Decode(file, info.Rate)
	if err != nil {
		return pictured{}, fmt.Errorf("%s: %w", name, err)
	}
	for _, n := range info.Notices() {
		s.tell([]string{name + ": " + n})
	}
	title := filepath.Base(name)
	return pictured{files: []string{name}, Page: summary.Page{
		Sound: picture.Sound{Channels: clip.Channels, Rate: info.Rate},
		Title: title, Aside: info.Format.String(),
		Take: picture.Take{Cue: title, Name: info.Format.String() + " file"},
	}}, nil
}

// picturedPatch renders a patch file.
func (s *session) picturedPatch(ctx context.Context, name, memoryPath string, whole bool) (pictured, error) {
	src, err := s.readSource(ctx, name, memoryPath)
	if err != nil {
		return pictured{}, err
	}
	bar := s.progress("rendering")
	defer bar.end()
	r := rendering{fine: "1"}
	begun, err := s.begin(ctx, src, &r, bar.at)
	if err != nil {
		return pictured{}, err
	}
	channels := 1
	if begun.Stereo() {
		channels = 2
	}
	sound := picture.Sound{Channels: make([][]float64, channels), Rate: r.rate}
	digest := engine.NewDigest(channels == 2)
	err = compute(begun, channels, func(c [][]float64) error {
		for k := range sound.Channels {
			sound.Channels[k] = append(sound.Channels[k], c[k]...)
		}
		digest.Add(c[0], c[channels-1])
		return nil
	})
	if err != nil {
		return pictured{}, err
	}
	sum := digest.Sum()
	clips, err := src.clips(r.rate)
	if err != nil {
		return pictured{}, err
	}
	title := cmp.Or(src.patch.Name, strings.TrimSuffix(filepath.Base(name), ".json"))
	subject := pictured{files: src.files, Page: summary.Page{
		Sound: sound, Moves: summary.Pitches(src.memory, sound.Seconds()), Title: title, Aside: "patch file, rendered",
		Take: picture.Take{
			Cue: title, Name: "patch file", Modules: summary.Settings(src.patch), Memory: summary.PlayedBy(src.memory),
			Proof: hex.EncodeToString(sum[:]), Program: s.program.Version,
		},
	}}
	if whole {
		subject.Take.Moving, err = summary.Movements(ctx, src.patch, summary.Playing{
			Memory: src.memory, Clips: clips, Rate: r.rate, Seconds: sound.Seconds(), Once: src.seconds == 0,
		})
	}
	return subject, err
}

func (s *session) picturedTake(ctx context.Context, b *notebook.Book, id notebook.TakeID, whole bool) (pictured, error) {
	page, err := summary.Read(b, id)
	if err == nil && whole {
		bar := s.progress("drawing")
		defer bar.end()
		page.Take.Moving, err = summary.Watch(ctx, b, id, bar.at)
	}
	return pictured{Page: page}, err
}

// cut leaves what lies between two seconds of the sound.
func (subject *pictured) cut(from, to float64) error {
	s := &subject.Sound
	length := s.Seconds()
	if !math.IsInf(to, 1) && to > length+0.5/float64(s.Rate) {
		return fmt.Errorf("--to is %g s, but the sound lasts %.3f s; nothing was drawn", to, length)
	}
	first, after := int(math.Round(from*float64(s.Rate))), int(math.Round(min(to, length)*float64(s.Rate)))
	if from >= length || first >= after {
		return fmt.Errorf("--from is %g s, but the sound that is left there is shorter than a sample (it lasts %.3f s); nothing was drawn", from, length)
	}
	for c := range s.Channels {
		s.Channels[c] = s.Channels[c][first:after]
	}
	s.From = float64(first) / float64(s.Rate)
	return nil
}
