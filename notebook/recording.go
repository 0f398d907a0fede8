package notebook

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"fmt"
	"strings"

	"lampblack/patch"
	"lampblack/patch/module"
	"lampblack/patch/recording"
)

// AddRecording stores an audio file for use in patches and returns the SHA-256
// of its bytes, by which a module names it. The file must be one that package
// recording accepts. What is there already is not stored twice, and keeps its
// first name.
func (b *Book) AddRecording(name string, file []byte) (sha256 string, err error) {
	if _, err := recording.Check(file); err != nil {
		return "", fmt.Errorf("recording %q was not taken in: %w", name, err)
	}
	sum := hashOf(file)
	err = b.change(context.Background(), func(tx *sql.Tx) error {
		return addRecording(tx, RecordingLine{SHA256: sum, Name: name}, file)
	})
	if err != nil {
		return "", fmt.Errorf("recording %q was not taken in: %w", name, err)
	}
	return sum, nil
}

// addRecording stores a file under its hash unless it is there.
func addRecording(tx *sql.Tx, line RecordingLine, file []byte) error {
	// The file's own trigger refuses to replace a recording, so ask first.
	_, err := tx.Exec(`INSERT INTO recording (sha256, name, file) SELECT ?1, ?2, ?3
		WHERE NOT EXISTS (SELECT 1 FROM recording WHERE sha256 = ?1)`, line.SHA256, line.Name, file)
	return err
}

// Recording returns the bytes of an audio file that is in the notebook, or
// ErrMissing. Bytes that no longer have their hash are refused with ErrDamaged.
func (b *Book) Recording(sha256 string) ([]byte, error) {
	var file []byte
	err := b.read.QueryRow("SELECT file FROM recording WHERE sha256 = ?", strings.ToLower(sha256)).Scan(&file)
	if err != nil {
		return nil, fmt.Errorf("recording %.12s: %w", sha256, missing(err))
	}
	if hashOf(file) != strings.ToLower(sha256) {
		return nil, fmt.Errorf("recording %.12s: %w: its bytes do not have the hash that they are kept under", sha256, ErrDamaged)
	}
	return file, nil
}

// Clips decodes the recordings that a patch plays, at rate samples a second,
// for engine.Settings: by the name of the module. The files are looked for in
// given, by SHA-256, and then in the notebook. given may be nil.
func (b *Book) Clips(p patch.Patch, rate int, given map[string][]byte) (map[string]*module.Clip, error) {
	files, err := b.gather(p, given)
	if err != nil {
		return nil, err
	}
	return decode(p, rate, files)
}

// played is a file that a patch plays.
type played struct {
	RecordingLine
	file []byte
}

// gather finds the files that a patch plays, by SHA-256.
func (b *Book) gather(p patch.Patch, given map[string][]byte) (map[string]played, error) {
	files := map[string]played{}
	for _, m := range p.Modules {
		if m.Recording == nil {
			continue
		}
		sum := m.Recording.SHA256
		if sum == "" {
			return nil, fmt.Errorf("module %q: its recording %q has no SHA-256, so that its file can't be found; take the file in first", m.Name, m.Recording.Name)
		}
		if _, done := files[sum]; done {
			continue
		}
		file, ok := given[sum]
		if ok && hashOf(file) != sum {
			return nil, fmt.Errorf("module %q: the file given for its recording %q has the SHA-256 %s; the patch wants %s", m.Name, m.Recording.Name, hashOf(file), sum)
		}
		if !ok {
			var err error
			if file, err = b.Recording(sum); err != nil {
				return nil, fmt.Errorf("module %q: its recording %q: %w", m.Name, m.Recording.Name, err)
			}
		}
		files[sum] = played{RecordingLine{SHA256: sum, Name: m.Recording.Name, Bytes: int64(len(file))}, file}
	}
	return files, nil
}

// decode makes the clips; modules that play the same file share one.
func decode(p patch.Patch, rate int, files map[string]played) (map[string]*module.Clip, error) {
	byHash, byModule := map[string]*module.Clip{}, map[string]*module.Clip{}
	for _, m := range p.Modules {
		if m.Recording == nil {
			continue
		}
		sum := m.Recording.SHA256
		if byHash[sum] == nil {
			clip, _, err := recording.Decode(files[sum].file, rate)
			if err != nil {
				return nil, fmt.Errorf("module %q: its recording %q: %w", m.Name, m.Recording.Name, err)
			}
			byHash[sum] = clip
		}
		byModule[m.Name] = byHash[sum]
	}
	return byModule, nil
}

func hashOf(file []byte) string {
	sum := sha256.Sum256(file)
	return hex.EncodeToString(sum[:])
}
