package command

import (
	"errors"
	"fmt"
	"io"
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"lampblack/scope/picture"

	"github.com/spf13/cobra"
)

// picturing is what the flags of picture say.
type picturing struct {
	output   target
	of       string
	theme    string
	size     string
	text     float64
	memory   string
	from, to float64
	options  picture.Options
}

// pictureKinds are what --of names.
var pictureKinds = []string{"waveform", "spectrum", "spectrogram", "envelope", "bands", "summary"}

// pictureFormats are the files that -o may name.
var pictureFormats = map[string]picture.Format{".png": picture.PNG, ".svg": picture.SVG, ".pdf": picture.PDF}

var pictureInks = map[string]*picture.Ink{"paper": &picture.Paper, "soot": &picture.Soot}

func (s *session) picture() *cobra.Command {
	var p picturing
	c := &cobra.Command{
		Use:   "picture TAKE|FILE -o OUT.png|.svg|.pdf",
		Short: "Draw a sound: waveform, spectrum, spectrogram, a take's summary",
		Long: `Draw a sound as a picture for a page or a file. A file is written whole or not
at all; the same sound gives the same picture every time.

FILE is an audio file (WAV, FLAC, Ogg Vorbis, MP3) or a patch file (JSON), which is
rendered as lampblack render does it.
` + wrap("Otherwise "+takeNames+"; a take's audition is drawn.", 78, "") + `

What there is to draw (--of):
  waveform     every sample against time; a column spans all that it stands for
  spectrum     the mean spectrum in dBFS, 20 Hz to 20 kHz, its strongest lines named
  spectrogram  level at every frequency and time; the pitch of the memory's notes
               is drawn over it
  envelope     rms over 50 ms in dBFS, and the peaks
  bands        rms in the thirds of an octave of IEC 61260-1
  summary      one page: what the take is called and why it was kept, all of the
               above but the bands, what its cords move and how far, every written
               setting with its cords, and the SHA-256 of its samples. A page
               wider than high has the words beside the pictures.

--text 1.5 makes words and lines half as large again, for slides and for eyes that
want it (a summary is full: 1.2 at most). SVG and PDF keep words as words, with the
fonts inside, and can be enlarged; words and lines grow with the size of a PNG.
Left and right differ by dash as well as by colour, and a spectrogram is ink alone:
all prints in black and white.`,
		Example: `  lampblack picture 1M4/3 -o moths.pdf                       the take on one page
  lampblack picture 1M4/3 -o moths.png --size 3840x2160 --theme soot
  lampblack picture reel.wav -o reel.svg --of spectrogram --from 12 --to 15.4
  lampblack picture bell.json -o - --of spectrum > bell.png`,
		Args:              exactly(1, "one take, one audio file or one patch file"),
		ValidArgsFunction: s.completeTakes(1, true),
		RunE: func(c *cobra.Command, args []string) error {
			p.output.out = s.out
			if err := p.check(c.Flags().Changed); err != nil {
				return err
			}
			return s.pictureTo(c, args[0], p)
		},
	}
	f := c.Flags()
	f.StringVarP(&p.output.path, "output", "o", "", "the `file` to write, .png, .svg or .pdf; - is standard output (PNG)")
	f.BoolVar(&p.output.force, "force", false, "replace the file if it is there")
	f.StringVar(&p.of, "of", "summary", "`what` to draw: "+strings.Join(pictureKinds, ", "))
	f.StringVar(&p.theme, "theme", "paper", "`theme`: paper or soot")
	f.StringVar(&p.size, "size", "", fmt.Sprintf("`WxH` in pixels, each %d to %d (default 1600x1000; summary: A4)", picture.MinSide, picture.MaxSide))
	f.Float64Var(&p.text, "text", 1, fmt.Sprintf("how many `times` as large as usual words and lines are, %g to %g", picture.MinText, float64(picture.MaxText)))
	f.StringVar(&p.memory, "memory", "", "the memory `file` (JSON) to play a patch file with")
	f.Float64Var(&p.from, "from", 0, "where to begin, in `s`")
	f.Float64Var(&p.to, "to", 0, "where to end, in `s` (default: where the sound ends)")
	completes(c, "of", cobra.FixedCompletions(pictureKinds, cobra.ShellCompDirectiveNoFileComp))
	completes(c, "theme", cobra.FixedCompletions([]cobra.Completion{"paper", "soot"}, cobra.ShellCompDirectiveNoFileComp))
	return c
}

