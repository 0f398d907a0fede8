package recording

import (
	"encoding/binary"
	"fmt"
	"math"
)

// wav is a checked WAV file: what it holds, and the bytes of its samples.
type wav struct {
	info  Info
	bytes int    // of one sample
	data  []byte // whole frames only
}

// readWAV walks the chunks of a RIFF file and believes none of their lengths.
//
// Source: RIFF/WAVE 1991 (Multimedia Programming Interface and Data
// Specifications 1.0); WAVE_FORMAT_EXTENSIBLE as in mmreg.h.
func readWAV(file []byte) (wav, error) {
	w := wav{info: Info{Format: WAV}}
	if len(file) < 12 || string(file[8:12]) != "WAVE" {
		return w, fmt.Errorf("the file begins as RIFF, but byte 8 says %q; it must be \"WAVE\"", file[min(8, len(file)):min(12, len(file))])
	}
	hasFormat := false
	for at := 12; ; {
		if len(file)-at < 8 {
			return w, fmt.Errorf("the WAV file ends at byte %d without a \"data\" chunk", len(file))
		}
		id, size, body := string(file[at:at+4]), int64(binary.LittleEndian.Uint32(file[at+4:])), file[at+8:]
		if id == "data" {
			if !hasFormat {
				return w, fmt.Errorf("the \"data\" chunk at byte %d of the WAV file comes before any \"fmt \" chunk", at)
			}
			w.take(body, size)
			return w, nil
		}
		if size > int64(len(body)) {
			return w, fmt.Errorf("chunk %q at byte %d of the WAV file claims %d bytes; %d are left", id, at, size, len(body))
		}
		if id == "fmt " && !hasFormat {
			if err := w.format(body[:size], at); err != nil {
				return w, err
			}
			hasFormat = true
		}
		at += 8 + int(size) + int(size&1) // chunks are padded to even lengths
		at = min(at, len(file))
	}
}

// take sets the samples. A length of 0 or 0xffffffff is what a writer leaves
// that could not go back to fill it in: all that follows is taken for samples.
func (w *wav) take(body []byte, size int64) {
	frame := int64(w.bytes * w.info.Channels)
	if size == 0 && !isChunks(body) || size == math.MaxUint32 {
		size = int64(len(body))
	}
	there := min(size, int64(len(body)))
	w.info.Announced = size / frame
	w.info.Frames = there / frame
	w.info.Truncated = w.info.Frames < w.info.Announced
	w.data = body[:w.info.Frames*frame]
}

// isChunks reports whether b is nothing but whole chunks.
func isChunks(b []byte) bool {
	for len(b) >= 8 {
		size := int64(binary.LittleEndian.Uint32(b[4:]))
		if size += size & 1; size > int64(len(b)-8) {
			return false
		}
		b = b[8+size:]
	}
	return len(b) == 0
}

// The kinds of sample that a format chunk can name.
const (
	tagInteger    = 1
	tagFloat      = 3
	tagExtensible = 0xfffe
)

// format reads a format chunk that stands at byte at.
func (w *wav) format(b []byte, at int) error {
	if len(b) < 16 {
		return fmt.Errorf("the \"fmt \" chunk at byte %d of the WAV file has %d bytes; it must have at least 16", at, len(b))
	}
	tag := binary.LittleEndian.Uint16(b)
	w.info.Channels = int(binary.LittleEndian.Uint16(b[2:]))
	rate := binary.LittleEndian.Uint32(b[4:])
	frame := int(binary.LittleEndian.Uint16(b[12:]))
	bits := int(binary.LittleEndian.Uint16(b[14:]))
	if tag == tagExtensible {
		if len(b) < 40 {
			return fmt.Errorf("the extensible \"fmt \" chunk at byte %d of the WAV file has %d bytes; it must have 40", at, len(b))
		}
		if string(b[26:40]) != guidTail {
			return fmt.Errorf("the \"fmt \" chunk at byte %d of the WAV file names an unknown kind of samples (% x)", at, b[24:40])
		}
		tag = binary.LittleEndian.Uint16(b[24:])
	}
	w.info.Rate = int(min(rate, math.MaxInt32))
	w.info.Bits = bits
	w.info.Float = tag == tagFloat
	integers := tag == tagInteger && (bits == 8 || bits == 16 || bits == 24 || bits == 32)
	floats := tag == tagFloat && (bits == 32 || bits == 64)
	if !integers && !floats {
		return fmt.Errorf("the \"fmt \" chunk at byte %d of the WAV file says samples of kind %d with %d bits; "+
			"read are whole numbers (kind 1) of 8, 16, 24 or 32 bits and floating-point numbers (kind 3) of 32 or 64", at, tag, bits)
	}
	w.bytes = bits / 8
	if err := w.info.withinLimits(); err != nil && (w.info.Channels < 1 || w.info.Channels > 2) {
		return fmt.Errorf("%w (byte %d)", err, at+10)
	}
	if frame != w.bytes*w.info.Channels {
		return fmt.Errorf("the \"fmt \" chunk at byte %d of the WAV file says %d bytes a frame; %d channels of %d bits take %d", at, frame, w.info.Channels, bits, w.bytes*w.info.Channels)
	}
	return nil
}

// guidTail is what follows the kind of samples in KSDATAFORMAT_SUBTYPE_PCM and
// _IEEE_FLOAT.
const guidTail = "\x00\x00\x00\x00\x10\x00\x80\x00\x00\xaa\x00\x38\x9b\x71"
