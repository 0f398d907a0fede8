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

	"lampblack/notebook"
	"lampblack/patch"
	"lampblack/patch/engine"
	"lampblack/patch/kind"
	"lampblack/patch/memory"
	"lampblack/patch/recording"
	"lampblack/scope/picture"
)

// pictured is what a picture is drawn of.
type pictured struct {
	sound        picture.Sound
	moves        []picture.Move
	title, aside string
	take         picture.Take // for a summary
	files        []string     // what was read for it, never to be written over
}

// pictured reads what picture's argument names: an audio file, a patch file, or a
// take.
func (s *session) pictured(ctx context.Context, name, memoryPath string) (pictured, error) {
	info, err := os.Stat(name)
	switch {
	case err == nil && info.Mode().IsRegular() && !looksLikePatch(name):
		if memoryPath != "" {
			return pictured{}, fmt.Errorf("--memory is for a patch file; %s is none", name)
		}
		return s.picturedAudio(name)
	case err == nil || name == "-" || strings.HasSuffix(name, ".json"):
		return s.picturedPatch(ctx, name, memoryPath)
	case memoryPath != "":
		return pictured{}, fmt.Errorf("--memory is for a patch file; a take (%s) has its own", name)
	}
	var subject pictured
	err = s.reading(func(b *notebook.Book, all contents) error {
		l, err := all.find(name)
		if err != nil {
			return fmt.Errorf("%w; nor is there a file of that name", err)
		}
		subject, err = picturedTake(b, l, all)
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
	return pictured{
		sound: picture.Sound{Channels: clip.Channels, Rate: info.Rate},
		title: title, aside: info.Format.String(), files: []string{name},
		take: picture.Take{Cue: title, Name: info.Format.String() + " file"},
	}, nil
}

// picturedPatch renders a patch file.
func (s *session) picturedPatch(ctx context.Context, name, memoryPath string) (pictured, error) {
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
	title := cmp.Or(src.patch.Name, strings.TrimSuffix(filepath.Base(name), ".json"))
	return pictured{
		sound: sound, moves: pitchMoves(src.memory, sound.Seconds()), title: title, aside: "patch file, rendered", files: src.files,
		take: picture.Take{
			Cue: title, Name: "patch file", Modules: patchTable(src.patch), Memory: playedBy(src.memory),
			Proof: hex.EncodeToString(sum[:]), Program: s.program.Version,
		},
	}, nil
}

func picturedTake(b *notebook.Book, l line, all contents) (pictured, error) {
	t, err := b.Take(l.take.ID)
	if err != nil {
		return pictured{}, err
	}
	channels, rate, err := b.Audition(l.take.ID)
	if err != nil {
		return pictured{}, err
	}
	sound := picture.Sound{Channels: channels, Rate: rate}
	cue := strings.TrimSpace(l.cue.Number + " " + l.cue.Name)
	take := picture.Take{
		Job: l.job.Name, Cue: cue, Timecode: l.cue.Timecode, Name: fmt.Sprintf("Take %d", t.Number), Star: t.Star,
		Kept: t.Kept, Note: t.Note, Tags: t.Tags, Modules: patchTable(t.Patch), Memory: playedBy(t.Memory),
		Proof: t.SHA256, Program: t.Program,
	}
	if from, ok := all.byID(t.From); ok {
		take.From = from.name()
	}
	aside := l.job.Name
	if l.cue.Timecode != "" {
		aside += " · " + l.cue.Timecode
	}
	return pictured{
		sound: sound, moves: pitchMoves(t.Memory, sound.Seconds()), take: take,
		title: strings.TrimSpace(l.name() + " " + l.cue.Name), aside: aside,
	}, nil
}

// cut leaves what lies between two seconds of the sound.
func (subject *pictured) cut(from, to float64) error {
	s := &subject.sound
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

// playedBy tells what plays a patch, or nothing.
func playedBy(m memory.Memory) string {
	if len(m.Notes) == 0 {
		return ""
	}
	return memoryWords(m)
}

// mostNotes bounds what is drawn over a spectrogram: more could not be told apart.
const mostNotes = 5000

// pitchMoves returns the pitches of the memory's notes over time, as the frequency
// that they stand for.
func pitchMoves(m memory.Memory, seconds float64) []picture.Move {
	var points []picture.Point
	for pass := 0.0; pass < seconds && m.Length > 0; pass += m.Length / m.Tempo() {
		for _, n := range m.Notes {
			at := pass + n.At/m.Tempo()
			if n.Rest || at >= seconds {
				continue
			}
			hz := 440 * math.Exp2(n.Pitch)
			points = append(points, picture.Point{Second: at, Value: hz},
				picture.Point{Second: min(seconds, at+n.For/m.Tempo()), Value: hz}, picture.Point{Second: at, Value: math.NaN()})
		}
		if !m.Repeat || len(points) > 3*mostNotes {
			break
		}
	}
	if points == nil {
		return nil
	}
	return []picture.Move{{Name: "memory, pitch", Unit: "Hz", Points: points}}
}

// patchTable tells the written settings of a patch and the cords that come into
// each control and input.
func patchTable(p patch.Patch) (table []picture.Module) {
	for _, m := range p.Modules {
		row := picture.Module{Name: m.Name, Kind: m.Kind}
		if m.Recording != nil {
			row.Lines = append(row.Lines, picture.Line{Name: "recording", Value: m.Recording.Name})
		}
		k, ok := kind.Catalogue.Kind(m.Kind)
		if !ok {
			row.Lines = append(row.Lines, picture.Line{Name: "(this program has no such kind)"})
			table = append(table, row)
			continue
		}
		for i := range k.Controls {
			c := &k.Controls[i]
			cords := cordsInto(p, patch.Socket{Module: m.Name, Name: c.Name})
			v, written := m.Settings[c.Name]
			if !written {
				v = c.Default()
			}
			if written || len(cords) > 0 {
				row.Lines = append(row.Lines, picture.Line{Name: c.Name, Value: v.String()})
			}
			row.Lines = append(row.Lines, cords...)
		}
		for _, in := range k.Inputs {
			for _, cord := range cordsInto(p, patch.Socket{Module: m.Name, Name: in.Name}) {
				cord.Name = in.Name + " " + cord.Name
				row.Lines = append(row.Lines, cord)
			}
		}
		if m.Rows != nil {
			row.Lines = append(row.Lines, picture.Line{Name: "table", Value: counted(len(m.Rows), "row")})
		}
		table = append(table, row)
	}
	return table
}

// cordsInto returns the cords that end in a socket, by where they come from.
func cordsInto(p patch.Patch, to patch.Socket) (lines []picture.Line) {
	for _, c := range p.Cords {
		if c.To != to {
			continue
		}
		from := c.From.Module
		if m := p.Module(from); m != nil {
			if k, ok := kind.Catalogue.Kind(m.Kind); c.From.Name != "out" && (!ok || len(k.Outputs) > 1) {
				from += ", " + c.From.Name // which of its outputs
			}
		}
		l := picture.Line{Name: "← " + from, Cord: true}
		if c.Depth != (patch.Setting{}) {
			l.Value = c.Depth.Signed()
		}
		lines = append(lines, l)
	}
	return lines
}
