package desk

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"path/filepath"

	"lampblack/patch"
	"lampblack/patch/module"
	"lampblack/patch/recording"
)

// BringRecording makes an audio file the sound of a recording module, or adds
// such a module where the name is empty. The file is checked and decoded
// outside; what is wrong with it is told at the sheet.
func (s *Session) BringRecording(moduleName, fileName string, file []byte, at patch.Point) {
	name := filepath.Base(fileName)
	s.background(func() (func(), error) {
		clip, info, err := recording.Decode(file, s.rate)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		sum := sha256.Sum256(file)
		key := hex.EncodeToString(sum[:])
		if s.book != nil {
			if readOnly, _ := s.book.ReadOnly(); !readOnly {
				if _, err := s.book.AddRecording(name, file); err != nil {
					return nil, fmt.Errorf("%s could not be stored in the notebook: %w; it was not brought in", name, err)
				}
			}
		}
		return func() {
			s.useRecording(moduleName, patch.Recording{Name: name, SHA256: key}, clip, file, at)
			for _, notice := range info.Notices() {
				s.Notify(Notice{Place: AtSheet, Text: name + ": " + notice})
			}
		}, nil
	}, AtSheet)
}

func (s *Session) useRecording(moduleName string, r patch.Recording, clip *module.Clip, file []byte, at patch.Point) {
	s.clips[r.SHA256] = clip
	s.files[r.SHA256] = file
	if moduleName != "" && s.bench.Patch.Module(moduleName) != nil {
		s.Do(Edit{Name: moduleName + " plays " + r.Name, Apply: func(b *Bench) error {
			m := b.Patch.Module(moduleName)
			if m.Kind != "recording" {
				return refuse(AtSheet, "%s is not a recording module: it can't play %s; nothing was changed", moduleName, r.Name)
			}
			m.Recording = &r
			return nil
		}})
		return
	}
	add, added := AddModule("recording", at, &s.bench.Patch)
	s.Do(Edit{Name: "bring in " + r.Name, Apply: func(b *Bench) error {
		if err := add.Apply(b); err != nil {
			return err
		}
		b.Patch.Module(added).Recording = &r
		return nil
	}})
	s.Select(Selection{Modules: []string{added}, Cord: -1, Note: -1})
}

// clip returns the decoded sound of a recording.
func (s *Session) clip(r patch.Recording) (*module.Clip, error) {
	if c := s.clips[r.SHA256]; c != nil {
		return c, nil
	}
	file := s.files[r.SHA256]
	if file == nil && s.book != nil {
		var err error
		if file, err = s.book.Recording(r.SHA256); err != nil {
			return nil, fmt.Errorf("the recording %s can't be read from the notebook: %w; its module is silent", r.Name, err)
		}
	}
	if file == nil {
		return nil, fmt.Errorf("the recording %s is not at hand: bring the file in again; its module is silent", r.Name)
	}
	c, _, err := recording.Decode(file, s.rate)
	if err != nil {
		return nil, fmt.Errorf("the recording %s: %w; its module is silent", r.Name, err)
	}
	s.clips[r.SHA256] = c
	return c, nil
}

// background runs work outside and brings its result, or its error as a notice
// at a place, back to the session's goroutine.
func (s *Session) background(work func() (then func(), err error), told Place) {
	run := func() {
		then, err := work()
		s.post(func() {
			if s.context.Err() != nil {
				return // closed meanwhile
			}
			if err != nil {
				s.fault(told, err)
			}
			if then != nil {
				then()
			}
		})
	}
	if s.inline {
		run()
		return
	}
	go run()
}
