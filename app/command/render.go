package command

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strconv"
	"strings"

	"lampblack/notebook"
	"lampblack/patch/engine"
	"lampblack/patch/recording"

	"github.com/spf13/cobra"
)

// rendering is what the flags of render say.
type rendering struct {
	output  target
	memory  string
	seconds float64
	rate    int
	bits    string
	fine    string
	factor  int // what fine comes to
	json    bool
}

// forms are the sample formats that --bits names.
var forms = map[string]recording.Format{
	"16": recording.Bits16, "24": recording.Bits24, "32f": recording.Float32,
}

func (s *session) render() *cobra.Command {
	var r rendering
	c := &cobra.Command{
		Use:   "render FILE|TAKE -o OUT.wav",
		Short: "Write the sound of a patch file or of a take as a WAV file",
		Long: `Write the sound of a patch file or of a take as a WAV file. The same patch gives
the same samples every time. A file is written whole or not at all.

FILE is a patch file (JSON), or - for standard input; a recording that it names is
looked for beside it, and then, by its SHA-256, in the notebook.
` + wrap("Otherwise "+takeNames+".", 78, "") + `

A take is as long as its audition; a patch file with a memory lasts one pass and
until it is silent (10 s more at most), one without a memory holds the note A4
for 4 s. A memory file has the form that take show --json prints under memory.

At 16 bits triangular dither is added, at 24 bits the samples are rounded, and
32-bit float holds what passes full scale as well. In 16 and 24 bits that is
clipped, and you are told.

With --fine the patch is computed at 2, 4 or 8 times the rate and brought down
by filters, so that the sidebands of a high modulation index do not fold; auto
works out the factor from frequencies, depths and the highest note. It is a
finer sound than the live one, and not the one that a take is proved by.

` + renderKeys,
		Example: `  lampblack render moths.json -o moths.wav --seconds 8.2
  lampblack render 1M4/3 -o moths.wav --bits 16
  lampblack render bell.json --memory tune.json -o bell.wav --rate 96000 --bits 32f
  lampblack render 1M4/3 -o - | sox - -n stat`,
		Args:              exactly(1, "one patch file or one take"),
		ValidArgsFunction: s.completeTakes(1, true),
		RunE: func(c *cobra.Command, args []string) error {
			r.output.out = s.out
			if err := r.check(c.Flags().Changed); err != nil {
				return err
			}
			return s.renderTo(c.Context(), args[0], r)
		},
	}
	f := c.Flags()
	f.StringVarP(&r.output.path, "output", "o", "", "the WAV `file` to write; - is standard output")
	f.BoolVar(&r.output.force, "force", false, "replace the file if it is there")
	f.StringVar(&r.memory, "memory", "", "the memory `file` (JSON) to play a patch file with")
	f.Float64Var(&r.seconds, "seconds", 0, "length in `s`, over 0 to 3600 (default: see above)")
	f.IntVar(&r.rate, "rate", 0, "`samples` a second, 8000 to 384000 (default: the take's, or 48000)")
	f.StringVar(&r.bits, "bits", "24", "`form` of the samples: 16, 24 or 32f (32-bit float)")
	f.StringVar(&r.fine, "fine", "1", "`times` the rate that it is computed at: 1, 2, 4, 8 or auto")
	completes(c, "fine", cobra.FixedCompletions([]cobra.Completion{"auto", "1", "2", "4", "8"}, cobra.ShellCompDirectiveNoFileComp))
	completes(c, "bits", cobra.FixedCompletions([]cobra.Completion{"16", "24", "32f"}, cobra.ShellCompDirectiveNoFileComp))
	jsonFlag(c, &r.json)
	return c
}

