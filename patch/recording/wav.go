package recording

import (
	"bytes"
	"encoding/binary"
	"io"
	"math"

	beepwav "github.com/gopxl/beep/v2/wav"
)

// decodeWAV gives beep the checked samples behind a header of our own: its
// reader (v2.1.1) believes chunk sizes, so that a negative one panics and a
// large one is allocated. Whole numbers of 32 bits and floats, which it does not
// know, are read here.
func decodeWAV(file []byte, info *Info) ([][]float64, error) {
	w, err := readWAV(file)
	if err != nil {
		return nil, err
	}
	if info.Float || info.Bits == 32 {
		return w.decodeWide(info), nil
	}
	read := &countingReader{r: io.MultiReader(bytes.NewReader(w.header()), bytes.NewReader(w.data))}
	stream, _, err := beepwav.Decode(read)
	if err != nil {
		return nil, err
	}
	return drain(stream, info, read)
}

// header returns the 44 bytes that precede the samples in the plainest of WAV
// files.
func (w wav) header() []byte {
	return wavHeader(tagInteger, w.info.Channels, w.info.Rate, w.info.Bits, len(w.data))
}

func (w wav) decodeWide(info *Info) [][]float64 {
	channels := make([][]float64, info.Channels)
	for c := range channels {
		channels[c] = make([]float64, info.Frames)
		for i := range channels[c] {
			b := w.data[(i*info.Channels+c)*w.bytes:]
			switch {
			case !info.Float:
				channels[c][i] = float64(int32(binary.LittleEndian.Uint32(b))) / (1 << 31)
			case info.Bits == 32:
				channels[c][i] = float64(math.Float32frombits(binary.LittleEndian.Uint32(b)))
			default:
				channels[c][i] = math.Float64frombits(binary.LittleEndian.Uint64(b))
			}
		}
		info.Mended += mend(channels[c])
	}
	return channels
}
