package recording

import (
	"bufio"
	"crypto/md5"
	"errors"
	"fmt"
	"io"

	"github.com/mewkiz/flac"
	"github.com/mewkiz/flac/frame"
	"github.com/mewkiz/flac/meta"
)

// flacBlock is the number of samples in a frame, the usual one of FLAC encoders
// at 44.1 and 48 kHz.
const flacBlock = 4096

// EncodeFLAC writes one or two channels of equal length as a 24-bit FLAC
// stream. Samples are rounded to the nearest of 2^24 steps, without dither
// (steps of 24 bits lie at -144 dB, below the noise of any converter); beyond
// full scale they are limited, see Clipped. The same samples give the same
// bytes. Rates are 8,000 to 384,000 Hz.
//
// Source: RFC 9639, Free Lossless Audio Codec.
func EncodeFLAC(w io.Writer, channels [][]float64, rate int) error {
	if err := checkSamples(channels, rate); err != nil {
		return fmt.Errorf("the FLAC file was not written: %w", err)
	}
	ints := make([][]int32, len(channels))
	for c := range channels {
		ints[c] = quantise24(channels[c])
	}
	out := &firstError{w: w} // the encoder's errors do not wrap those of its writer
	buffered := bufio.NewWriter(out)
	enc, err := flac.NewEncoder(buffered, &meta.StreamInfo{
		BlockSizeMin:  flacBlock,
		BlockSizeMax:  flacBlock,
		SampleRate:    uint32(rate),
		NChannels:     uint8(len(ints)),
		BitsPerSample: 24,
		NSamples:      uint64(len(ints[0])),
		MD5sum:        md5of(ints),
	})
	if err != nil {
		return fmt.Errorf("the FLAC header could not be written: %w", out.or(err))
	}
	// Its own analysis stops at one Rice parameter of at most 14 a block, which
	// for 24-bit noise is worse than none; predict chooses instead.
	enc.EnablePredictionAnalysis(false)
	for at := 0; at < len(ints[0]); at += flacBlock {
		block := make([][]int32, len(ints))
		for c := range ints {
			block[c] = ints[c][at:min(at+flacBlock, len(ints[c]))]
		}
		if err := enc.WriteFrame(newFrame(block, rate)); err != nil {
			return fmt.Errorf("the FLAC file could not be written at sample %d: %w", at, out.or(err))
		}
	}
	if err := buffered.Flush(); err != nil {
		return fmt.Errorf("the FLAC file could not be written: %w", err)
	}
	return nil
}

// firstError keeps the first error of a writer.
type firstError struct {
	w   io.Writer
	err error
}

func (f *firstError) Write(p []byte) (int, error) {
	n, err := f.w.Write(p)
	if f.err == nil {
		f.err = err
	}
	return n, err
}

// or returns the writer's error, or err if it had none.
func (f *firstError) or(err error) error {
	if f.err != nil {
		return f.err
	}
	return err
}

// DecodeFLAC returns the samples of a FLAC file at its own rate, every step as
// it stands in the file. Unlike Decode it forgives nothing: the file must be
// whole, and its samples must have the MD5 sum that it carries (if it carries
// one). It is meant for files that this program wrote.
func DecodeFLAC(file []byte) (channels [][]float64, rate int, err error) {
	info, err := Check(file)
	switch {
	case err != nil:
		return nil, 0, err
	case info.Format != FLAC:
		return nil, 0, fmt.Errorf("the file is %s; a FLAC file is needed here; nothing was read", info.Format)
	}
	defer turnPanic("FLAC", &err)
	samples, sum, err := readFLAC(file, info)
	if err != nil {
		return nil, 0, err
	}
	if sum.cut {
		return nil, 0, fmt.Errorf("the FLAC file ends early, after %d of %d samples; nothing was read", len(samples[0]), info.Frames)
	}
	if sum.damaged() {
		return nil, 0, fmt.Errorf("the FLAC file is damaged: its samples have the MD5 sum %x, its header says %x; nothing was read", sum.got, sum.want)
	}
	return samples, info.Rate, nil
}

// md5sums are the sum that a header carries and that of the samples found; cut
// says that the file ended before its samples did.
type md5sums struct {
	want, got [md5.Size]byte
	cut       bool
}

// damaged reports whether there is a sum and it is wrong.
func (s md5sums) damaged() bool { return s.want != ([md5.Size]byte{}) && s.want != s.got }