// check finds what is wrong with the flags before any work is done.
func (p *picturing) check(given func(flag string) bool) error {
	var faults []error
	add := func(format string, args ...any) { faults = append(faults, fmt.Errorf(format, args...)) }
	ending := strings.ToLower(filepath.Ext(p.output.path))
	format, known := pictureFormats[ending]
	if p.output.path != "-" && p.output.path != "" && !known {
		add("%s: a picture's name must end in .png, .svg or .pdf; nothing was written", p.output.path)
	}
	if !slices.Contains(pictureKinds, p.of) {
		add("--of is %q; it must be %s", p.of, strings.Join(pictureKinds, ", "))
	}
	ink, known := pictureInks[p.theme]
	if !known {
		add("--theme is %q; it must be paper or soot", p.theme)
	}
	p.options = picture.Options{Format: format, Ink: ink, Text: p.text}
	if !(p.text >= picture.MinText && p.text <= picture.MaxText) {
		add("--text is %g; it must be %g to %g", p.text, picture.MinText, float64(picture.MaxText))
	}
	if p.size != "" {
		var err error
		if p.options.Width, p.options.Height, err = readSize(p.size); err != nil {
			faults = append(faults, err)
		}
	}
	if !(p.from >= 0 && !math.IsInf(p.from, 1)) {
		add("--from is %g; it must be 0 s or later", p.from)
	}
	if !given("to") {
		p.to = math.Inf(1)
	}
	if !(p.to > p.from) {
		add("--to is %g s; it must be later than --from, %g s", p.to, p.from)
	}
	return errors.Join(append(faults, p.output.check())...)
}

// readSize reads "1600x1000".
func readSize(text string) (width, height int, err error) {
	w, h, _ := strings.Cut(strings.ToLower(strings.ReplaceAll(text, "×", "x")), "x")
	width, errW := strconv.Atoi(strings.TrimSpace(w))
	height, errH := strconv.Atoi(strings.TrimSpace(h))
	for _, side := range []int{width, height} {
		if errW != nil || errH != nil || side < picture.MinSide || side > picture.MaxSide {
			return 0, 0, fmt.Errorf("--size is %q; it must be width and height in pixels, such as 1600x1000, each %d to %d", text, picture.MinSide, picture.MaxSide)
		}
	}
	return width, height, nil
}

func (s *session) pictureTo(c *cobra.Command, name string, p picturing) error {
	subject, err := s.pictured(c.Context(), name, p.memory, p.of == "summary")
	if err != nil {
		return err
	}
	if err := p.output.spare(append(subject.files, s.notebook)...); err != nil {
		return err
	}
	if err := subject.cut(p.from, p.to); err != nil {
		return err
	}
	if err := p.output.write(func(w io.Writer) error { return subject.draw(w, p) }); err != nil {
		return err
	}
	if p.output.path != "-" {
		fmt.Fprintf(s.err, "%s: %s of %s, %s, %g Hz\n", visible(p.output.path), p.of, visible(name),
			strings.TrimSpace(fmt.Sprintf("%.3f", subject.Sound.Seconds()))+" s", float64(subject.Sound.Rate))
	}
	return nil
}

// draw draws what is wanted of a subject.
func (subject pictured) draw(w io.Writer, p picturing) error {
	o, sound := p.options, subject.Sound
	o.Title, o.Aside = subject.Title, subject.Aside
	switch p.of {
	case "waveform":
		return picture.Waveform(w, sound, o)
	case "spectrum":
		return picture.Spectrum(w, sound, o)
	case "spectrogram":
		return picture.Spectrogram(w, sound, subject.Moves, o)
	case "envelope":
		return picture.Envelope(w, sound, o)
	case "bands":
		return picture.Bands(w, sound, o)
	}
	return picture.Summary(w, subject.Take, sound, subject.Moves, o)
}
