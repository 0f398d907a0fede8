package command

import (
	"bufio"
	"bytes"
	"encoding/binary"
	"slices"
	"testing"

	"lampblack/patch/recording"
)

// wavFile is a WAV file of stereo samples.
func wavFile(t testing.TB, format recording.Format) []byte {
	t.Helper()
	var file bytes.Buffer
	channels := [][]float64{{0.5, -0.25, 0, 0.125, -1}, {-0.5, 0.75, 0.0625, 0, 0.9}}
	if err := recording.WriteWAV(&file, channels, 44100, format); err != nil {
		t.Fatal(err)
	}
	return file.Bytes()
}

// readStream reads all samples, in pieces of two.
func readStream(file []byte) (channels [][]float64, info recording.Info, err error) {
	w, err := newWAVStream(bufio.NewReader(bytes.NewReader(file)))
	if err != nil {
		return nil, info, err
	}
	channels = make([][]float64, w.info.Channels)
	space := make([][]float64, w.info.Channels)
	for c := range space {
		space[c] = make([]float64, 2)
	}
	for {
		n, err := w.read(space)
		if n == 0 || err != nil {
			return channels, w.info, err
		}
		for c := range channels {
			channels[c] = append(channels[c], space[c][:n]...)
		}
	}
}

// FuzzMeasureWAV holds that no file stops the reader, and that what recording.Decode
// takes as well comes out the same.
func FuzzMeasureWAV(f *testing.F) {
	for _, format := range []recording.Format{recording.Bits16, recording.Bits24, recording.Float32} {
		file := wavFile(f, format)
		f.Add(file)
		f.Add(file[:len(file)-3])
		f.Add(file[:30])
	}
	f.Fuzz(func(t *testing.T, file []byte) {
		channels, info, err := readStream(file)
		if err != nil || info.Frames == 0 {
			return
		}
		want, err := recording.Check(file)
		if err != nil || info.Bits == 64 || want.Frames != info.Frames {
			return // it may be refused there, or its chunks be read otherwise
		}
		clip, _, err := recording.Decode(file, want.Rate)
		if err != nil {
			return
		}
		for c := range channels {
			for i, x := range channels[c] {
				// Decode takes what is no sound for silence.
				if y := clip.Channels[c][i]; x != y && y != 0 {
					t.Fatalf("sample %d of channel %d is %g, decoded %g", i, c, x, y)
				}
			}
		}
	})
}

// Every form is read as it is decoded, to the bit.
func TestStreamIsDecode(t *testing.T) {
	for _, format := range []recording.Format{recording.Bits16, recording.Bits24, recording.Float32} {
		file := wavFile(t, format)
		got, info, err := readStream(file)
		if err != nil {
			t.Fatal(err)
		}
		clip, _, err := recording.Decode(file, 44100)
		if err != nil {
			t.Fatal(err)
		}
		for c := range got {
			if !slices.Equal(got[c], clip.Channels[c]) {
				t.Errorf("%v: channel %d is %v, decoded %v", format, c, got[c], clip.Channels[c])
			}
		}
		if info.Truncated || info.Announced != 5 {
			t.Errorf("%v: %+v; five samples were announced and are there", format, info)
		}
	}
}

// EBU Tech 3306: a length of ffffffff stands in a "ds64" chunk.
func TestStreamReadsRF64(t *testing.T) {
	file := wavFile(t, recording.Bits16)
	ds64 := append([]byte("RF64\xff\xff\xff\xffWAVEds64\x1c\x00\x00\x00"), make([]byte, 28)...)
	binary.LittleEndian.PutUint64(ds64[28:], 5*4)
	rest := slices.Clone(file[12:])
	at := bytes.Index(rest, []byte("data"))
	copy(rest[at+4:], "\xff\xff\xff\xff")
	channels, info, err := readStream(slices.Concat(ds64, rest, []byte("LIST\x04\x00\x00\x00junk")))
	if err != nil || info.Frames != 5 || info.Announced != 5 || channels[1][4] < 0.89 {
		t.Errorf("%v, %+v, %v; want 5 samples, the chunk behind them left alone", channels, info, err)
	}
}
