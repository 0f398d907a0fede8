package command

import (
	"encoding/json"
	"fmt"

	"github.com/spf13/cobra"
)

func jsonFlag(c *cobra.Command, asJSON *bool) {
	c.Flags().BoolVar(asJSON, "json", false, "print JSON for another program to read")
}

// printJSON prints v with the indent of every file that Lampblack writes.
func (s *session) printJSON(v any) error {
	e := json.NewEncoder(s.out)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(v)
}

// exactly accepts n arguments; what says what they are.
func exactly(n int, what string) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		if len(args) != n {
			return wrongArgs(c, len(args), what)
		}
		return nil
	}
}

// atLeast accepts n arguments or more.
func atLeast(n int, what string) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		if len(args) < n {
			return wrongArgs(c, len(args), what)
		}
		return nil
	}
}

func wrongArgs(c *cobra.Command, got int, what string) error {
	return fmt.Errorf("%s wants %s; it got %d arguments; %[1]s --help shows examples", c.CommandPath(), what, got)
}
