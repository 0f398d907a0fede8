package recording

import (
	"fmt"
	"math"

	"lampblack/patch/module"
)

// Decode returns the sound of an audio file at the given rate (samples a
// second, 8,000 to 384,000). The file is checked first, so that it may be
// anything; what it holds is told by Info, whose Frames is what was decoded at
// the file's own rate. The clip then has Frames * rate / Info.Rate samples,
// rounded to the nearest. Use Info.Notices to tell a person what was mended.
//
// Integers are divided by 2^(bits-1), floats are taken as they are. At the
// file's own rate every sample comes out exactly as it stands in the file; for
// other rates see resample. The same file gives the same bits in every run on
// the same processor family (the decoders of Ogg Vorbis and MP3 and the
// resampler use sums that other processors may fuse).
func Decode(file []byte, rate int) (clip *module.Clip, info Info, err error) {
	if rate < MinRate || rate > MaxRate {
		return nil, Info{}, fmt.Errorf("a recording was asked for at %d Hz; the rate must be %d to %d Hz; it was not loaded", rate, MinRate, MaxRate)
	}
	if info, err = Check(file); err != nil {
		return nil, Info{}, err
	}
	defer turnPanic(info.Format.String(), &err)
	channels, err := decoders[info.Format](file, &info)
	if err != nil {
		return nil, Info{}, err
	}
	if len(channels[0]) == 0 {
		return nil, Info{}, fmt.Errorf("no sound could be decoded from the %s file of %d bytes; a recording needs at least one sample; it was not loaded", info.Format, len(file))
	}
	info.Frames = int64(len(channels[0]))
	info.Seconds = float64(info.Frames) / float64(info.Rate)
	info.Truncated = info.Truncated || info.Announced > info.Frames
	info.Silent = silent(channels)
	if n := resampledLength(info.Frames, info.Rate, rate) * int64(info.Channels); n > maxSamples {
		return nil, Info{}, fmt.Errorf("the %s file lasts %.4g s, which at %d Hz are %d million samples; a recording may have %d million; it was not loaded",
			info.Format, info.Seconds, rate, n/1000000, maxSamples/1000000)
	}
	return &module.Clip{Channels: resample(channels, info.Rate, rate)}, info, nil
}

// maxSamples bounds the memory of a clip to 1 GiB.
const maxSamples = 1 << 27

// decoders return one slice for each channel, at the file's rate. They may set
// what Check could not know: Truncated, Announced, Mended.
var decoders = [...]func(file []byte, info *Info) ([][]float64, error){
	WAV:    decodeWAV,
	FLAC:   decodeFLAC,
	Vorbis: decodeVorbis,
	MP3:    decodeMP3,
}

// decodeFLAC takes what is there of a file that ends early.
//
// It asks mewkiz/flac itself, on which beep's FLAC decoder stands: that one
// drops up to a buffer of good samples before a place where the file is cut.
func decodeFLAC(file []byte, info *Info) ([][]float64, error) {
	announced := info.Frames
	channels, sum, err := readFLAC(file, *info)
	if err != nil {
		return nil, err
	}
	info.Announced = announced
	info.Truncated = sum.cut
	if !sum.cut && sum.damaged() {
		return nil, fmt.Errorf("the FLAC file is damaged: its samples have the MD5 sum %x, its header says %x; it was not loaded", sum.got, sum.want)
	}
	return channels, nil
}

func silent(channels [][]float64) bool {
	for _, samples := range channels {
		for _, x := range samples {
			if x != 0 {
				return false
			}
		}
	}
	return true
}

// mend replaces what is no sound by silence: numbers that are none, infinite,
// or more than 60 dB above full scale (floating-point files alone can hold
// such). It returns how many.
func mend(samples []float64) int {
	n := 0
	for i, x := range samples {
		if !(math.Abs(x) <= 1000) {
			samples[i] = 0
			n++
		}
	}
	return n
}
