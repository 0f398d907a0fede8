package recording

import (
	"encoding/binary"
	"fmt"
)

// maxPacket bounds a packet of an Ogg file; the largest in use are comments
// that hold a picture.
const maxPacket = 16 << 20

// checkOgg walks the pages of an Ogg file: their checksums, that they belong to
// one Vorbis stream, and the three headers of that stream.
//
// Sources: RFC 3533, section 6; Vorbis I specification, sections 4.2 and A.2.
func checkOgg(file []byte) (Info, error) {
	walk := oggWalk{file: file, info: Info{Format: Vorbis}}
	for walk.at < len(file) && !walk.last {
		if whole, err := walk.page(); err != nil {
			return walk.info, err
		} else if !whole {
			walk.info.Truncated = true
			break
		}
	}
	switch {
	case walk.headers < 3:
		return walk.info, fmt.Errorf("the Ogg file ends at byte %d, before its three Vorbis headers are complete", len(file))
	case walk.last && walk.at < len(file) && string(file[walk.at:min(walk.at+4, len(file))]) == "OggS":
		return walk.info, fmt.Errorf("the Ogg file holds a second stream from byte %d on; it may hold one", walk.at)
	case !walk.last:
		walk.info.Truncated = true
	}
	walk.info.Frames = max(walk.position, 0)
	return walk.info, nil
}

// oggWalk is a walk through the pages.
type oggWalk struct {
	file     []byte
	at       int
	info     Info
	serial   uint32
	headers  int    // complete ones, 0 to 3
	packet   []byte // the header that is not yet complete
	length   int    // of the packet that is not yet complete
	position int64  // samples at the end of the page
	last     bool   // the page said that it is the last
}

// page reads one page; whole is false if the file ends within it.
func (w *oggWalk) page() (whole bool, err error) {
	page := w.file[w.at:]
	if len(page) < 27 {
		return false, nil
	}
	if string(page[:4]) != "OggS" || page[4] != 0 {
		return false, fmt.Errorf("byte %d of the Ogg file should begin a page (\"OggS\", version 0) and is % x", w.at, page[:5])
	}
	segments := int(page[26])
	if segments == 0 {
		return false, fmt.Errorf("the page at byte %d of the Ogg file is empty; it must hold at least one segment", w.at)
	}
	if len(page) < 27+segments {
		return false, nil
	}
	table, size := page[27:27+segments], 0
	for _, s := range table {
		size += int(s)
	}
	if len(page) < 27+segments+size {
		return false, nil
	}
	page = page[:27+segments+size]
	if want := binary.LittleEndian.Uint32(page[22:]); oggChecksum(page) != want {
		return false, fmt.Errorf("the page at byte %d of the Ogg file is damaged: its checksum is %08x and should be %08x", w.at, oggChecksum(page), want)
	}
	serial := binary.LittleEndian.Uint32(page[14:])
	if w.at > 0 && serial != w.serial {
		return false, fmt.Errorf("the page at byte %d of the Ogg file belongs to a second stream; it may hold one", w.at)
	}
	w.serial = serial
	if err := w.packets(table, page[27+segments:]); err != nil {
		return false, err
	}
	if position := int64(binary.LittleEndian.Uint64(page[6:])); position != -1 && w.headers == 3 {
		w.position = position
	}
	w.last = page[5]&4 != 0
	w.at += len(page)
	return true, nil
}

// packets joins segments to packets and reads the first three.
func (w *oggWalk) packets(table, body []byte) error {
	for _, s := range table {
		w.length += int(s)
		if w.length > maxPacket {
			return fmt.Errorf("a packet of the Ogg file (in the page at byte %d) has more than %d MiB", w.at, maxPacket>>20)
		}
		if w.headers < 3 {
			w.packet = append(w.packet, body[:s]...)
		}
		body = body[s:]
		if s == 255 {
			continue
		}
		if w.headers < 3 {
			if err := w.info.vorbisHeader(w.headers, w.packet); err != nil {
				return fmt.Errorf("%w (Vorbis header %d of the Ogg file, in the page at byte %d)", err, w.headers+1, w.at)
			}
			w.headers++
			w.packet = nil
		}
		w.length = 0
	}
	return nil
}

// oggTable is for the checksum of a page, x^32 + ... with the polynomial
// 04c11db7, most significant bit first (RFC 3533, section 6).
var oggTable = func() (table [256]uint32) {
	for i := range table {
		r := uint32(i) << 24
		for range 8 {
			r = r<<1 ^ r>>31*0x04c11db7
		}
		table[i] = r
	}
	return table
}()

// oggChecksum sums a page, its own checksum counted as 0.
func oggChecksum(page []byte) (sum uint32) {
	for i, b := range page {
		if i >= 22 && i < 26 {
			b = 0
		}
		sum = sum<<8 ^ oggTable[byte(sum>>24)^b]
	}
	return sum
}