// check finds what is wrong with the flags before any work is done.
func (r *rendering) check(given func(flag string) bool) error {
	var faults []error
	if _, ok := forms[r.bits]; !ok {
		faults = append(faults, fmt.Errorf("--bits is %q; it must be 16, 24 or 32f", r.bits))
	}
	if !slices.Contains([]string{"auto", "1", "2", "4", "8"}, r.fine) {
		faults = append(faults, fmt.Errorf("--fine is %q; it must be 1, 2, 4, 8 or auto", r.fine))
	}
	if given("seconds") && !(r.seconds > 0 && r.seconds <= engine.MaxSeconds) {
		faults = append(faults, fmt.Errorf("--seconds is %g; it must be over 0 and at most %d s", r.seconds, engine.MaxSeconds))
	}
	if given("rate") && (r.rate < 8000 || r.rate > 384000) {
		faults = append(faults, fmt.Errorf("--rate is %d; it must be 8000 to 384000 Hz", r.rate))
	}
	if r.json && r.output.path == "-" {
		faults = append(faults, errors.New("--json and the sound can't both go to standard output; name a file with -o"))
	}
	return errors.Join(append(faults, r.output.check())...)
}

func (s *session) renderTo(ctx context.Context, name string, r rendering) error {
	src, err := s.open(ctx, name, r.memory)
	if err != nil {
		return err
	}
	if err := r.output.spare(append(src.files, s.notebook)...); err != nil {
		return err
	}
	var sound rendered
	bar := s.progress("rendering")
	defer bar.end()
	begun, err := s.begin(ctx, src, &r, bar.at)
	if err != nil {
		return err
	}
	err = r.output.write(func(w io.Writer) (err error) {
		sound, err = pour(begun, w, r)
		return err
	})
	if err != nil {
		return err
	}
	bar.end()
	return s.toldRendered(sound, r)
}

// open reads what render's argument names: a file if there is one of that name
// or if it looks like one, otherwise a take.
func (s *session) open(ctx context.Context, name, memoryPath string) (source, error) {
	if _, err := os.Stat(name); err == nil || name == "-" || strings.HasSuffix(name, ".json") {
		return s.readSource(ctx, name, memoryPath)
	}
	if memoryPath != "" {
		return source{}, fmt.Errorf("--memory is for a patch file; a take (%s) has its own", name)
	}
	var src source
	err := s.reading(func(b *notebook.Book, all contents) error {
		l, err := all.find(name)
		if err != nil {
			return fmt.Errorf("%w; nor is there a file of that name", err)
		}
		src, err = sourceOf(b, l)
		return err
	})
	return src, err
}

// sourceOf returns a take as a source.
func sourceOf(b *notebook.Book, l line) (source, error) {
	t, err := b.Take(l.take.ID)
	if err != nil {
		return source{}, err
	}
	src := source{
		name: l.name(), patch: t.Patch, memory: t.Memory,
		seconds: t.Asked, rate: t.Rate, recordings: map[string][]byte{},
	}
	for _, r := range t.Recordings {
		if src.recordings[r.SHA256], err = b.Recording(r.SHA256); err != nil {
			return source{}, err
		}
	}
	return src, nil
}

// begin begins to render a source offline.
func (s *session) begin(ctx context.Context, src source, r *rendering, progress func(float64)) (*engine.Rendering, error) {
	r.rate = cmp.Or(r.rate, src.rate, 48000)
	if r.seconds > 0 && r.seconds*float64(r.rate) < 1 {
		return nil, fmt.Errorf("--seconds is %g; at %d samples a second that is less than one sample", r.seconds, r.rate)
	}
	r.factor, _ = strconv.Atoi(r.fine)
	if r.fine == "auto" {
		r.factor = engine.FineFor(src.patch, src.memory, r.rate, nil)
	}
	if r.factor > 1 && r.rate*r.factor > engine.MaxRate {
		return nil, fmt.Errorf("--fine %s at %d samples a second would be %d; a patch is computed at %d at most", r.fine, r.rate, r.rate*r.factor, engine.MaxRate)
	}
	clips, err := src.clips(r.rate * r.factor)
	if err != nil {
		return nil, err
	}
	s.tell(src.notices)
	begun, err := engine.Begin(src.patch, src.memory, engine.RenderOptions{
		Rate: r.rate, Seconds: cmp.Or(r.seconds, src.seconds), Fine: r.factor,
		Clips: clips, Progress: progress, Context: ctx,
	})
	if err != nil {
		return nil, fmt.Errorf("%s: %w", src.name, err)
	}
	return begun, nil
}
