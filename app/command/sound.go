package command

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"slices"

	"lampblack/notebook"
	"lampblack/patch"
	"lampblack/patch/kind"
	"lampblack/patch/memory"
	"lampblack/patch/module"
	"lampblack/patch/recording"
)

// maxPatchBytes bounds a patch or memory file that a command reads whole.
const maxPatchBytes = 16 << 20

// source is a patch on its way to being rendered or kept: from a file or from
// a take.
type source struct {
	name       string // for messages
	patch      patch.Patch
	memory     memory.Memory
	seconds    float64           // how long it wants to be, or 0
	rate       int               // what it was kept at, or 0
	recordings map[string][]byte // by SHA-256
	files      []string          // what was read for it, never to be written over
	notices    []string          // what a person should know about its recordings
}

// readSource reads a patch file ("-" is standard input), the recordings beside
// it, and a memory file if one is named.
func (s *session) readSource(ctx context.Context, path, memoryPath string) (source, error) {
	file, err := readUpTo(ctx, path, maxPatchBytes)
	if err != nil {
		return source{}, err
	}
	p, err := patch.Load(file, kind.Catalogue)
	if err != nil {
		return source{}, fmt.Errorf("%s: it was not used:\n%w", path, few(err))
	}
	src := source{name: path, patch: p, recordings: map[string][]byte{}, files: []string{path}}
	if err := s.readRecordings(&src, filepath.Dir(path)); err != nil {
		return source{}, fmt.Errorf("%s: %w", path, err)
	}
	if memoryPath != "" {
		src.files = append(src.files, memoryPath)
		src.memory, err = readMemory(ctx, memoryPath)
	}
	return src, err
}

// readRecordings reads the audio files that the modules name, relative to
// folder, and writes their SHA-256 into the patch. One that is not there may be
// in the notebook: the patch may have come out of a take.
func (s *session) readRecordings(src *source, folder string) error {
	for i := range src.patch.Modules {
		m := &src.patch.Modules[i]
		if m.Recording == nil {
			continue
		}
		name := m.Recording.Name
		if !filepath.IsAbs(name) {
			name = filepath.Join(folder, filepath.FromSlash(name))
		}
		file, err := readRegular(name, recording.MaxBytes)
		if errors.Is(err, fs.ErrNotExist) && m.Recording.SHA256 != "" {
			file, err = s.fromNotebook(m.Recording.SHA256, err)
		}
		if err != nil {
			return fmt.Errorf("module %q: its recording could not be read: %w", m.Name, err)
		}
		sum := sha256.Sum256(file)
		sha := hex.EncodeToString(sum[:])
		if want := m.Recording.SHA256; want != "" && want != sha {
			return fmt.Errorf("module %q: %s is not the file that the patch was made with: its SHA-256 is %s, the patch says %s; take sha256 out of the patch to use it all the same", m.Name, name, sha, want)
		}
		info, err := recording.Check(file)
		if err != nil {
			return fmt.Errorf("module %q: %s: %w", m.Name, name, err)
		}
		src.notice(m, info)
		m.Recording.Name, m.Recording.SHA256 = filepath.Base(name), sha
		src.recordings[sha] = file
		src.files = append(src.files, name)
	}
	return nil
}

// fromNotebook returns the recording of that SHA-256, or the error of the file
// that is missing.
func (s *session) fromNotebook(sha string, missing error) (file []byte, _ error) {
	err := s.reading(func(b *notebook.Book, _ contents) (err error) {
		file, err = b.Recording(sha)
		return err
	})
	if err != nil {
		return nil, fmt.Errorf("%w, and the notebook does not have it", missing)
	}
	return file, nil
}

// notice remembers what a person should know about a recording, once.
func (s *source) notice(m *patch.Module, info recording.Info) {
	for _, n := range info.Notices() {
		n = fmt.Sprintf("module %q: %s: %s", m.Name, m.Recording.Name, n)
		if !slices.Contains(s.notices, n) {
			s.notices = append(s.notices, n)
		}
	}
}

// clips decodes the recordings for a render at rate, by module name.
func (s *source) clips(rate int) (map[string]*module.Clip, error) {
	clips := map[string]*module.Clip{}
	decoded := map[string]*module.Clip{}
	for i := range s.patch.Modules {
		m := &s.patch.Modules[i]
		if m.Recording == nil {
			continue
		}
		sha := m.Recording.SHA256
		if decoded[sha] == nil {
			clip, info, err := recording.Decode(s.recordings[sha], rate)
			if err != nil {
				return nil, fmt.Errorf("%s: module %q: %s: %w", s.name, m.Name, m.Recording.Name, err)
			}
			s.notice(m, info)
			decoded[sha] = clip
		}
		clips[m.Name] = decoded[sha]
	}
	return clips, nil
}
