package command

import (
	"bufio"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"

	"lampblack/patch/recording"
	"lampblack/scope/meter"
)

// wavStream reads the samples of a WAV file while it arrives, however long it is:
// measuring keeps nothing of it. Sources: RIFF/WAVE 1991; EBU Tech 3306 (RF64) and
// ITU-R BS.2088 (BW64), whose "ds64" chunk holds the lengths beyond 4 GiB.
type wavStream struct {
	r     *bufio.Reader
	info  recording.Info // Format, Rate, Channels, Bits, Float; then what came
	bytes int            // of one sample
	left  int64          // bytes of samples that are announced; -1 if the file does not say
	big   int64          // the same from a "ds64" chunk
	raw   []byte
}

// beginsWAV reports whether four bytes begin a file that wavStream reads.
func beginsWAV(b []byte) bool {
	return string(b) == "RIFF" || string(b) == "RF64" || string(b) == "BW64"
}

// maxSkip bounds a chunk before the sound, so that no claim is believed for ever.
const maxSkip = 1 << 30

// newWAVStream reads up to the first sample.
func newWAVStream(r *bufio.Reader) (*wavStream, error) {
	w := &wavStream{r: r, info: recording.Info{Format: recording.WAV}}
	var head [12]byte
	if _, err := io.ReadFull(r, head[:]); err != nil {
		return nil, fmt.Errorf("the WAV file ends within its first 12 bytes")
	}
	if !beginsWAV(head[:4]) || string(head[8:]) != "WAVE" {
		return nil, fmt.Errorf("the file begins with %q and byte 8 says %q; they must be RIFF, RF64 or BW64, and WAVE", head[:4], head[8:])
	}
	for at := int64(12); ; {
		if _, err := io.ReadFull(r, head[:8]); err != nil {
			return nil, fmt.Errorf("the WAV file ends at byte %d without a \"data\" chunk", at)
		}
		id, size := string(head[:4]), int64(binary.LittleEndian.Uint32(head[4:]))
		if id == "data" {
			return w, w.begin(at, size)
		}
		if err := w.chunk(id, at, size); err != nil {
			return nil, err
		}
		at += 8 + size + size&1
	}
}

// chunk reads one that stands before the sound.
func (w *wavStream) chunk(id string, at, size int64) error {
	if size > maxSkip {
		return fmt.Errorf("chunk %q at byte %d of the WAV file claims %d bytes; before the sound it may have %d", id, at, size, maxSkip)
	}
	var body [40]byte
	n := 0
	if id == "fmt " || id == "ds64" {
		n = int(min(size, int64(len(body))))
	}
	if _, err := io.ReadFull(w.r, body[:n]); err == nil {
		_, err = io.CopyN(io.Discard, w.r, size+size&1-int64(n))
		if err != nil {
			return fmt.Errorf("chunk %q at byte %d of the WAV file claims %d bytes; the file ends before", id, at, size)
		}
	}
	switch {
	case id == "ds64" && n >= 16:
		if big := binary.LittleEndian.Uint64(body[8:]); big <= math.MaxInt64 {
			w.big = int64(big)
		}
	case id == "fmt " && w.bytes == 0:
		return w.format(body[:n], at)
	}
	return nil
}

// The kinds of sample that a format chunk can name.
const (
	wavInteger    = 1
	wavFloat      = 3
	wavExtensible = 0xfffe
)

