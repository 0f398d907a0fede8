package command

import (
	"fmt"
	"strings"

	"lampblack/patch"
	"lampblack/patch/kind"

	"github.com/spf13/cobra"
)

func (s *session) module() *cobra.Command {
	c := &cobra.Command{
		Use:   "module",
		Short: "What the kinds of module do",
		Args:  noArgs,
		RunE:  help,
	}
	c.AddCommand(s.moduleList(), s.moduleShow())
	return c
}

// help is what a command does that only has commands below it.
func help(c *cobra.Command, _ []string) error { return c.Help() }

func (s *session) moduleList() *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:     "list",
		Short:   "List the kinds of module",
		Long:    "List the kinds of module that a patch can be made of, by what they\nare for.\n\n" + kindKeys,
		Example: "  lampblack module list\n  lampblack module list --json",
		Args:    noArgs,
		RunE: func(*cobra.Command, []string) error {
			if asJSON {
				all := []kindJSON{}
				for _, k := range kind.All() {
					all = append(all, newKindJSON(&k.Kind))
				}
				return s.printJSON(all)
			}
			s.listKinds()
			return nil
		},
	}
	jsonFlag(c, &asJSON)
	return c
}

func (s *session) listKinds() {
	name, title := 0, 0
	for _, k := range kind.All() {
		name, title = max(name, len(k.Name)), max(title, len(k.Title))
	}
	for i, family := range patch.Families() {
		fmt.Fprintf(s.text, "%s%s\n", strings.Repeat("\n", min(i, 1)), family)
		for _, k := range kind.All() {
			if k.Family == family {
				fmt.Fprintf(s.text, "  %-*s  %-*s  %s\n", name, k.Name, title, k.Title, firstSentence(k.Help))
			}
		}
	}
}

func (s *session) moduleShow() *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:     "show KIND",
		Short:   "Tell what a kind of module does, its sockets and its controls",
		Long:    "Tell what a kind of module does, what each socket takes or gives, and what\neach control is allowed to be.\n\n" + kindKeys,
		Example: "  lampblack module show filter\n  lampblack module show envelope --json",
		Args:    exactly(1, "the name of a kind; lampblack module list tells them"),
		RunE: func(_ *cobra.Command, args []string) error {
			k, ok := kind.Catalogue.Kind(args[0])
			if !ok {
				return fmt.Errorf("there is no kind of module %q; the kinds are %s", args[0], kindNames())
			}
			if asJSON {
				return s.printJSON(newKindJSON(k))
			}
			s.printKind(k)
			return nil
		},
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			var names []string
			for _, k := range kind.All() {
				names = append(names, k.Name)
			}
			return names, cobra.ShellCompDirectiveNoFileComp
		},
	}
	jsonFlag(c, &asJSON)
	return c
}

func kindNames() string {
	var names []string
	for _, k := range kind.All() {
		names = append(names, k.Name)
	}
	return strings.Join(names, ", ")
}

func (s *session) printKind(k *patch.Kind) {
	fmt.Fprintf(s.text, "%s (%s), version %d\n\n%s\n", k.Name, k.Title, k.Version, wrap(k.Help, 78, ""))
	if len(k.Inputs) > 0 {
		fmt.Fprint(s.text, "\nInputs\n")
	}
	for _, in := range k.Inputs {
		fmt.Fprintf(s.text, "  %s (open: %s)\n%s\n", in.Name, openWords[in.Open], wrap(in.Help, 78, "      "))
	}
	if len(k.Outputs) > 0 {
		fmt.Fprint(s.text, "\nOutputs\n")
	}
	for _, out := range k.Outputs {
		fmt.Fprintf(s.text, "  %s\n%s\n", out.Name, wrap(out.Help, 78, "      "))
	}
	if len(k.Controls) > 0 {
		fmt.Fprint(s.text, "\nControls\n")
	}
	for i := range k.Controls {
		s.printControl(&k.Controls[i])
	}
	if k.Table != nil {
		s.printTable(k.Table)
	}
}

// printTable tells what the rows of a kind hold.
func (s *session) printTable(t *patch.Table) {
	fmt.Fprintf(s.text, "\nRows: %d to %d %s\n%s\n", t.Least, t.Most, t.Name, wrap(t.Help, 78, "  "))
	for _, c := range t.Columns {
		fmt.Fprintf(s.text, "  %s\n      %s\n%s\n", c.Name, rangeWords(&c.Scale), wrap(c.Help, 78, "      "))
	}
}

func (s *session) printControl(c *patch.Control) {
	fmt.Fprintf(s.text, "  %s\n", c.Name)
	for i := range c.Scales {
		words := rangeWords(&c.Scales[i])
		if c.Fixed {
			words += "; settled before it sounds: a change fades to the new sound"
		}
		fmt.Fprintln(s.text, wrap(words, 78, "      "))
	}
	if c.Help != "" {
		fmt.Fprintln(s.text, wrap(c.Help, 78, "      "))
	}
}

// openWords tells what an input hears when no cord ends there.
var openWords = map[patch.Open]string{
	patch.OpenSilence: "silence",
	patch.OpenGate:    "the gate of the note being played",
	patch.OpenTrigger: "a pulse where a note starts",
	patch.OpenLeft:    "what the first input hears",
}

// rangeWords tells a scale in one line: "20.0 Hz to 20.0 kHz, at first 1.00 kHz; a cord moves it in oct, Hz".
func rangeWords(sc *patch.Scale) string {
	var b strings.Builder
	if sc.Choices != nil {
		fmt.Fprintf(&b, "%s; at first %s", strings.Join(sc.Choices, ", "), sc.Choices[int(sc.Default)])
	} else {
		fmt.Fprintf(&b, "%s to %s; at first %s", patch.FormatValue(sc.Min, sc.Unit),
			patch.FormatValue(sc.Max, sc.Unit), patch.FormatValue(sc.Default, sc.Unit))
	}
	if units := moveUnits(sc); units != nil {
		fmt.Fprintf(&b, "; a cord moves it in %s", strings.Join(units, " or "))
	}
	return b.String()
}

func moveUnits(sc *patch.Scale) []string {
	var units []string
	for _, m := range sc.Moves {
		units = append(units, m.Unit)
	}
	return units
}
