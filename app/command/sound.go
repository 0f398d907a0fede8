package command

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"lampblack/patch"
	"lampblack/patch/kind"
	"lampblack/patch/memory"
	"lampblack/patch/module"
	"lampblack/patch/recording"
)

// Limits of the files that a command reads whole.
const (
	maxPatchBytes     = 16 << 20
	maxRecordingBytes = 1 << 30
)

// source is a patch on its way to being rendered or kept: from a file or from
// a take.
type source struct {
	name       string // for messages
	patch      patch.Patch
	memory     memory.Memory
	seconds    float64           // how long it wants to be, or 0
	rate       int               // what it was kept at, or 0
	recordings map[string][]byte // by SHA-256
}

// readSource reads a patch file, the recordings beside it, and a memory file
// if one is named.
func readSource(path, memoryPath string) (source, error) {
	file, err := readUpTo(path, maxPatchBytes)
	if err != nil {
		return source{}, err
	}
	p, err := patch.Load(file, kind.Catalogue)
	if err != nil {
		return source{}, fmt.Errorf("%s: it was not used:\n%w", path, err)
	}
	s := source{name: path, patch: p, recordings: map[string][]byte{}}
	if err := s.readRecordings(filepath.Dir(path)); err != nil {
		return source{}, fmt.Errorf("%s: %w", path, err)
	}
	if memoryPath != "" {
		s.memory, err = readMemory(memoryPath)
	}
	return s, err
}

// readRecordings reads the audio files that the modules name, relative to
// folder, and writes their SHA-256 into the patch.
func (s *source) readRecordings(folder string) error {
	for i := range s.patch.Modules {
		m := &s.patch.Modules[i]
		if m.Recording == nil {
			continue
		}
		name := m.Recording.Name
		if !filepath.IsAbs(name) {
			name = filepath.Join(folder, filepath.FromSlash(name))
		}
		file, err := readUpTo(name, maxRecordingBytes)
		if err != nil {
			return fmt.Errorf("module %q: its recording could not be read: %w", m.Name, err)
		}
		sum := sha256.Sum256(file)
		sha := hex.EncodeToString(sum[:])
		if want := m.Recording.SHA256; want != "" && want != sha {
			return fmt.Errorf("module %q: %s is not the file that the patch was made with: its SHA-256 is %s, the patch says %s; take sha256 out of the patch to use it all the same", m.Name, name, sha, want)
		}
		if _, err := recording.Check(file); err != nil {
			return fmt.Errorf("module %q: %s: %w", m.Name, name, err)
		}
		m.Recording.Name, m.Recording.SHA256 = filepath.Base(name), sha
		s.recordings[sha] = file
	}
	return nil
}

// clips decodes the recordings for a render at rate, by module name.
func (s *source) clips(rate int) (map[string]*module.Clip, error) {
	clips := map[string]*module.Clip{}
	decoded := map[string]*module.Clip{}
	for _, m := range s.patch.Modules {
		if m.Recording == nil {
			continue
		}
		sha := m.Recording.SHA256
		if decoded[sha] == nil {
			clip, _, err := recording.Decode(s.recordings[sha], rate)
			if err != nil {
				return nil, fmt.Errorf("%s: module %q: %s: %w", s.name, m.Name, m.Recording.Name, err)
			}
			decoded[sha] = clip
		}
		clips[m.Name] = decoded[sha]
	}
	return clips, nil
}

func readMemory(path string) (memory.Memory, error) {
	var m memory.Memory
	file, err := readUpTo(path, maxPatchBytes)
	if err == nil {
		err = m.UnmarshalJSON(file)
	}
	if err == nil {
		err = m.Validate()
	}
	if err != nil {
		return memory.Memory{}, fmt.Errorf("%s: it was not used: %w", path, err)
	}
	return m, nil
}

// readUpTo reads a whole file of at most limit bytes.
func readUpTo(path string, limit int64) ([]byte, error) {
	f, err := os.Open(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("%s: there is no such file", path)
	}
	if err != nil {
		return nil, err
	}
	defer f.Close()
	file, err := io.ReadAll(io.LimitReader(f, limit+1))
	if err != nil {
		return nil, err
	}
	if int64(len(file)) > limit {
		return nil, fmt.Errorf("%s: it is larger than the %d MiB that are allowed; it was not read", path, limit>>20)
	}
	return file, nil
}
