package recording

import (
	"bytes"
	"fmt"
)

// What a recording may be. The limits are the program's own: a recording is
// held in memory while it plays (15 minutes of stereo at 48 kHz take 690 MB).
const (
	MaxBytes   = 512 << 20 // of the file
	MaxSeconds = 900       // of sound; less above 74,565 Hz, see maxFrames
	MinRate    = 8000      // Hz
	MaxRate    = 384000    // Hz
)

// Container is a kind of audio file.
type Container int

// The kinds that can be read.
const (
	WAV Container = iota
	FLAC
	Vorbis
	MP3
)

// String returns the kind's name as it stands in messages.
func (f Container) String() string {
	return [...]string{"WAV", "FLAC", "Ogg Vorbis", "MP3"}[f]
}

// Info is what a file holds, found in its bytes and not in its name.
type Info struct {
	Format   Container
	Rate     int     // samples a second, 8,000 to 384,000
	Channels int     // 1 or 2
	Frames   int64   // samples of one channel; as Check reads it from the headers, as Decode counted it
	Seconds  float64 // Frames / Rate
	Bits     int     // of one sample, 4 to 32; 0 for Ogg Vorbis and MP3, which have no such number
	Float    bool    // the samples are floating-point numbers

	// Truncated: the file ends before the sound that it announces; Announced
	// frames were promised and Frames are there.
	Truncated bool
	Announced int64

	// Known after Decode only.
	Silent bool // every sample is 0
	Mended int  // samples that were no numbers, or 60 dB above full scale, and were set to 0
}

// Notices returns what a person should know about a recording that was taken
// in all the same, one sentence each; none if all is well.
func (i Info) Notices() []string {
	var notices []string
	switch {
	case i.Truncated && i.Announced > i.Frames:
		notices = append(notices, fmt.Sprintf("the file ends early: %.3g s of %.3g s are there", i.Seconds, float64(i.Announced)/float64(i.Rate)))
	case i.Truncated:
		notices = append(notices, fmt.Sprintf("the file ends early, after %.3g s; it does not say how long it was", i.Seconds))
	}
	if i.Mended > 0 {
		notices = append(notices, fmt.Sprintf("samples set to 0: %d (no numbers, or more than 60 dB above full scale)", i.Mended))
	}
	if i.Silent {
		notices = append(notices, fmt.Sprintf("the recording is silent: all %d samples are 0", i.Frames))
	}
	return notices
}

// Check reads the headers of a file and tells what it holds. It decodes
// nothing and allocates no more than a few kilobytes, whatever the file claims.
// It refuses a file that is none of the four formats, is not what it claims,
// or is beyond the limits; the error says where. A file that merely ends too
// early is accepted, with Truncated set.
func Check(file []byte) (Info, error) {
	info, err := check(file)
	if err != nil {
		return Info{}, fmt.Errorf("%w; the recording was not loaded", err)
	}
	return info, nil
}

func check(file []byte) (Info, error) {
	if len(file) > MaxBytes {
		return Info{}, fmt.Errorf("the file has %d MiB; a recording may have %d", len(file)>>20, MaxBytes>>20)
	}
	var info Info
	var err error
	switch body := skipID3(file); {
	case len(file) == 0:
		return Info{}, fmt.Errorf("the file is empty")
	case bytes.HasPrefix(file, []byte("RIFF")):
		var w wav
		if w, err = readWAV(file); err == nil {
			info = w.info
		}
	case bytes.HasPrefix(body, []byte("fLaC")):
		info, err = checkFLAC(file, len(file)-len(body))
	case bytes.HasPrefix(file, []byte("OggS")):
		info, err = checkOgg(file)
	case looksLikeMP3(body):
		info, err = checkMP3(file, len(file)-len(body))
	default:
		return Info{}, fmt.Errorf("the file begins with % x, which is none of WAV (RIFF), FLAC, Ogg Vorbis, MP3", file[:min(4, len(file))])
	}
	if err != nil {
		return Info{}, err
	}
	return info, info.withinLimits()
}

// withinLimits also completes Seconds.
func (i *Info) withinLimits() error {
	switch {
	case i.Rate < MinRate || i.Rate > MaxRate:
		return fmt.Errorf("the rate of the %s file is %d Hz; it must be %d to %d Hz", i.Format, i.Rate, MinRate, MaxRate)
	case i.Channels < 1 || i.Channels > 2:
		return fmt.Errorf("the %s file has %d channels; it may have 1 or 2", i.Format, i.Channels)
	case i.Frames > maxFrames(i.Rate):
		return fmt.Errorf("the %s file lasts %.4g s; at %d Hz a recording may last %.4g s", i.Format, float64(i.Frames)/float64(i.Rate), i.Rate, maxSeconds(i.Rate))
	case i.Frames <= 0 && i.Announced <= 0 && i.Format == WAV:
		return fmt.Errorf("the %s file holds no samples; a recording needs at least one", i.Format)
	}
	i.Seconds = float64(i.Frames) / float64(i.Rate)
	return nil
}

// maxFrames returns how many samples of one channel a recording may have at a
// rate: those of MaxSeconds, but no more than fit into the memory of a clip.
func maxFrames(rate int) int64 { return min(MaxSeconds*int64(rate), maxSamples/2) }

// maxSeconds is the time that maxFrames last.
func maxSeconds(rate int) float64 { return float64(maxFrames(rate)) / float64(rate) }

// skipID3 returns what follows ID3v2 tags, or the file itself.
//
// Source: ID3v2.4.0 informal standard, section 3.1: ten bytes of header, the
// last four of them a length of 4 times 7 bits.
func skipID3(file []byte) []byte {
	for len(file) >= 10 && string(file[:3]) == "ID3" {
		size := 10
		for i, b := range file[6:10] {
			size += int(b&0x7f) << (21 - 7*i)
		}
		if file[5]&0x10 != 0 {
			size += 10 // footer
		}
		file = file[min(size, len(file)):]
	}
	return file
}
