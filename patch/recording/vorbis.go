package recording

import (
	"fmt"

	beepvorbis "github.com/gopxl/beep/v2/vorbis"
)

// decodeVorbis decodes a checked file. Beep's decoder ends silently at any
// fault, so what it gave is held against what the last page says.
func decodeVorbis(file []byte, info *Info) ([][]float64, error) {
	read := &countingReader{r: newReader(file)}
	stream, _, err := beepvorbis.Decode(read)
	if err != nil {
		return nil, fmt.Errorf("the Ogg Vorbis headers cannot be read (before byte %d); the recording was not loaded: %w", read.n, err)
	}
	announced := info.Frames
	channels, err := drain(stream, info, read)
	if err != nil {
		return nil, err
	}
	got := int64(len(channels[0]))
	// A file cut out of a longer one may start late; a block of slack for that.
	if got+8192 < announced && !info.Truncated {
		return nil, fmt.Errorf("the Ogg Vorbis file is damaged at sample %d (before byte %d of %d); it should go on to sample %d; it was not loaded", got, read.n, len(file), announced)
	}
	info.Announced = max(info.Announced, got)
	return channels, nil
}
