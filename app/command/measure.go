package command

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"

	"lampblack/patch/recording"
	"lampblack/scope/meter"

	"github.com/spf13/cobra"
)

func (s *session) measure() *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:   "measure FILE",
		Short: "Measure an audio file: loudness, peaks, meters, pitch, distortion",
		Long: fmt.Sprintf(`Measure an audio file: WAV (also RF64 and BW64), FLAC, MP3 or Ogg Vorbis; - is
standard input. The file is only read.

A WAV file has 1 to 6 channels and any length. They count as mono; left, right;
and a centre; left, right and two surrounds; 5.0; 5.1 without the low-frequency
channel. The others have 1 or 2 channels, %d MiB and %d minutes at most. Rates
are 8 to 384 kHz.

Loudness      ITU-R BS.1770-5, EBU Tech 3341: integrated with gates at -70 LUFS
              and -10 LU; the highest of any 3 s (short-term) and 0.4 s
              (momentary), looked at every 10 ms. A mono file is one speaker.
Range         EBU Tech 3342. EBU R 128 wants -23.0 LUFS and at most -1 dBTP.
True peak     what lies between the samples too: 8 times the rate at 48 kHz.
PPM           IEC 60268-10 type IIa, the highest: mark 4 is -18 dBFS, 6 is 8 dB
              more.
VU            IEC 60268-17, the highest: 0 VU is -18 dBFS (EBU R 68).
Correlation   of left and right: +1 the same, -1 cancels in mono. The lowest is
              of any 0.4 s above -60 dBFS.
Silence       before the first and after the last sample above -60 dBFS.
Tone          the strongest steady tone in any 0.5 to 1 s, with the nearest note
              at A4 = 440 Hz; THD+N is what is left of 20 Hz to 20 kHz beside
              its strongest line, re all of it (as AES17, with a spectrum as the
              notch). For music it says little.
Fluctuation   the strongest rate at which the amplitude moves, 0.5 to 15 Hz,
Roughness     and 15 to 300 Hz (Zwicker and Fastl); 100 %% deep goes down to 0.

%s`, recording.MaxBytes>>20, recording.MaxSeconds/60, measureKeys),
		Example: `  lampblack measure moths.wav
  lampblack measure moths.wav --json
  lampblack render 1M4/3 -o - | lampblack measure -`,
		Args: exactly(1, "one audio file"),
		RunE: func(c *cobra.Command, args []string) error {
			m, err := s.measureFile(c.Context(), args[0])
			if err != nil {
				return err
			}
			s.tell(m.info.Notices())
			if asJSON {
				return s.printJSON(newMeasuredJSON(m))
			}
			s.printMeasured(m)
			return nil
		},
	}
	jsonFlag(c, &asJSON)
	return c
}

// measured is what was found in a file.
type measured struct {
	name string
	info recording.Info
	meter.Reading
}

// measureFile measures a file, or standard input ("-"), either of which may keep
// one waiting: ctx calls it off.
func (s *session) measureFile(ctx context.Context, path string) (measured, error) {
	type result struct {
		m   measured
		err error
	}
	done := make(chan result, 1)
	go func() {
		m, err := s.measureAll(ctx, path)
		done <- result{m, err}
	}()
	select {
	case r := <-done:
		return r.m, r.err
	case <-ctx.Done():
		return measured{}, ctx.Err()
	}
}

func (s *session) measureAll(ctx context.Context, path string) (measured, error) {
	m := measured{name: path}
	f, size, err := openSound(path)
	if err != nil {
		return m, err
	}
	defer f.Close()
	r := bufio.NewReaderSize(f, 1<<16)
	begin, err := r.Peek(4)
	if err != nil && !errors.Is(err, io.EOF) {
		return m, told(path, err)
	}
	bar := s.progress("measuring")
	defer bar.end()
	if beginsWAV(begin) {
		err = m.stream(ctx, r, func(bytes int64) { bar.at(float64(bytes) / float64(max(size, bytes, 1))) })
	} else {
		err = m.decode(r)
	}
	if err != nil && ctx.Err() == nil {
		return m, fmt.Errorf("%s: %w", path, err)
	}
	return m, err
}

// openSound opens a file, a pipe or standard input ("-"); size is 0 unless it is
// known.
func openSound(path string) (f *os.File, size int64, err error) {
	if path == "-" {
		return os.Stdin, 0, nil
	}
	if f, err = os.Open(path); err != nil {
		return nil, 0, told(path, err)
	}
	info, err := f.Stat()
	if err != nil {
		f.Close()
		return nil, 0, told(path, err)
	}
	switch mode := info.Mode(); {
	case mode.IsRegular():
		size = info.Size()
	case mode&os.ModeDevice != 0:
		f.Close()
		return nil, 0, fmt.Errorf("%s: this is a device, which may never end; name a file; it was not measured", path)
	}
	return f, size, nil
}

// measureFrames is how many samples of a channel are measured together: long
// enough for the meters to run side by side.
const measureFrames = 1 << 17

// stream measures a WAV file while it is read.
func (m *measured) stream(ctx context.Context, r *bufio.Reader, progress func(bytes int64)) error {
	err := m.streamed(ctx, r, progress)
	if err != nil {
		return fmt.Errorf("%w; it was not measured", err)
	}
	return nil
}

func (m *measured) streamed(ctx context.Context, r *bufio.Reader, progress func(bytes int64)) error {
	w, err := newWAVStream(r)
	if err != nil {
		return err
	}
	all := meter.New(float64(w.info.Rate), meter.Weights(w.info.Channels))
	space := make([][]float64, w.info.Channels)
	for c := range space {
		space[c] = make([]float64, measureFrames)
	}
	channels := make([][]float64, len(space))
	for {
		n, err := w.read(space)
		if err != nil {
			return fmt.Errorf("after %.4g s it could not be read: %w", w.info.Seconds, err)
		}
		if n == 0 {
			break
		}
		for c := range space {
			channels[c] = space[c][:n]
		}
		all.WriteAtOnce(channels)
		progress(w.info.Frames * int64(w.bytes*w.info.Channels))
		if ctx.Err() != nil {
			return ctx.Err()
		}
	}
	if w.info.Frames == 0 {
		return errors.New("the WAV file holds no samples; at least one is needed")
	}
	m.info, m.Reading = w.info, all.Reading()
	m.info.Silent = true
	for _, c := range m.Channels {
		m.info.Mended += int(c.Broken)
		m.info.Silent = m.info.Silent && c.Crest == 0 && c.Peak < -200
	}
	return nil
}

// decode measures a file of another kind, which is read whole.
func (m *measured) decode(r io.Reader) error {
	file, err := io.ReadAll(io.LimitReader(r, recording.MaxBytes+1))
	if err == nil && len(file) > recording.MaxBytes {
		err = fmt.Errorf("it is larger than the %d MiB that a file other than WAV may have; it was not measured", recording.MaxBytes>>20)
	}
	if err != nil {
		return err
	}
	info, err := recording.Check(file)
	if err != nil {
		return err
	}
	clip, info, err := recording.Decode(file, info.Rate)
	if err != nil {
		return err
	}
	all := meter.New(float64(info.Rate), meter.Weights(info.Channels))
	all.WriteAtOnce(clip.Channels)
	m.info, m.Reading = info, all.Reading()
	return nil
}