// readFLAC decodes all frames that are there of a checked file.
func readFLAC(file []byte, info Info) ([][]float64, md5sums, error) {
	counter := &countingReader{r: newReader(file)}
	stream, err := flac.New(counter)
	if err != nil {
		return nil, md5sums{}, fmt.Errorf("the FLAC header cannot be read; nothing was read: %w", err)
	}
	channels := make([][]float64, info.Channels)
	hash := md5.New()
	step := 1 / float64(int64(1)<<(info.Bits-1))
	cut := false
	for {
		f, err := stream.ParseNext()
		if cut = errors.Is(err, io.ErrUnexpectedEOF); cut || err == io.EOF {
			break
		}
		if err == nil && (len(f.Subframes) != info.Channels || int(f.BitsPerSample) != info.Bits) {
			err = fmt.Errorf("a frame has %d channels of %d bits, the header says %d of %d", len(f.Subframes), f.BitsPerSample, info.Channels, info.Bits)
		}
		if err == nil && int64(len(channels[0])+int(f.BlockSize)) > maxFrames(info.Rate) {
			err = fmt.Errorf("it goes on past the %.4g s that a recording may last", maxSeconds(info.Rate))
		}
		if err != nil {
			return nil, md5sums{}, fmt.Errorf("the FLAC file is damaged at sample %d (before byte %d of %d); nothing was read: %w", len(channels[0]), counter.n, len(file), err)
		}
		f.Hash(hash)
		for c, sub := range f.Subframes {
			for _, s := range sub.Samples {
				channels[c] = append(channels[c], float64(s)*step)
			}
		}
	}
	there := uint64(len(channels[0]))
	if n := stream.Info.NSamples; n != 0 && n < there {
		return nil, md5sums{}, fmt.Errorf("the FLAC file holds %d samples, its header says %d; nothing was read", there, n)
	}
	cut = cut || stream.Info.NSamples > there
	return channels, md5sums{stream.Info.MD5sum, [md5.Size]byte(hash.Sum(nil)), cut}, nil
}

// newFrame returns the frame for a block, with the cheapest of the four ways to
// code two channels. The samples are copied: the encoder works in place.
func newFrame(block [][]int32, rate int) *frame.Frame {
	channels, subs := frame.ChannelsMono, []coded{predict(block[0], 24)}
	if len(block) == 2 {
		channels, subs = cheapestStereo(block[0], block[1])
	}
	f := &frame.Frame{Header: frame.Header{
		HasFixedBlockSize: true,
		BlockSize:         uint16(len(block[0])),
		SampleRate:        frameRate(rate),
		Channels:          channels,
		BitsPerSample:     24,
	}}
	for c := range block {
		f.Subframes = append(f.Subframes, &frame.Subframe{
			SubHeader: subs[c].header,
			Samples:   append([]int32(nil), block[c]...),
			NSamples:  len(block[c]),
		})
	}
	return f
}

// frameRate returns the rate to write into a frame's header, or 0 ("as in the
// file's header") for one that the frame's header has no room for, or that the
// decoder in use comments upon in every frame (24,000 and 176,400 Hz: mewkiz/flac
// v1.0.14 prints a line each).
func frameRate(rate int) uint32 {
	switch {
	case rate == 24000, rate == 176400, rate > 65535 && rate%10 != 0:
		return 0
	}
	return uint32(rate)
}

// cheapestStereo chooses between left and right, left and difference,
// difference and right, mean and difference.
//
// Source: RFC 9639, section 4.2.
func cheapestStereo(left, right []int32) (frame.Channels, []coded) {
	mid, side := make([]int32, len(left)), make([]int32, len(left))
	for i, l := range left {
		mid[i], side[i] = (l+right[i])>>1, l-right[i] // 25 bits: no overflow
	}
	l, r, m, s := predict(left, 24), predict(right, 24), predict(mid, 24), predict(side, 25)
	channels, subs := frame.ChannelsLR, []coded{l, r}
	for _, other := range []struct {
		channels frame.Channels
		subs     []coded
	}{
		{frame.ChannelsLeftSide, []coded{l, s}},
		{frame.ChannelsSideRight, []coded{s, r}},
		{frame.ChannelsMidSide, []coded{m, s}},
	} {
		if other.subs[0].bits+other.subs[1].bits < subs[0].bits+subs[1].bits {
			channels, subs = other.channels, other.subs
		}
	}
	return channels, subs
}

// md5of returns the sum of the interleaved 24-bit little-endian samples.
func md5of(channels [][]int32) (sum [md5.Size]byte) {
	hash := md5.New()
	var bytes []byte
	for i := range channels[0] {
		for c := range channels {
			s := channels[c][i]
			bytes = append(bytes, byte(s), byte(s>>8), byte(s>>16))
		}
		if len(bytes) > 1<<14 || i == len(channels[0])-1 {
			hash.Write(bytes)
			bytes = bytes[:0]
		}
	}
	return [md5.Size]byte(hash.Sum(nil))
}
