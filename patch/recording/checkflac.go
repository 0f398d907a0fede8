package recording

import (
	"encoding/binary"
	"fmt"
)

// checkFLAC reads the stream information of a FLAC file whose mark stands at
// start, and walks its metadata blocks without believing a length.
//
// Source: RFC 9639, section 8.
func checkFLAC(file []byte, start int) (Info, error) {
	info := Info{Format: FLAC}
	at, first := start+4, true
	for last := false; !last; first = false {
		if len(file)-at < 4 {
			return info, fmt.Errorf("the FLAC file ends at byte %d, within its metadata", len(file))
		}
		kind, size := file[at]&0x7f, int(binary.BigEndian.Uint32(file[at:])&0xffffff)
		last = file[at]&0x80 != 0
		body := file[at+4:]
		if size > len(body) {
			return info, fmt.Errorf("metadata block at byte %d of the FLAC file claims %d bytes; %d are left", at, size, len(body))
		}
		if first {
			if kind != 0 || size != 34 {
				return info, fmt.Errorf("the first metadata block of the FLAC file (byte %d) has type %d and %d bytes; it must be the stream information, type 0 and 34 bytes", at, kind, size)
			}
			if err := info.streamInfo(body, at+4); err != nil {
				return info, err
			}
		}
		at += 4 + size
	}
	if at >= len(file) {
		return info, fmt.Errorf("the FLAC file ends at byte %d, before its first sample", len(file))
	}
	return info, nil
}

// streamInfo reads the 34 bytes that stand at byte at of the file.
func (i *Info) streamInfo(b []byte, at int) error {
	if smallest, largest := binary.BigEndian.Uint16(b), binary.BigEndian.Uint16(b[2:]); smallest < 16 || largest < smallest {
		return fmt.Errorf("block sizes at byte %d of the FLAC file are %d to %d samples; they must be 16 to 65535", at, smallest, largest)
	}
	packed := binary.BigEndian.Uint64(b[10:]) // rate 20 bits, channels - 1 in 3, bits - 1 in 5, samples in 36
	i.Rate = int(packed >> 44)
	i.Channels = int(packed>>41&7) + 1
	i.Bits = int(packed>>36&31) + 1
	i.Frames = int64(packed & (1<<36 - 1))
	switch i.Bits {
	case 8, 12, 16, 20, 24:
	default: // the decoder takes the width from the frames, which name no other
		return fmt.Errorf("samples of the FLAC file have %d bits (byte %d); read are 8, 12, 16, 20 and 24", i.Bits, at+12)
	}
	return nil
}
