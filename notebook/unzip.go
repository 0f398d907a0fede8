package notebook

import (
	"archive/zip"
	"fmt"
	"io"
	"strings"

	"lampblack/patch/recording"
)

// What an exported take may hold. The limits are the program's own: they stop
// a small file from filling the memory.
const (
	maxExport    = 2 << 30  // bytes of all files together
	maxTextFile  = 64 << 20 // bytes of patch.json and memory.json; a patch may have 1,000 modules
	maxNoteFile  = 1 << 20
	maxParts     = 1100 // files: each of the 1,000 modules may play one
	maxExpansion = 200  // times the packed length; audio packs less, and JSON about 20 times
)

// unzip reads the files of an export. Only the names that Export writes are
// let in, so that no name can lead out of the archive; every length is held
// against its limit before and while reading.
func unzip(r io.ReaderAt, size int64) (map[string][]byte, error) {
	if size > maxExport {
		return nil, fmt.Errorf("the file has %d MiB; an exported take may have %d", size>>20, maxExport>>20)
	}
	z, err := zip.NewReader(r, size)
	if err != nil {
		return nil, fmt.Errorf("the file is not a zip file, or a damaged one: %w", err)
	}
	if len(z.File) > maxParts {
		return nil, fmt.Errorf("the file holds %d files; an exported take may hold %d", len(z.File), maxParts)
	}
	files := map[string][]byte{}
	left := int64(maxExport)
	for _, f := range z.File {
		limit, err := limitOf(f.Name)
		if err != nil {
			return nil, err
		}
		if _, twice := files[f.Name]; twice {
			return nil, fmt.Errorf("%s: it is there twice", f.Name)
		}
		data, err := readPart(f, min(limit, left))
		if err != nil {
			return nil, fmt.Errorf("%s: %w", f.Name, err)
		}
		files[f.Name] = data
		left -= int64(len(data))
	}
	if files[takeFile] == nil {
		return nil, fmt.Errorf("%s: it is missing; the file is not an exported take", takeFile)
	}
	return files, nil
}

// limitOf returns how long a file of that name may be, in bytes.
func limitOf(name string) (int64, error) {
	switch name {
	case takeFile, noteFile:
		return maxNoteFile, nil
	case patchFile, memoryFile:
		return maxTextFile, nil
	case auditionFile:
		return maxAudition, nil
	}
	if stem, ok := strings.CutPrefix(name, recordingFolder); ok && len(stem) > 64 && isHash(stem[:64]) {
		for _, ending := range endings {
			if stem[64:] == ending {
				return recording.MaxBytes, nil
			}
		}
	}
	return 0, fmt.Errorf("%q: no such file belongs into an exported take", name)
}

// readPart reads one file of at most limit bytes.
func readPart(f *zip.File, limit int64) ([]byte, error) {
	claim := f.UncompressedSize64
	switch {
	case claim > uint64(limit):
		return nil, fmt.Errorf("it claims %d bytes; it may have %d", claim, limit)
	case claim > 1<<16 && claim/maxExpansion > f.CompressedSize64:
		return nil, fmt.Errorf("its %d bytes would become %d, over %d times as many; pack it without compression", f.CompressedSize64, claim, maxExpansion)
	}
	part, err := f.Open()
	if err != nil {
		return nil, err
	}
	defer part.Close()
	// The claim is not believed: ReadAll grows with what is really there.
	data, err := io.ReadAll(io.LimitReader(part, int64(claim)+1))
	if err != nil {
		return nil, err
	}
	if uint64(len(data)) != claim {
		return nil, fmt.Errorf("it holds more than the %d bytes that it claims", claim)
	}
	if data == nil {
		data = []byte{}
	}
	return data, nil
}
