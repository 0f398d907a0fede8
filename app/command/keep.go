package command

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"lampblack/notebook"

	"github.com/spf13/cobra"
)

// keeping is what the flags of keep say.
type keeping struct {
	place
	from, note, memory string
	tags               []string
	seconds            float64
	rate               int
}

// place says in which cue a take is kept.
type place struct {
	job, cue, timecode string
	make               bool
}

func (p *place) flags(c *cobra.Command) {
	c.Flags().StringVar(&p.job, "job", "", "the job's `name`; needed if its cue's number is found in several")
	c.Flags().StringVar(&p.cue, "cue", "", "the cue's `number`; with --make its name may follow (\"1M4 Moths at the lamp\")")
	c.Flags().BoolVar(&p.make, "make", false, "make job and cue if they are not there")
	c.Flags().StringVar(&p.timecode, "timecode", "", "where a cue that --make makes stands in the picture, as `HH:MM:SS:FF`")
}

func (s *session) takeKeep() *cobra.Command {
	var k keeping
	var asJSON bool
	c := &cobra.Command{
		Use:   "keep FILE",
		Short: "Keep a patch file as a take, with its audition",
		Long: `Keep a patch file as a take: the patch, its memory, its recordings, your words
and the audition (rendered now) go into the notebook together, or not at all.
A take is never changed afterwards.

Without --memory the take has the memory of the take named by --from, or none.
Without --cue it goes to the cue of that take.

` + strings.Replace(headingKeys, "a list of takes with take", "one take with take", 1),
		Example: `  lampblack take keep moths.json --job "The Glasshouse" --cue "1M4 Moths at the lamp" --make \
      --note "First try: too dry." --tags wings,night
  lampblack take keep moths.json --from 1M4/1 --note "Width down to 45 Hz: now it has a pitch."`,
		Args: exactly(1, "one patch file"),
		RunE: func(c *cobra.Command, args []string) error {
			if k.from == "" && k.cue == "" {
				return errors.New("no cue; name one with --cue, or the take that it comes from with --from")
			}
			if c.Flags().Changed("seconds") && !(k.seconds > 0) {
				return fmt.Errorf("--seconds is %g; it must be over 0 and at most %d s", k.seconds, notebook.MaxSeconds)
			}
			src, err := s.readSource(c.Context(), args[0], k.memory)
			if err != nil {
				return err
			}
			s.tell(src.notices)
			return s.writing(func(b *notebook.Book, all contents) error {
				t, err := s.keep(c.Context(), b, all, src, k)
				if err != nil {
					return err
				}
				return s.told(b, t.ID, "kept", asJSON)
			})
		},
	}
	k.place.flags(c)
	f := c.Flags()
	f.StringVar(&k.from, "from", "", "the `take` that it comes from")
	f.StringVar(&k.note, "note", "", "why it is as it is, in your `words`")
	f.StringSliceVar(&k.tags, "tags", nil, "`tags`, with commas between them")
	f.StringVar(&k.memory, "memory", "", "the memory `file` (JSON) that it plays")
	f.Float64Var(&k.seconds, "seconds", 0, fmt.Sprintf("length of the audition in `s`, over 0 to %d (default: one pass and until it is silent)", notebook.MaxSeconds))
	f.IntVar(&k.rate, "rate", 0, "`samples` a second, 8000 to 384000 (default 48000)")
	completes(c, "from", s.completeTakes(0, false))
	completes(c, "cue", s.completeCues)
	completes(c, "tags", s.completeTags)
	jsonFlag(c, &asJSON)
	return c
}

func (s *session) keep(ctx context.Context, b *notebook.Book, all contents, src source, k keeping) (notebook.Take, error) {
	n := notebook.NewTake{
		Patch: src.patch, Note: k.note, Tags: k.tags, Rate: k.rate, Recordings: src.recordings,
	}
	if k.from != "" {
		parent, err := all.find(k.from)
		if err != nil {
			return notebook.Take{}, err
		}
		n.From, n.Cue = parent.take.ID, parent.cue.ID
		if k.memory == "" {
			t, err := b.Take(n.From)
			if err != nil {
				return notebook.Take{}, err
			}
			src.memory = t.Memory
		}
	}
	forget := func() {}
	if k.cue != "" {
		var err error
		if n.Cue, forget, err = k.find(b, all); err != nil {
			forget()
			return notebook.Take{}, err
		}
	}
	n.Memory, n.Seconds = src.memory, k.seconds
	bar := s.progress("keeping")
	defer bar.end()
	t, err := b.Keep(ctx, n, bar.at)
	if err != nil {
		forget()
	}
	return t, err
}

// told tells of a take that has just come into the notebook.
func (s *session) told(b *notebook.Book, id notebook.TakeID, verb string, asJSON bool) error {
	all, err := readContents(b)
	if err != nil {
		return err
	}
	l, ok := all.byID(id)
	if !ok {
		return fmt.Errorf("take t%d was %s, but the notebook does not list it; lampblack prove t%d tells more", id, verb, id)
	}
	if asJSON {
		return s.printJSON(newHeadingJSON(l, all))
	}
	fmt.Fprintf(s.text, "%s (%s) %s: %s\n", l.name(), l.key(), verb, auditionWords(l.take))
	return nil
}
