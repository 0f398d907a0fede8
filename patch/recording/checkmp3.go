package recording

import (
	"encoding/binary"
	"fmt"
)

// mp3Header is the four bytes at the head of a frame of MPEG audio.
//
// Sources: ISO/IEC 11172-3:1993, section 2.4.1.3; ISO/IEC 13818-3:1998.
type mp3Header uint32

func (h mp3Header) valid() bool {
	return h>>21 == 0x7ff && h>>19&3 != 1 && h>>17&3 != 0 && h>>12&15 != 15 && h>>10&3 != 3 && h&3 != 2
}
func (h mp3Header) layer3() bool { return h>>17&3 == 1 }
func (h mp3Header) mpeg1() bool  { return h>>19&3 == 3 }
func (h mp3Header) mpeg25() bool { return h>>19&3 == 0 }
func (h mp3Header) free() bool   { return h>>12&15 == 0 }
func (h mp3Header) mono() bool   { return h>>6&3 == 3 }

func (h mp3Header) rate() int {
	rate := [...]int{44100, 48000, 32000, 0}[h>>10&3]
	switch {
	case h.mpeg1():
		return rate
	case h.mpeg25():
		return rate / 4
	}
	return rate / 2
}

// samples of one channel in the frame.
func (h mp3Header) samples() int {
	if h.mpeg1() {
		return 1152
	}
	return 576
}

// size of the frame, with its header, in bytes.
func (h mp3Header) size() int {
	kbits := [...]int{0, 8, 16, 24, 32, 40, 48, 56, 64, 80, 96, 112, 128, 144, 160}
	if h.mpeg1() {
		kbits = [...]int{0, 32, 40, 48, 56, 64, 80, 96, 112, 128, 160, 192, 224, 256, 320}
	}
	return h.samples()/8*1000*kbits[h>>12&15]/h.rate() + int(h>>9&1)
}

// side is the number of bytes of side information after the header.
func (h mp3Header) side() int {
	switch {
	case h.mpeg1() && !h.mono():
		return 32
	case h.mpeg1() || !h.mono():
		return 17
	}
	return 9
}

// mp3HeaderAt reads a header at byte at of b.
func mp3HeaderAt(b []byte, at int) (mp3Header, bool) {
	if len(b)-at < 4 {
		return 0, false
	}
	h := mp3Header(binary.BigEndian.Uint32(b[at:]))
	return h, h.valid()
}

// looksLikeMP3 reports whether the first bytes are a frame's header, or zeros
// before one.
func looksLikeMP3(b []byte) bool {
	_, ok := mp3HeaderAt(b, skipZeros(b))
	return ok
}

func skipZeros(b []byte) int {
	at := 0
	for at < len(b) && b[at] == 0 {
		at++
	}
	return at
}

// mp3Layout is where the frames of an MP3 file stand and which of their samples
// are sound.
type mp3Layout struct {
	first int // byte of the first frame with sound
	end   int // byte after the last whole frame
	skip  int // samples before the sound: the delay of encoder and decoder
	total int // samples of all frames from first to end
	keep  int // samples of sound; total - skip if the file does not say
}

// checkMP3 walks the frames from byte start on.
func checkMP3(file []byte, start int) (Info, error) {
	info := Info{Format: MP3}
	layout, err := info.walkMP3(file, start)
	if err != nil {
		return info, err
	}
	info.Frames = int64(layout.keep)
	return info, nil
}

func (i *Info) walkMP3(file []byte, start int) (mp3Layout, error) {
	start += skipZeros(file[start:])
	h, _ := mp3HeaderAt(file, start)
	switch {
	case !h.layer3():
		return mp3Layout{}, fmt.Errorf("byte %d begins MPEG audio of layer I or II; read is layer III (MP3)", start)
	case h.mpeg25():
		return mp3Layout{}, fmt.Errorf("the MP3 file has MPEG version 2.5 (%d Hz); read are versions 1 and 2 (16,000 to 48,000 Hz)", h.rate())
	}
	i.Rate, i.Channels = h.rate(), 2
	if h.mono() {
		i.Channels = 1
	}
	layout := mp3Layout{first: start, end: start}
	for at := start; ; {
		next, ok := mp3HeaderAt(file, at)
		if !ok {
			i.Truncated = at < len(file) && !isTag(file[at:])
			if i.Truncated && at+4 < len(file) {
				return layout, fmt.Errorf("byte %d of the MP3 file should begin a frame or a tag and is % x", at, file[at:at+4])
			}
			break
		}
		if next.free() || next.rate() != h.rate() || !next.layer3() {
			return layout, fmt.Errorf("the frame at byte %d of the MP3 file has header %08x; rate and layer must stay those of the first frame (%08x), and the bit rate must be named", at, uint32(next), uint32(h))
		}
		if at+next.size() > len(file) {
			i.Truncated = true
			break
		}
		at += next.size()
		layout.end = at
		layout.total += next.samples()
	}
	if layout.total == 0 {
		return layout, fmt.Errorf("the MP3 file ends at byte %d within its first frame", len(file))
	}
	layout.keep = layout.total
	i.readInfoFrame(file, h, &layout)
	return layout, nil
}

// isTag reports whether b begins one of the tags that stand after the sound
// (ID3v1, APEv2, Lyrics3), or is padding.
func isTag(b []byte) bool {
	for _, mark := range []string{"TAG", "APETAGEX", "LYRICSBEGIN", "ID3"} {
		if len(b) >= len(mark) && string(b[:len(mark)]) == mark {
			return true
		}
	}
	return skipZeros(b) == len(b)
}

// decoderDelay is what any layer III decoder adds to the encoder's delay:
// 528 samples and one.
const decoderDelay = 529

// readInfoFrame looks into the first frame for the note that encoders leave
// there: how many frames there are, and how many samples at both ends are not
// sound. The note is common practice (marks "Xing" and "Info"), not in the
// standard.
func (i *Info) readInfoFrame(file []byte, h mp3Header, layout *mp3Layout) {
	frame := file[layout.first:min(layout.first+h.size(), layout.end)]
	at := 4 + h.side()
	if len(frame) < at+8 || string(frame[at:at+4]) != "Xing" && string(frame[at:at+4]) != "Info" {
		return
	}
	layout.first += h.size() // the note itself decodes to silence
	layout.total -= h.samples()
	layout.keep = layout.total
	note, flags := frame[at+8:], frame[at+7]
	for bit, size := range []int{4, 4, 100, 4} { // frames, bytes, table of contents, quality
		if flags>>bit&1 == 0 {
			continue
		}
		if len(note) < size {
			return
		}
		if bit == 0 {
			i.Announced = int64(binary.BigEndian.Uint32(note)) * int64(h.samples())
		}
		note = note[size:]
	}
	if len(note) < 24 {
		i.Truncated = i.Truncated || i.Announced > int64(layout.total)
		return
	}
	delay, padding := int(note[21])<<4|int(note[22])>>4, int(note[22]&15)<<8|int(note[23])
	i.Announced -= int64(delay + padding)
	if delay == 0 && padding == 0 {
		return
	}
	layout.skip = min(delay+decoderDelay, layout.total)
	layout.keep = layout.total - layout.skip
	if i.Announced > 0 {
		layout.keep = min(layout.keep, int(min(i.Announced, int64(layout.total))))
	}
}
