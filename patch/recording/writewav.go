package recording

import (
	"encoding/binary"
	"fmt"
	"io"
	"math"

	"lampblack/patch/dsp/hash"
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

// put turns samples, of all channels in turn, into bytes.
func (f *WAVWriter) put(samples []float64) {
	b := f.bytes
	switch f.format {
	case Bits16:
		for i, x := range samples {
			b = binary.LittleEndian.AppendUint16(b, uint16(step16(x, f.dither+uint64(i))))
		}
		f.dither += uint64(len(samples))
	case Bits24:
		for _, x := range samples {
			step := uint32(step24(x))
			b = append(b, byte(step), byte(step>>8), byte(step>>16))
		}
	default:
		for _, x := range samples {
			b = binary.LittleEndian.AppendUint32(b, math.Float32bits(float32(x)))
		}
	}
	f.bytes = b
}

// step16 rounds a sample to 16 bits, with the draw of that number as dither.
func step16(x float64, draw uint64) int16 {
	// What is added and taken away leaves no bits behind the point: so it rounds, to
	// the nearest, halves to even.
	const whole = 3 << 51
	x = float64(x*(1<<15)) + triangular(draw)
	if x > 1<<15-1 {
		return 1<<15 - 1
	}
	if x < -1<<15 {
		return -1 << 15
	}
	return int16(int64(x + whole - whole))
}

// triangular returns the difference of two even numbers, in steps: -1 to 1. The
// two halves of one draw are as independent as two draws.
func triangular(number uint64) float64 {
	draw := hash.Bits(ditherKey, number)
	return float64(float64(int64(draw>>32)-int64(draw&(1<<32-1))) * (1.0 / (1 << 32)))
}

// ditherKey names the stream of numbers that dither is drawn from.
const ditherKey = 0x6C616D70626C6163

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
