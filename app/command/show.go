package command

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"lampblack/app/summary"
	"lampblack/notebook"
	"lampblack/patch"
	"lampblack/patch/kind"

	"github.com/spf13/cobra"
)

// page is what is shown of a take besides the take itself.
type page struct {
	parent  string   // the name of the take that it came from, or ""
	changes []change // since the parent
}

func (s *session) takeShow() *cobra.Command {
	var asJSON, onlyPatch bool
	c := &cobra.Command{
		Use:   "show TAKE",
		Short: "Show a take: its note, what changed, and every setting",
		Long:  "Show a take: its note, what changed since the take that it came from, and\nevery setting that its patch writes down; what is left out stands at its default\n(module show tells it). A patch that plays a recording finds it in the notebook.\n\n" + takeKeys,
		Example: `  lampblack take show 1M4/3
  lampblack take show 1M4/3 --patch > moths.json     the patch as a file to go on with`,
		Args:              exactly(1, "one take"),
		ValidArgsFunction: s.completeTakes(1, false),
		RunE: func(_ *cobra.Command, args []string) error {
			if asJSON && onlyPatch {
				return errors.New("--json and --patch can't both be printed; the JSON holds the patch")
			}
			return s.reading(func(b *notebook.Book, all contents) error {
				l, err := all.find(args[0])
				if err != nil {
					return err
				}
				t, err := b.Take(l.take.ID)
				if err != nil {
					return err
				}
				if onlyPatch {
					_, err := s.out.Write(t.PatchJSON)
					return err
				}
				p, err := readPage(b, t, all)
				if err != nil {
					return err
				}
				if asJSON {
					return s.printJSON(newTakeJSON(l, t, p, all))
				}
				return s.printTake(l, t, p)
			})
		},
	}
	c.Flags().BoolVar(&onlyPatch, "patch", false, "print only the patch, as a patch file")
	jsonFlag(c, &asJSON)
	return c
}

func readPage(b *notebook.Book, t notebook.Take, all contents) (page, error) {
	from, ok := all.byID(t.From)
	if !ok {
		return page{}, nil
	}
	parent, err := b.Take(t.From)
	if err != nil {
		return page{}, err
	}
	p := page{parent: from.name()}
	for _, c := range patch.Compare(parent.Patch, t.Patch, kind.Catalogue) {
		p.changes = append(p.changes, change{c.String(), c.Module, c.Place, c.Before, c.After})
	}
	if !bytes.Equal(parent.MemoryJSON, t.MemoryJSON) {
		before, after := summary.MemoryWords(parent.Memory), summary.MemoryWords(t.Memory)
		if before == after {
			after += ", edited"
		}
		p.changes = append(p.changes, change{fmt.Sprintf("memory: %s -> %s", before, after), "", "memory", before, after})
	}
	return p, nil
}

func (s *session) printTake(l line, t notebook.Take, p page) error {
	fmt.Fprintf(s.text, "%s (%s) %s\n%s, %s %s\n", l.name(), l.key(), starred(t.Heading), l.job.Name, l.cue.Name, l.cue.Timecode)
	fmt.Fprintf(s.text, "kept %s by version %s", t.Kept.Format("2006-01-02 15:04 MST"), t.Program)
	if p.parent != "" {
		fmt.Fprintf(s.text, ", from %s", p.parent)
	}
	fmt.Fprintln(s.out)
	if t.Origin != "" {
		fmt.Fprintf(s.text, "imported; it was %s\n", t.Origin)
	}
	if len(t.Tags) > 0 {
		fmt.Fprintf(s.text, "tags: %s\n", strings.Join(t.Tags, ", "))
	}
	fmt.Fprintf(s.text, "audition: %s\n", auditionWords(t.Heading))
	if t.Note != "" {
		fmt.Fprintf(s.text, "\n%s\n", wrap(t.Note, 78, "  "))
	}
	if p.parent != "" {
		fmt.Fprintf(s.text, "\nChanged since %s\n", p.parent)
		for _, c := range p.changes {
			fmt.Fprintf(s.text, "  %s\n", c.Text)
		}
		if len(p.changes) == 0 {
			fmt.Fprintln(s.text, "  nothing")
		}
	}
	return printPatch(s.text, t.Patch, t)
}

func printPatch(out io.Writer, p patch.Patch, t notebook.Take) error {
	fmt.Fprintln(out, "\nModules")
	w := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	for _, m := range p.Modules {
		fmt.Fprintf(w, "  %s\t%s\t%s\n", m.Name, m.Kind, settingWords(m))
	}
	if err := w.Flush(); err != nil {
		return err
	}
	fmt.Fprintln(out, "\nCords")
	for _, c := range p.Cords {
		fmt.Fprintf(w, "  %s\t-> %s%s\n", c.From, c.To, depthWords(c))
	}
	if err := w.Flush(); err != nil {
		return err
	}
	fmt.Fprintf(out, "\nMemory: %s\n", summary.MemoryWords(t.Memory))
	return nil
}
