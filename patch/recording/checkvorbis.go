package recording

import (
	"encoding/binary"
	"fmt"
	"math/bits"
)

// vorbisHeader checks header 0, 1 or 2 of a Vorbis stream for what would make
// the decoder (jfreymuth/vorbis v1.0.2) allocate what is merely claimed or never
// return: the number of comments, the sizes of codebooks, and code words that
// lead nowhere.
//
// Source: Vorbis I specification, sections 3.2.1 and 4.2.
func (i *Info) vorbisHeader(number int, packet []byte) error {
	if len(packet) >= 8 && string(packet[:8]) == "OpusHead" {
		return fmt.Errorf("the Ogg file holds Opus; read is Vorbis")
	}
	if len(packet) < 7 || packet[0] != byte(2*number+1) || string(packet[1:7]) != "vorbis" {
		return fmt.Errorf("the packet begins with % x, which is not Vorbis", packet[:min(7, len(packet))])
	}
	return [...]func(*Info, []byte) error{(*Info).vorbisIdentity, (*Info).vorbisComments, (*Info).vorbisSetup}[number](i, packet[7:])
}

func (i *Info) vorbisIdentity(b []byte) error {
	if len(b) < 23 {
		return fmt.Errorf("the header has %d bytes; it must have 30", len(b)+7)
	}
	i.Channels = int(b[4])
	i.Rate = int(binary.LittleEndian.Uint32(b[5:]) & 0x7fffffff)
	if short, long := b[21]&15, b[21]>>4; short < 6 || long > 13 || short > long {
		return fmt.Errorf("blocks have %d and %d samples; they must have 64 to 8192, the shorter first", 1<<short, 1<<long)
	}
	return i.withinLimits()
}

func (i *Info) vorbisComments(b []byte) error {
	for left := int64(-1); left != 0; left-- {
		size, rest, ok := lengthAhead(b)
		if !ok || size > int64(len(rest)) {
			return fmt.Errorf("a comment claims %d bytes; %d are left", size, len(rest))
		}
		b = rest[size:]
		if left < 0 { // that was the maker's name; now the number of comments
			if left, b, ok = lengthAhead(b); !ok || left > int64(len(b)/4) {
				return fmt.Errorf("%d comments are claimed; %d bytes are left", left, len(b))
			}
			left++
		}
		if left == 1 {
			break
		}
	}
	return nil
}

// lengthAhead reads a 32-bit number.
func lengthAhead(b []byte) (int64, []byte, bool) {
	if len(b) < 4 {
		return 0, b, false
	}
	return int64(binary.LittleEndian.Uint32(b)), b[4:], true
}

// The largest codebooks that are believed; those of encoders stay well below.
const (
	maxEntries = 1 << 16 // of one book
	maxValues  = 1 << 22 // of all books
)

// vorbisSetup walks the codebooks. What follows them is bounded by their number
// and by the bytes that are there.
func (i *Info) vorbisSetup(b []byte) error {
	r := &bitsReader{data: b}
	values := 0
	for book := range r.read(8) + 1 {
		if r.read(24) != 0x564342 {
			return fmt.Errorf("codebook %d has no mark", book)
		}
		dimensions, entries := int(r.read(16)), int(r.read(24))
		values += dimensions * entries
		if dimensions < 1 || entries < 1 || entries > maxEntries || values > maxValues {
			return fmt.Errorf("codebook %d claims %d entries of %d numbers; allowed are 1 to %d entries and %d numbers in all books", book, entries, dimensions, maxEntries, maxValues)
		}
		if err := r.codeWords(entries); err != nil {
			return fmt.Errorf("codebook %d %w", book, err)
		}
		switch lookup := r.read(4); lookup {
		case 0:
		case 1, 2:
			r.read(32)
			r.read(32)
			width, n := int(r.read(4))+1, dimensions*entries
			r.read(1)
			if lookup == 1 {
				n = lattice(entries, dimensions)
			}
			r.skip(width * n)
		default:
			return fmt.Errorf("codebook %d has lookup type %d; it must be 0, 1 or 2", book, lookup)
		}
		if r.over {
			return fmt.Errorf("codebook %d goes on past the end of the header", book)
		}
	}
	return nil
}

// codeWords reads the lengths of a codebook's words and makes sure that every
// run of bits leads to one: the sum of 2^-length must be 1. A single word of one
// bit is allowed.
func (r *bitsReader) codeWords(entries int) error {
	var sum uint64 // in units of 2^-32
	used, last := 0, uint32(0)
	word := func(length uint32, n int) {
		if length < 1 || length > 32 {
			sum = 1 << 40
			return
		}
		sum += uint64(n) << (32 - length)
		used, last = used+n, length
	}
	if r.read(1) == 1 {
		for entry, length := 0, r.read(5)+1; entry < entries; length++ {
			n := int(r.read(bits.Len(uint(entries - entry))))
			if r.over || n > entries-entry || length > 32 {
				return fmt.Errorf("has code words for more than its %d entries, or of more than 32 bits", entries)
			}
			if n > 0 {
				word(length, n)
			}
			entry += n
		}
	} else {
		sparse := r.read(1) == 1
		for range entries {
			if !sparse || r.read(1) == 1 {
				word(r.read(5)+1, 1)
			}
		}
	}
	if r.over {
		return fmt.Errorf("goes on past the end of the header")
	}
	if sum != 1<<32 && (used != 1 || last != 1) {
		return fmt.Errorf("has code words that are ambiguous or lead nowhere (%d words fill %.6g of the code space)", used, float64(sum)/(1<<32))
	}
	return nil
}

// lattice returns the largest n with n^dimensions <= entries.
func lattice(entries, dimensions int) int {
	for n := 1; ; n++ {
		power := 1
		for range dimensions {
			if power *= n + 1; power > entries {
				return n
			}
		}
	}
}

// bitsReader reads bits, least significant first; past the end it reads zeros
// and sets over.
type bitsReader struct {
	data []byte
	at   int // bit
	over bool
}

func (r *bitsReader) read(n int) (x uint32) {
	for i := range n {
		if r.at>>3 >= len(r.data) {
			r.over = true
			return 0
		}
		x |= uint32(r.data[r.at>>3]>>(r.at&7)&1) << i
		r.at++
	}
	return x
}

func (r *bitsReader) skip(n int) {
	r.at += n
	r.over = r.over || r.at > 8*len(r.data)
}
