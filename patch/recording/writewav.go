package recording

import (
	"encoding/binary"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
)

// Format is how WriteWAV writes a sample.
type Format int

const (
	// Bits16: whole numbers of 16 bits, with triangular dither two steps wide, so
	// that the error is noise at -93.3 dB below a full-scale sine and never follows
	// the sound. The dither is drawn from a fixed seed: the same samples give the
	// same file.
	Bits16 Format = iota
	// Bits24: whole numbers of 24 bits, rounded to the nearest.
	Bits24
	// Float32: floating-point numbers of 32 bits, which need not be limited.
	Float32
)

// String returns the format's name as commands take it: 16, 24 or 32f.
func (f Format) String() string { return [...]string{"16", "24", "32f"}[f] }

func (f Format) bits() int { return [...]int{16, 24, 32}[f] }

// WriteWAV writes one or two channels of equal length as a WAV file; rates are
// 8,000 to 384,000 Hz. Samples beyond full scale are limited in the formats of
// whole numbers: see Clipped. Samples that are no finite numbers, and more than
// a WAV file can hold (4 GiB), are refused before anything is written.
//
// Sources: RIFF/WAVE 1991; dither: Lipshitz, Wannamaker and Vanderkooy,
// JAES 40(5), 1992.
func WriteWAV(w io.Writer, channels [][]float64, rate int, f Format) error {
	if err := checkSamples(channels, rate); err != nil {
		return fmt.Errorf("the WAV file was not written: %w", err)
	}
	file, err := NewWAVWriter(w, len(channels), rate, f, len(channels[0]))
	if err != nil {
		return err
	}
	if err := file.Add(channels...); err != nil {
		return err
	}
	return file.Close()
}

// put appends one sample to b.
func (f Format) put(b []byte, x float64, dither *rand.PCG) []byte {
	switch f {
	case Bits16:
		x = math.RoundToEven(float64(x*(1<<15)) + triangular(dither))
		return binary.LittleEndian.AppendUint16(b, uint16(int16(min(max(x, -1<<15), 1<<15-1))))
	case Bits24:
		step := uint32(step24(x))
		return append(b, byte(step), byte(step>>8), byte(step>>16))
	}
	return binary.LittleEndian.AppendUint32(b, math.Float32bits(float32(x)))
}

// triangular returns the difference of two even numbers, in steps: -1 to 1. The
// two halves of one draw are as independent as two draws.
func triangular(dither *rand.PCG) float64 {
	draw := dither.Uint64()
	return (float64(draw>>32) - float64(draw&(1<<32-1))) / (1 << 32)
}

// wavHeader returns all that precedes the samples. For floats it has the longer
// format chunk and the count of samples that the standard asks for.
func wavHeader(tag, channels, rate, bits, size int) []byte {
	frame := channels * bits / 8
	format := binary.LittleEndian.AppendUint16(nil, uint16(tag))
	format = binary.LittleEndian.AppendUint16(format, uint16(channels))
	format = binary.LittleEndian.AppendUint32(format, uint32(rate))
	format = binary.LittleEndian.AppendUint32(format, uint32(rate*frame))
	format = binary.LittleEndian.AppendUint16(format, uint16(frame))
	format = binary.LittleEndian.AppendUint16(format, uint16(bits))
	var fact []byte
	if tag != tagInteger {
		format = binary.LittleEndian.AppendUint16(format, 0)
		fact = chunk("fact", binary.LittleEndian.AppendUint32(nil, uint32(size/frame)))
	}
	body := append([]byte("WAVE"), chunk("fmt ", format)...)
	body = append(body, fact...)
	body = append(body, "data"...)
	body = binary.LittleEndian.AppendUint32(body, uint32(size))
	head := binary.LittleEndian.AppendUint32([]byte("RIFF"), uint32(len(body)+size+size%2))
	return append(head, body...)
}

// chunk returns a RIFF chunk of an even number of bytes.
func chunk(id string, body []byte) []byte {
	return append(binary.LittleEndian.AppendUint32([]byte(id), uint32(len(body))), body...)
}
