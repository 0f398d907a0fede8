package command

import (
	"slices"
	"strings"

	"lampblack/notebook"

	"github.com/spf13/cobra"
)

// completeTakes completes the names of takes in a shell; files too, if
// wanted. most is how many the command takes, 0 any number.
func (s *session) completeTakes(most int, files bool) cobra.CompletionFunc {
	directive := cobra.ShellCompDirectiveNoFileComp
	if files {
		directive = cobra.ShellCompDirectiveDefault
	}
	return func(_ *cobra.Command, args []string, begun string) (names []cobra.Completion, _ cobra.ShellCompDirective) {
		if most > 0 && len(args) >= most {
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		// Without a notebook there is nothing to offer, and nothing to say either.
		_ = s.reading(func(_ *notebook.Book, all contents) error {
			for _, l := range all.lines {
				name := l.name()
				if _, err := all.find(name); err != nil {
					name = l.key() // two jobs have a take of this name
				}
				if strings.HasPrefix(strings.ToLower(name), strings.ToLower(begun)) {
					names = append(names, cobra.CompletionWithDesc(name, firstLine(l.take.Note, 60)))
				}
			}
			return nil
		})
		return names, directive
	}
}

// completeCues completes the numbers of cues.
func (s *session) completeCues(_ *cobra.Command, _ []string, begun string) (names []cobra.Completion, _ cobra.ShellCompDirective) {
	_ = s.reading(func(_ *notebook.Book, all contents) error {
		for _, q := range all.cues {
			if strings.HasPrefix(strings.ToLower(q.cue.Number), strings.ToLower(begun)) {
				names = append(names, cobra.CompletionWithDesc(q.cue.Number, firstLine(q.cue.Name, 60)))
			}
		}
		return nil
	})
	return names, cobra.ShellCompDirectiveNoFileComp
}

// completeTags completes the tags that takes have.
func (s *session) completeTags(*cobra.Command, []string, string) (tags []cobra.Completion, _ cobra.ShellCompDirective) {
	_ = s.reading(func(_ *notebook.Book, all contents) error {
		for _, l := range all.lines {
			tags = append(tags, l.take.Tags...)
		}
		slices.Sort(tags)
		tags = slices.Compact(tags)
		return nil
	})
	return tags, cobra.ShellCompDirectiveNoFileComp
}

// completes says how a flag of c is completed.
func completes(c *cobra.Command, flag string, with cobra.CompletionFunc) {
	if err := c.RegisterFlagCompletionFunc(flag, with); err != nil {
		panic("command: " + err.Error()) // only for a flag that c does not have
	}
}