func (w *wavStream) format(b []byte, at int64) error {
	if len(b) < 16 {
		return fmt.Errorf("the \"fmt \" chunk at byte %d of the WAV file has %d bytes; it must have at least 16", at, len(b))
	}
	kind := binary.LittleEndian.Uint16(b)
	if kind == wavExtensible && len(b) >= 26 {
		kind = binary.LittleEndian.Uint16(b[24:])
	}
	rate, bits := binary.LittleEndian.Uint32(b[4:]), int(binary.LittleEndian.Uint16(b[14:]))
	w.info.Channels, w.info.Bits, w.info.Float = int(binary.LittleEndian.Uint16(b[2:])), bits, kind == wavFloat
	w.info.Rate = int(min(rate, math.MaxInt32))
	integers := kind == wavInteger && (bits == 8 || bits == 16 || bits == 24 || bits == 32)
	floats := kind == wavFloat && (bits == 32 || bits == 64)
	switch {
	case !integers && !floats:
		return fmt.Errorf("the WAV file has samples of kind %d with %d bits (byte %d); measured are whole numbers (kind 1) of 8, 16, 24 or 32 bits and floating-point numbers (kind 3) of 32 or 64", kind, bits, at)
	case meter.Weights(w.info.Channels) == nil:
		return fmt.Errorf("the WAV file has %d channels (byte %d); it may have 1 to 6", w.info.Channels, at+10)
	case rate < recording.MinRate || rate > recording.MaxRate:
		return fmt.Errorf("the rate of the WAV file is %d Hz (byte %d); it must be %d to %d Hz", rate, at+12, recording.MinRate, recording.MaxRate)
	}
	w.bytes = bits / 8
	if frame := int(binary.LittleEndian.Uint16(b[12:])); frame != w.bytes*w.info.Channels {
		return fmt.Errorf("the WAV file says %d bytes a frame (byte %d); %d channels of %d bits take %d", frame, at+20, w.info.Channels, bits, w.bytes*w.info.Channels)
	}
	return nil
}

// begin stands before the first sample. A length of 0 or 0xffffffff is what a writer
// leaves that could not go back to fill it in.
func (w *wavStream) begin(at, size int64) error {
	if w.bytes == 0 {
		return fmt.Errorf("the \"data\" chunk at byte %d of the WAV file comes before any \"fmt \" chunk", at)
	}
	w.left = size
	if size == math.MaxUint32 {
		w.left = -1
		if w.big > 0 {
			w.left = w.big
		}
	} else if next, err := w.r.Peek(4); size == 0 {
		if err != nil || string(next) == "LIST" || string(next) == "bext" || string(next) == "cue " || string(next) == "id3 " {
			return errors.New("the WAV file holds no samples; at least one is needed")
		}
		w.left = -1
	}
	if w.left > 0 {
		w.info.Announced = w.left / int64(w.bytes*w.info.Channels)
	}
	return nil
}

// read fills channels from their start and returns how many samples of each there
// are; 0 is the end. A file that ends early has its Truncated set.
func (w *wavStream) read(channels [][]float64) (int, error) {
	frame := w.bytes * w.info.Channels
	want := int64(len(channels[0]) * frame)
	if w.left >= 0 {
		want = min(want, w.left/int64(frame)*int64(frame))
	}
	if int64(len(w.raw)) < want {
		w.raw = make([]byte, want)
	}
	got, err := io.ReadFull(w.r, w.raw[:want])
	if err != nil && !errors.Is(err, io.EOF) && !errors.Is(err, io.ErrUnexpectedEOF) {
		return 0, err
	}
	w.info.Truncated = w.info.Truncated || w.left > 0 && int64(got) < want
	n := got / frame
	for c := range channels {
		w.decode(channels[c][:n], w.raw[c*w.bytes:], frame)
	}
	if w.left >= 0 {
		w.left -= int64(got)
	}
	w.info.Frames += int64(n)
	w.info.Seconds = float64(w.info.Frames) / float64(w.info.Rate)
	return n, nil
}

// decode reads samples that stand frame bytes apart.
func (w *wavStream) decode(dst []float64, raw []byte, frame int) {
	switch {
	case w.info.Float && w.bytes == 4:
		for i := range dst {
			dst[i] = float64(math.Float32frombits(binary.LittleEndian.Uint32(raw[i*frame:])))
		}
	case w.info.Float:
		for i := range dst {
			dst[i] = math.Float64frombits(binary.LittleEndian.Uint64(raw[i*frame:]))
		}
	case w.bytes == 1: // unsigned, as the standard has it
		for i := range dst {
			dst[i] = (float64(raw[i*frame]) - 128) / (1 << 7)
		}
	case w.bytes == 2:
		for i := range dst {
			dst[i] = float64(int16(binary.LittleEndian.Uint16(raw[i*frame:]))) / (1 << 15)
		}
	case w.bytes == 3:
		for i := range dst {
			b := raw[i*frame : i*frame+3]
			dst[i] = float64(int32(uint32(b[0])<<8|uint32(b[1])<<16|uint32(b[2])<<24)) / (1 << 31)
		}
	default:
		for i := range dst {
			dst[i] = float64(int32(binary.LittleEndian.Uint32(raw[i*frame:]))) / (1 << 31)
		}
	}
}
