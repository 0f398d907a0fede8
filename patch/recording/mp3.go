package recording

import (
	"fmt"

	beepmp3 "github.com/gopxl/beep/v2/mp3"
)

// decodeMP3 decodes the frames with sound of a checked file and leaves out the
// delay of encoder and decoder, if the file tells the former: a mark in an MP3
// then stands where it stood in its source.
func decodeMP3(file []byte, info *Info) ([][]float64, error) {
	layout, err := info.walkMP3(file, len(file)-len(skipID3(file)))
	if err != nil {
		return nil, err
	}
	if layout.total == 0 {
		return [][]float64{nil}, nil
	}
	read := &countingReader{r: newReader(file[layout.first:layout.end])}
	stream, _, err := beepmp3.Decode(read)
	if err != nil {
		return nil, fmt.Errorf("the MP3 file is damaged before byte %d; it was not loaded: %w", int64(layout.first)+read.n, err)
	}
	channels, err := drain(stream, info, read)
	if err != nil {
		return nil, err
	}
	if len(channels[0]) < layout.total {
		return nil, fmt.Errorf("the MP3 file is damaged at sample %d of %d (before byte %d of %d); it was not loaded", len(channels[0]), layout.total, int64(layout.first)+read.n, len(file))
	}
	for c := range channels {
		channels[c] = channels[c][layout.skip:][:layout.keep]
	}
	return channels, nil
}
