package recording

import (
	"bytes"
	"encoding/binary"
	"math"
	"runtime"
	"testing"
)

// FuzzDecode holds that no file makes Decode panic, hang or give what Check did
// not announce. The two small files in testdata are sines made with ffmpeg; the
// others are made here.
func FuzzDecode(f *testing.F) {
	for _, liar := range liars {
		f.Add(liar.file)
	}
	channels := [][]float64{sine(300, 440, 8000), sine(300, 700, 8000)}
	for _, format := range []Format{Bits16, Bits24, Float32} {
		f.Add(written(f, channels, 8000, format))
	}
	f.Add(encode(f, channels, 8000))
	for _, name := range []string{"testdata/sine.ogg", "testdata/sine.mp3"} {
		file := read(f, name)
		f.Add(file)
		f.Add(file[:len(file)*2/3])
	}
	f.Fuzz(func(t *testing.T, file []byte) {
		tryDecode(t, file)
		tryDecode(t, mendOgg(bytes.Clone(file))) // past the checksums, to what lies behind
	})
}

func tryDecode(t *testing.T, file []byte) {
	announced, checkErr := Check(file)
	rate := 8000
	if checkErr == nil {
		rate = announced.Rate
	}
	clip, info, err := Decode(file, rate)
	if err != nil {
		if clip != nil {
			t.Error("refused, and yet there is a clip")
		}
		return
	}
	if checkErr != nil {
		t.Fatalf("decoded, although Check refuses: %v", checkErr)
	}
	for _, samples := range clip.Channels {
		if len(samples) == 0 || int64(len(samples)) != info.Frames || info.Frames > maxFrames(rate) {
			t.Fatalf("%d samples; info says %d", len(samples), info.Frames)
		}
		for i, x := range samples {
			if math.Abs(x) > 1000 || math.IsNaN(x) {
				t.Fatalf("sample %d is %v", i, x)
			}
		}
	}
	if info.Rate != announced.Rate || info.Channels != announced.Channels || len(clip.Channels) != info.Channels {
		t.Fatalf("Check says %+v, Decode %+v", announced, info)
	}
}

// mendOgg gives every page of an Ogg file the checksum that it should have.
func mendOgg(file []byte) []byte {
	for at := 0; len(file)-at >= 27 && string(file[at:at+4]) == "OggS"; {
		size := 27 + int(file[at+26])
		if len(file)-at < size {
			break
		}
		for _, s := range file[at+27 : at+size] {
			size += int(s)
		}
		if len(file)-at < size {
			break
		}
		binary.LittleEndian.PutUint32(file[at+22:], oggChecksum(file[at:at+size]))
		at += size
	}
	return file
}

// oggFile returns an Ogg file of one page a packet.
func oggFile(packets ...[]byte) []byte {
	var file []byte
	for i, p := range packets {
		page := append([]byte("OggS\x00\x00"), make([]byte, 20)...)
		page[18] = byte(i)
		table := bytes.Repeat([]byte{255}, len(p)/255)
		table = append(table, byte(len(p)%255))
		page = append(append(append(page, byte(len(table))), table...), p...)
		file = append(file, page...)
	}
	return mendOgg(file)
}

// bitsWriter writes bits, least significant first.
type bitsWriter struct {
	data []byte
	n    int
}

func (w *bitsWriter) put(x, n int) *bitsWriter {
	for i := range n {
		if w.n%8 == 0 {
			w.data = append(w.data, 0)
		}
		w.data[w.n/8] |= byte(x>>i&1) << (w.n % 8)
		w.n++
	}
	return w
}

