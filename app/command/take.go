package command

import (
	"cmp"
	"fmt"
	"strings"

	"lampblack/notebook"

	"github.com/spf13/cobra"
)

func (s *session) take() *cobra.Command {
	c := &cobra.Command{
		Use:   "take",
		Short: "Read, keep and hand on the takes of the notebook",
		Long: `Read, keep and hand on the takes of the notebook.` + "\n" +
			wrap(strings.ToUpper(takeNames[:1])+takeNames[1:]+".", 78, ""),
		Args: noArgs,
		RunE: help,
	}
	c.AddCommand(s.takeList(), s.takeShow(), s.takeSearch(), s.takeKeep(), s.takeExport(), s.takeImport())
	return c
}

// filter picks lines of the contents page.
type filter struct{ job, cue, tag string }

func (f filter) picks(l line) bool {
	return (f.job == "" || strings.EqualFold(f.job, l.job.Name)) &&
		(f.cue == "" || strings.EqualFold(f.cue, l.cue.Number)) &&
		(f.tag == "" || hasTag(l.take, f.tag))
}

func hasTag(h notebook.Heading, tag string) bool {
	for _, t := range h.Tags {
		if strings.EqualFold(t, tag) {
			return true
		}
	}
	return false
}

func (s *session) takeList() *cobra.Command {
	var f filter
	var asJSON bool
	c := &cobra.Command{
		Use:   "list",
		Short: "List jobs, cues and takes, like a contents page",
		Long:  "List jobs, cues and takes, like a contents page. A star marks a take that\nsomebody chose.\n\n" + headingKeys,
		Example: `  lampblack take list
  lampblack take list --cue 1M4
  lampblack take list --tag wings --json`,
		Args: noArgs,
		RunE: func(*cobra.Command, []string) error {
			return s.reading(func(_ *notebook.Book, all contents) error {
				var lines []line
				for _, l := range all.lines {
					if f.picks(l) {
						lines = append(lines, l)
					}
				}
				if asJSON {
					return s.printJSON(newHeadingsJSON(lines, all))
				}
				s.printContents(lines)
				return nil
			})
		},
	}
	c.Flags().StringVar(&f.job, "job", "", "only this job's takes, by `name`")
	c.Flags().StringVar(&f.cue, "cue", "", "only this cue's takes, by `number`")
	c.Flags().StringVar(&f.tag, "tag", "", "only takes with this `tag`")
	completes(c, "cue", s.completeCues)
	completes(c, "tag", s.completeTags)
	jsonFlag(c, &asJSON)
	return c
}

func (s *session) printContents(lines []line) {
	if len(lines) == 0 {
		fmt.Fprintln(s.text, "no takes")
		return
	}
	var job notebook.JobID
	var cue notebook.CueID
	for _, l := range lines {
		if l.job.ID != job {
			if job != 0 {
				fmt.Fprintln(s.out)
			}
			fmt.Fprintln(s.text, l.job.Name)
		}
		if l.cue.ID != cue {
			fmt.Fprintf(s.text, "  %-5s %-36s %s\n", l.cue.Number, l.cue.Name, l.cue.Timecode)
		}
		job, cue = l.job.ID, l.cue.ID
		fmt.Fprintf(s.text, "    %-8s %-5s %s %s\n", l.name(), l.key(), starred(l.take), cmp.Or(firstLine(l.take.Note, 54), "(no note)"))
	}
}

func starred(h notebook.Heading) string {
	if h.Star {
		return "*"
	}
	return " "
}

func (s *session) takeSearch() *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:   "search WORDS...",
		Short: "Find takes by words in names, notes and tags",
		Long: `Find takes by words in their job, cue, module names, note and tags; all words
must be there. The best fit comes first.

` + headingKeys,
		Example: `  lampblack take search wings glass
  lampblack take search vent --json`,
		Args: atLeast(1, "one word or more"),
		RunE: func(_ *cobra.Command, words []string) error {
			return s.reading(func(b *notebook.Book, all contents) error {
				hits, err := b.Search(strings.Join(words, " "))
				if err != nil {
					return err
				}
				var lines []line
				for _, h := range hits {
					if l, ok := all.byID(h.Take.ID); ok {
						lines = append(lines, l)
					}
				}
				if asJSON {
					return s.printJSON(newHeadingsJSON(lines, all))
				}
				s.printHits(lines)
				return nil
			})
		},
	}
	jsonFlag(c, &asJSON)
	return c
}

func (s *session) printHits(lines []line) {
	if len(lines) == 0 {
		fmt.Fprintln(s.text, "no take has these words")
	}
	for _, l := range lines {
		fmt.Fprintf(s.text, "%-8s %-5s %s %s\n", l.name(), l.key(), starred(l.take), cmp.Or(firstLine(l.take.Note, 58), "(no note)"))
	}
}
