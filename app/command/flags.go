package command

import (
	"encoding/json"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
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

// noArgs accepts no arguments; below a command that has others it names them.
func noArgs(c *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	if !c.HasAvailableSubCommands() {
		return fmt.Errorf("%s takes no arguments; it got %q; %[1]s --help shows examples", c.CommandPath(), args[0])
	}
	var names []string
	for _, sub := range c.Commands() {
		if sub.IsAvailableCommand() {
			names = append(names, sub.Name())
		}
	}
	return fmt.Errorf("unknown command %q for %q; there are %s", args[0], c.CommandPath(), strings.Join(names, ", "))
}

// flagFault says what is wrong with a flag, and what is allowed.
func flagFault(c *cobra.Command, err error) error {
	var invalid *pflag.InvalidValueError
	if errors.As(err, &invalid) {
		f := invalid.GetFlag()
		_, usage := pflag.UnquoteUsage(f)
		return fmt.Errorf("--%s is %q; it must be a %s: %s", f.Name, invalid.GetValue(), flagTypes[f.Value.Type()], usage)
	}
	return fmt.Errorf("%w; %s --help tells what is allowed", err, c.CommandPath())
}

// flagTypes names what the flags that can be misread hold.
var flagTypes = map[string]string{"float64": "number", "int": "whole number", "bool": "yes (true) or no (false)"}

func wrongArgs(c *cobra.Command, got int, what string) error {
	given := "nothing"
	if got > 0 {
		given = strconv.Itoa(got)
	}
	return fmt.Errorf("%s wants %s; it got %s; %[1]s --help shows examples", c.CommandPath(), what, given)
}

// tell prints what a person should know on standard error.
func (s *session) tell(notices []string) {
	for _, n := range notices {
		fmt.Fprintf(s.err, "lampblack: %s\n", visible(n))
	}
}
