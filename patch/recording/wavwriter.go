package recording

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"math"
)

// WAVWriter writes a WAV file as its samples come, so that a long one need not be
// held. Its bytes are those of WriteWAV. It is used by one goroutine.
type WAVWriter struct {
	w        io.Writer
	buffered *bufio.Writer
	dither   uint64 // number of the next draw
	bytes    []byte // of the samples being written
	format   Format
	channels int
	rate     int
	promised int // samples of each channel that the header speaks of
	added    int
}

// ErrShort is the cause when fewer samples came than were promised, and the
// header can't be mended because w is no io.WriteSeeker.
var ErrShort = errors.New("fewer samples came than were promised")

// NewWAVWriter begins a file of samples samples a channel, at least 1, for 1 or 2
// channels and rates of 8,000 to 384,000 Hz. If w is an io.WriteSeeker, fewer may
// come: the header is mended at Close.
func NewWAVWriter(w io.Writer, channels, rate int, f Format, samples int) (*WAVWriter, error) {
	file := &WAVWriter{w: w, buffered: bufio.NewWriterSize(w, 1<<16),
		format: f, channels: channels, rate: rate, promised: samples}
	switch size := file.size(samples); {
	case channels < 1 || channels > 2:
		return nil, fmt.Errorf("the WAV file was not written: there are %d channels; a file may have 1 or 2", channels)
	case rate < MinRate || rate > MaxRate:
		return nil, fmt.Errorf("the WAV file was not written: the rate is %d Hz; it must be %d to %d Hz", rate, MinRate, MaxRate)
	case samples < 1:
		return nil, errors.New("the WAV file was not written: there are no samples; a file needs at least one")
	case size > math.MaxUint32-64:
		return nil, fmt.Errorf("the WAV file was not written: %d bytes of samples; it may hold %d", size, int64(math.MaxUint32-64))
	}
	file.buffered.Write(file.header(samples)) // an error of a bufio.Writer stays until Flush
	return file, nil
}

// size is how many bytes that many samples of each channel take.
func (f *WAVWriter) size(samples int) int64 {
	return int64(samples) * int64(f.channels) * int64(f.format.bits()/8)
}

func (f *WAVWriter) header(samples int) []byte {
	tag := tagInteger
	if f.format == Float32 {
		tag = tagFloat
	}
	return wavHeader(tag, f.channels, f.rate, f.format.bits(), int(f.size(samples)))
}

// Add appends samples, as many of every channel. What is no finite number is
// refused, and so is more than was promised; the file is then of no use.
func (f *WAVWriter) Add(channels ...[]float64) error {
	if len(channels) != f.channels || f.channels == 2 && len(channels[0]) != len(channels[1]) {
		panic("recording: other channels than the file was begun with")
	}
	for c, samples := range channels {
		if i := notFinite(samples); i >= 0 {
			return fmt.Errorf("the WAV file was not written: sample %d of channel %d is %g; samples must be finite numbers", f.added+i, c+1, samples[i])
		}
	}
	if f.added += len(channels[0]); f.added > f.promised {
		return fmt.Errorf("the WAV file was not written: %d samples came, %d were promised", f.added, f.promised)
	}
	for i := 0; i < len(channels[0]); i += atOnce {
		f.bytes = f.bytes[:0]
		j := min(i+atOnce, len(channels[0]))
		if f.channels == 1 {
			f.put(channels[0][i:j])
		} else {
			f.put(interleaved(channels, i, j, make([]float64, 0, 2*atOnce)))
		}
		f.buffered.Write(f.bytes)
	}
	return nil
}

// atOnce is how many samples of a channel are turned into bytes at once.
const atOnce = 1024

// interleaved appends samples i to j of two channels in turn.
func interleaved(channels [][]float64, i, j int, to []float64) []float64 {
	left, right := channels[0][i:j], channels[1][i:j]
	for k, x := range left {
		to = append(to, x, right[k])
	}
	return to
}

// Close completes the file; w itself stays open.
func (f *WAVWriter) Close() error {
	if f.size(f.added)%2 == 1 {
		f.buffered.WriteByte(0) // chunks are padded to even lengths
	}
	if err := f.buffered.Flush(); err != nil {
		return fmt.Errorf("the WAV file could not be written: %w", err)
	}
	if f.added == f.promised {
		return nil
	}
	file, ok := f.w.(io.WriteSeeker)
	if !ok || f.added == 0 {
		return fmt.Errorf("the WAV file could not be written: %w", ErrShort)
	}
	_, err := file.Seek(0, io.SeekStart)
	if err == nil {
		_, err = file.Write(f.header(f.added))
	}
	if err == nil {
		_, err = file.Seek(0, io.SeekEnd)
	}
	if err != nil {
		return fmt.Errorf("the WAV file could not be written: %w", err)
	}
	return nil
}
