package command

import (
	"errors"
	"fmt"
	"io"

	"lampblack/app/demo"
	"lampblack/notebook"

	"github.com/spf13/cobra"
)

func (s *session) takeExport() *cobra.Command {
	var out target
	c := &cobra.Command{
		Use:   "export TAKE -o FILE.zip",
		Short: "Write a take as one file of open formats",
		Long: `Write a take as one zip file: patch, memory and note as JSON, the audition as
FLAC, and the recordings as they came in. Any program can open it, and
lampblack take import brings it into another notebook.`,
		Example:           "  lampblack take export 1M4/3 -o moths.zip",
		Args:              exactly(1, "one take"),
		ValidArgsFunction: s.completeTakes(1, false),
		RunE: func(_ *cobra.Command, args []string) error {
			out.out = s.out
			if err := errors.Join(out.check(), out.spare(s.notebook)); err != nil {
				return err
			}
			return s.reading(func(b *notebook.Book, all contents) error {
				l, err := all.find(args[0])
				if err != nil {
					return err
				}
				err = out.write(func(w io.Writer) error { return b.Export(l.take.ID, w) })
				if err == nil && out.path != "-" {
					fmt.Fprintf(s.err, "%s: %s of %s\n", visible(out.path), l.name(), visible(l.job.Name))
				}
				return err
			})
		},
	}
	c.Flags().StringVarP(&out.path, "output", "o", "", "the zip `file` to write; - is standard output")
	c.Flags().BoolVar(&out.force, "force", false, "replace the file if it is there")
	return c
}

func (s *session) takeImport() *cobra.Command {
	var p place
	var asJSON bool
	c := &cobra.Command{
		Use:   "import FILE.zip",
		Short: "Keep a take that was exported from another notebook",
		Long: `Keep a take that was exported from another notebook, as a new take. It goes to
the job and cue that it came from (they are made if need be), or to --cue.`,
		Example: "  lampblack take import moths.zip\n  lampblack take import moths.zip --cue 2M1",
		Args:    exactly(1, "one file that take export wrote"),
		RunE: func(c *cobra.Command, args []string) error {
			f, info, err := openRegular(args[0])
			if err != nil {
				return fmt.Errorf("nothing was imported: %w", err)
			}
			defer f.Close()
			return s.writing(func(b *notebook.Book, all contents) error {
				var into notebook.CueID
				forget := func() {}
				if p.cue != "" {
					if into, forget, err = p.find(b, all); err != nil {
						forget()
						return err
					}
				}
				t, err := b.Import(c.Context(), f, info.Size(), into)
				if err != nil {
					forget()
					return fmt.Errorf("%s: %w", args[0], err)
				}
				return s.told(b, t.ID, "imported", asJSON)
			})
		},
	}
	p.flags(c)
	completes(c, "cue", s.completeCues)
	jsonFlag(c, &asJSON)
	return c
}

func (s *session) demo() *cobra.Command {
	return &cobra.Command{
		Use:   "demo",
		Short: "Put the demo job, " + demo.Job + ", into the notebook",
		Long: `Put the demo job, ` + demo.Job + `, into the notebook: a short film about a
night greenhouse, invented for this purpose. The window does it at its first
start. What is there already stays as it is.`,
		Args: noArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			return s.writing(func(b *notebook.Book, _ contents) error {
				bar := s.progress("making the demo job")
				defer bar.end()
				if err := demo.Build(c.Context(), b, bar.at); err != nil {
					return err
				}
				bar.end()
				s.tell([]string{demo.Job + " is in " + b.Path()})
				return nil
			})
		},
	}
}