// Vorbis headers that would make the decoder allocate gigabytes, panic or run
// for ever are refused, and by name.
func TestVorbisHeadersThatLie(t *testing.T) {
	identity := append([]byte("\x01vorbis\x00\x00\x00\x00\x01\x80\xbb\x00\x00"), make([]byte, 12)...)
	identity = append(identity, 0xb8, 1)
	comments := append([]byte("\x03vorbis"), make([]byte, 9)...)
	with := func(b []byte, at int, to ...byte) []byte {
		b = bytes.Clone(b)
		copy(b[at:], to)
		return b
	}
	book := func() *bitsWriter {
		return (&bitsWriter{data: []byte("\x05vorbis"), n: 56}).put(0, 8).put(0x564342, 24)
	}
	for _, test := range []struct {
		name    string
		packets [][]byte
	}{
		{"Opus", [][]byte{[]byte("OpusHead and so on")}},
		{"no channels", [][]byte{with(identity, 11, 0)}},
		{"255 channels", [][]byte{with(identity, 11, 255)}},
		{"blocks of 1 sample", [][]byte{with(identity, 28, 0)}},
		{"blocks of 32768 samples", [][]byte{with(identity, 28, 0xff)}},
		{"4 billion comments", [][]byte{identity, with(comments, 11, 0xff, 0xff, 0xff, 0xff)}},
		{"maker's name of 4 GiB", [][]byte{identity, with(comments, 7, 0xff, 0xff, 0xff, 0xff)}},
		{"comment of 4 GiB", [][]byte{identity, append(with(comments[:15], 11, 1, 0, 0, 0), 0xff, 0xff, 0xff, 0xff)}},
		{"codebook of 16 million entries", [][]byte{identity, comments, book().put(1, 16).put(0xffffff, 24).put(0, 600).data}},
		{"codebook of no entries", [][]byte{identity, comments, book().put(1, 16).put(0, 24).put(0, 600).data}},
		{"codebook of no dimensions", [][]byte{identity, comments, book().put(0, 16).put(2, 24).put(0, 600).data}},
		{"codebook of 4 billion values", [][]byte{identity, comments, book().put(0xffff, 16).put(0xffff, 24).put(0, 600).data}},
		{"code words that lead nowhere", [][]byte{identity, comments, book().put(1, 16).put(2, 24).put(0, 2).put(1, 5).put(1, 5).put(0, 600).data}},
		{"ordered code words that never come", [][]byte{identity, comments, book().put(1, 16).put(9, 24).put(1, 1).data}},
	} {
		file := oggFile(test.packets...)
		if _, err := Check(file); err == nil || oggChecksum(file[:27]) == 0 {
			t.Errorf("%s is accepted", test.name)
		} else if testing.Verbose() {
			t.Logf("%s: %v", test.name, err)
		}
	}
	if _, err := Check(oggFile(identity, comments, book().put(1, 16).put(2, 24).put(0, 2).put(0, 5).put(0, 5).put(0, 600).data)); err != nil {
		t.Errorf("the headers without a lie are refused: %v", err)
	}
}

// A file may claim what it likes: refusing it takes no more memory than its own
// size and a little.
func TestClaimsAreNotAllocated(t *testing.T) {
	var before, after runtime.MemStats
	for _, liar := range liars {
		runtime.ReadMemStats(&before)
		Decode(liar.file, 48000)
		runtime.ReadMemStats(&after)
		if used := after.TotalAlloc - before.TotalAlloc; used > 256<<10 {
			t.Errorf("%s: %d KiB were allocated", liar.name, used>>10)
		}
	}
}

// A few bytes of FLAC can stand for hours of one constant value. Reading stops
// at the limit, however long the file says it is.
func TestAFLACBombIsNotUnpacked(t *testing.T) {
	file := encode(t, [][]float64{make([]float64, flacBlock)}, 8000)
	audio := file[42:]
	frames := MaxSeconds*8000/flacBlock + 2
	bomb := bytes.Clone(file[:42])
	for i := 22; i < 42; i++ { // neither length nor MD5 sum are told
		bomb[i] = 0
	}
	bomb = append(bomb, bytes.Repeat(audio, frames)...)
	clip, _, err := Decode(bomb, 8000)
	if err == nil || clip != nil {
		t.Errorf("%d bytes became %d samples", len(bomb), frames*flacBlock)
	}
	if _, _, err := Decode(append(bytes.Clone(bomb[:42]), audio...), 8000); err != nil {
		t.Errorf("one frame of it is refused: %v", err)
	}
}
