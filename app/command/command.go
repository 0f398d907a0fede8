// Package command runs Lampblack from a shell: it renders patches, proves
// takes, and reads and writes the notebook.
//
//	arguments -> one command -> patch, notebook -> text, JSON or a file; exit code
//
// No command needs a window, a display or a sound device; the window itself is
// opened by a function that main hands in. Held by tests: the scripts in
// testdata/script run the main path and the bad inputs as a user would type them.
package command

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log"
	"os"
	"os/signal"
	"syscall"
	"time"

	"lampblack/notebook"

	"github.com/spf13/cobra"
)

// Program is what the commands cannot know by themselves.
type Program struct {
	Version    string                              // as --version prints it
	OpenWindow func(context.Context, Window) error // called when no command is named; returns when the window is closed
}

// Window says what the window is to open.
type Window struct {
	Notebook string        // the notebook's file; it may not exist yet
	Buffer   time.Duration // between the sound and the loudspeaker
	Timings  string        // the file into which its speed is written at the end, "" for none
}

// Exit codes of every command.
const (
	ExitDone        = 0
	ExitNotHeld     = 1   // a check did not hold: a proof found a difference
	ExitBadInput    = 2   // wrong use, bad input, or a file that could not be read or written
	ExitInterrupted = 130 // Ctrl-C (128 + SIGINT, as shells count)
)

// errNotHeld ends a command whose check did not hold; what differs was printed.
var errNotHeld = errors.New("a check did not hold")

// session is one run of the program.
type session struct {
	program  Program
	out, err io.Writer
	text     io.Writer // out, for people
	notebook string    // --notebook
	buffer   string    // --buffer, of the window
	timings  string    // --timings, of the window
}

// Execute runs what the arguments of the process name and returns the exit code.
func Execute(p Program) int {
	log.SetOutput(hush{os.Stderr})
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	context.AfterFunc(ctx, stop) // a second Ctrl-C ends the program at once
	return run(ctx, p, os.Args[1:], os.Stdout, os.Stderr)
}

func run(ctx context.Context, p Program, args []string, out, errOut io.Writer) int {
	stdout := &output{w: out}
	s := &session{program: p, out: stdout, text: sheet{stdout}, err: errOut}
	root := s.root()
	root.SetArgs(args)
	root.SetOut(stdout)
	root.SetErr(errOut)
	err := root.ExecuteContext(ctx)
	if stdout.err != nil && (err == nil || errors.Is(err, errNotHeld)) {
		err = fmt.Errorf("not all of the output could be written: %w", stdout.err)
	}
	switch {
	case err == nil:
		return ExitDone
	case errors.Is(err, errNotHeld):
		return ExitNotHeld
	case ctx.Err() != nil:
		fmt.Fprintln(errOut, "lampblack: interrupted; nothing was left half done")
		return ExitInterrupted
	}
	fmt.Fprintf(errOut, "lampblack: %s\n", visible(err.Error()))
	return ExitBadInput
}

func (s *session) root() *cobra.Command {
	root := &cobra.Command{
		Use:   "lampblack",
		Short: "A bench and a notebook for made sounds",
		Long: `Lampblack makes sounds from modules joined by cords, draws every signal, and
keeps every take with its note and its audio. Without a command it opens the
window; the commands below need no window, no display and no sound device.

Exit codes: 0 done; 1 a check did not hold (a proof found a difference); 2 wrong
use, bad input, or a file that could not be read or written; 130 interrupted.`,
		Example: `  lampblack                                  open the window
  lampblack --buffer 80ms                    the same, where the sound crackles
  lampblack take list                        what is in the notebook
  lampblack render 1M4/3 -o moths.wav        a take's sound as a file
  lampblack prove --all                      does every take still sound the same?
  lampblack module show filter               what a module does, with its ranges`,
		Version:       s.program.Version,
		Args:          noArgs,
		SilenceErrors: true,
		SilenceUsage:  true,
		RunE: func(c *cobra.Command, _ []string) error {
			buffer, err := readBuffer(s.buffer)
			if err != nil {
				return err
			}
			return s.program.OpenWindow(c.Context(), Window{Notebook: s.notebook, Buffer: buffer, Timings: s.timings})
		},
	}
	root.SetVersionTemplate("lampblack {{.Version}}\n")
	root.SetFlagErrorFunc(flagFault)
	root.Flags().StringVar(&s.buffer, "buffer", usualBuffer.String(), bufferHelp)
	root.Flags().StringVar(&s.timings, "timings", "", timingsHelp)
	root.PersistentFlags().StringVar(&s.notebook, "notebook", notebook.DefaultPath(), "the notebook's `file`")
	root.AddCommand(s.render(), s.measure(), s.predict(), s.picture(), s.prove(), s.take(), s.module(), s.lesson(), s.demo())
	root.InitDefaultHelpCmd()
	root.InitDefaultCompletionCmd()
	for _, c := range root.Commands() { // the library's own: they would end with 0 for what they don't know
		switch c.Name() {
		case "help":
			c.Args = func(_ *cobra.Command, args []string) error {
				found, rest, err := root.Find(args)
				if err != nil || len(rest) > 0 {
					return noArgs(found, rest)
				}
				return nil
			}
		case "completion":
			c.Args, c.RunE = noArgs, help
		}
	}
	return root
}
