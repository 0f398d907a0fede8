package recording

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"testing"
)

// Written piece by piece a file is the same to the byte, also if fewer samples
// come than were promised.
func TestAFileWrittenInPiecesIsTheSame(t *testing.T) {
	for _, channels := range [][][]float64{{sine(4801, 440, 48000)}, {sine(4801, 440, 48000), sine(4801, 441, 48000)}} {
		for _, f := range []Format{Bits16, Bits24, Float32} {
			for _, promised := range []int{4801, 9999} {
				path := filepath.Join(t.TempDir(), "pieces.wav")
				file, err := os.Create(path)
				if err != nil {
					t.Fatal(err)
				}
				w, err := NewWAVWriter(file, len(channels), 48000, f, promised)
				if err != nil {
					t.Fatal(err)
				}
				for from := 0; from < 4801; from += 1000 {
					piece := make([][]float64, len(channels))
					for c := range piece {
						piece[c] = channels[c][from:min(from+1000, 4801)]
					}
					if err := w.Add(piece...); err != nil {
						t.Fatal(err)
					}
				}
				if err := errors.Join(w.Close(), file.Close()); err != nil {
					t.Fatal(err)
				}
				if got, err := os.ReadFile(path); err != nil || !bytes.Equal(got, written(t, channels, 48000, f)) {
					t.Errorf("%s, %d channels, %d promised: the file differs (%v)", f, len(channels), promised, err)
				}
			}
		}
	}
}

func TestAWriterThatCannotMendItsHeaderSaysSo(t *testing.T) {
	w, err := NewWAVWriter(&bytes.Buffer{}, 1, 48000, Bits16, 100)
	if err != nil {
		t.Fatal(err)
	}
	if err := w.Add(make([]float64, 99)); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); !errors.Is(err, ErrShort) {
		t.Errorf("closing gives %v", err)
	}
	if err := w.Add(make([]float64, 2)); err == nil {
		t.Error("more samples than promised are taken")
	}
}
