package command

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"

	"lampblack/app/lesson"
	"lampblack/patch"
	"lampblack/patch/kind"

	"github.com/spf13/cobra"
)

func (s *session) lesson() *cobra.Command {
	c := &cobra.Command{
		Use:   "lesson",
		Short: "Short lessons: move a control, listen, measure the answer",
		Args:  noArgs,
		RunE:  help,
	}
	c.AddCommand(s.lessonList(), s.lessonShow(), s.lessonAnswer(), s.lessonCheck())
	return c
}

func (s *session) lessonList() *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:     "list",
		Short:   "List the lessons",
		Long:    "List the lessons in the order in which they are best taken.\n\n" + wrap("With --json: name, title, text, steps (how many).", 78, ""),
		Example: "  lampblack lesson list",
		Args:    noArgs,
		RunE: func(*cobra.Command, []string) error {
			all := lesson.All()
			if asJSON {
				rows := []lessonRowJSON{}
				for _, l := range all {
					rows = append(rows, lessonRowJSON{l.Name, l.Title, l.Text, len(l.Steps)})
				}
				return s.printJSON(rows)
			}
			for _, l := range all {
				fmt.Fprintf(s.text, "%-10s  %-42s  %s\n", l.Name, l.Title, counted(len(l.Steps), "step"))
			}
			return nil
		},
	}
	jsonFlag(c, &asJSON)
	return c
}

func (s *session) lessonShow() *cobra.Command {
	var asJSON bool
	var onlyPatch int
	c := &cobra.Command{
		Use:   "show LESSON",
		Short: "Show a lesson: what to move, to watch, to listen for, and the questions",
		Long: `Show a lesson: its steps, each with the control that moves, what to watch and to
listen for, and the question. The answers are not in it: they are measured.

` + lessonKeys,
		Example: `  lampblack lesson show beating
  lampblack lesson show beating --patch 1 > panes.json     the patch of step 1`,
		Args:              exactly(1, "one lesson"),
		ValidArgsFunction: completeLessons,
		RunE: func(c *cobra.Command, args []string) error {
			l, err := lesson.Find(args[0])
			if err != nil {
				return err
			}
			switch {
			case c.Flags().Changed("patch") && asJSON:
				return errors.New("--json and --patch can't both be printed; the JSON holds the patches")
			case c.Flags().Changed("patch"):
				if err := isStep(l, onlyPatch); err != nil {
					return err
				}
				_, err := s.out.Write(l.At(onlyPatch-1, 0).JSON())
				return err
			case asJSON:
				return s.printJSON(newLessonJSON(l))
			}
			s.printLesson(l)
			return nil
		},
	}
	c.Flags().IntVar(&onlyPatch, "patch", 0, "print only the patch with which a `step` begins, from 1")
	jsonFlag(c, &asJSON)
	return c
}

func (s *session) lessonAnswer() *cobra.Command {
	var asJSON bool
	var sets []string
	var answer float64
	c := &cobra.Command{
		Use:   "answer LESSON STEP",
		Short: "Measure the answer to a step's question, and what theory says",
		Long: `Measure the answer to the question of a step (from 1), from the patch as you have
set it, and print beside it what the formula says. Without --set the step's
control stands at the end of its way. With --answer yours is compared with what is
measured: the exit code is 1 if it is further off than the tolerance.

` + answerKeys,
		Example: `  lampblack lesson answer beating 1
  lampblack lesson answer beating 1 --set "other pane / frequency=506.5 Hz" --answer 6.5
  lampblack lesson answer vibrato 4 --set "push / level=-3 dB" --json`,
		Args:              exactly(2, "a lesson and the number of a step"),
		ValidArgsFunction: completeLessons,
		RunE: func(c *cobra.Command, args []string) error {
			l, step, err := findStep(args)
			if err != nil {
				return err
			}
			p, err := learnersPatch(l.At(step-1, 1), sets)
			if err != nil {
				return err
			}
			q := l.Steps[step-1].Question
			a, err := lesson.Answer(c.Context(), p, l.Memory, q)
			if err != nil {
				return err
			}
			j := answerJSON{Lesson: l.Name, Step: step, Ask: q.Ask, Unit: q.Unit, Tolerance: q.Tolerance,
				Measured: a.Value, Theory: a.Theory, Formula: a.Formula, Source: a.Source, Why: a.Why}
			if c.Flags().Changed("answer") {
				right := q.Within(answer, a.Value)
				j.Answer, j.Right = &answer, &right
			}
			if asJSON {
				err = s.printJSON(j)
			} else {
				s.printAnswer(a, q, j)
			}
			if err == nil && j.Right != nil && !*j.Right {
				err = errNotHeld
			}
			return err
		},
	}
	c.Flags().StringArrayVar(&sets, "set", nil, "how you have set a control: `\"module / control=value\"`; may be given again")
	c.Flags().Float64Var(&answer, "answer", 0, "your own answer, a `number` in the question's unit")
	jsonFlag(c, &asJSON)
	return c
}

func findStep(args []string) (lesson.Lesson, int, error) {
	l, err := lesson.Find(args[0])
	if err != nil {
		return l, 0, err
	}
	step, err := strconv.Atoi(args[1])
	if err != nil {
		return l, 0, fmt.Errorf("%q is no number of a step; %s has the steps 1 to %d", args[1], l.Name, len(l.Steps))
	}
	return l, step, isStep(l, step)
}

func isStep(l lesson.Lesson, step int) error {
	if step < 1 || step > len(l.Steps) {
		return fmt.Errorf("there is no step %d; %s has the steps 1 to %d", step, l.Name, len(l.Steps))
	}
	return nil
}

// learnersPatch sets controls as "module / control=value" says.
func learnersPatch(p patch.Patch, sets []string) (patch.Patch, error) {
	var faults []error
	for _, t := range sets {
		place, value, ok := strings.Cut(t, "=")
		module, name, named := strings.Cut(place, "/")
		if !ok || !named {
			faults = append(faults, fmt.Errorf(`--set is %q; it is written like "relay / width=20 %%"`, t))
			continue
		}
		if err := setControl(&p, strings.TrimSpace(module), strings.TrimSpace(name), value); err != nil {
			faults = append(faults, fmt.Errorf("--set %q: %w", t, err))
		}
	}
	if len(faults) > 0 {
		return p, errors.Join(faults...)
	}
	return p, p.Validate(kind.Catalogue)
}

func setControl(p *patch.Patch, module, name, value string) error {
	m := p.Module(module)
	if m == nil {
		var names []string
		for _, m := range p.Modules {
			names = append(names, m.Name)
		}
		return fmt.Errorf("the patch has no module %q; it has %s", module, strings.Join(names, ", "))
	}
	k, _ := kind.Catalogue.Kind(m.Kind) // the lesson was validated
	var names []string
	for i := range k.Controls {
		c := &k.Controls[i]
		if c.Name == name {
			setting, err := patch.ParseSetting(value, c)
			if err == nil {
				if m.Settings == nil {
					m.Settings = map[string]patch.Setting{}
				}
				m.Settings[name] = setting
			}
			return err
		}
		names = append(names, c.Name)
	}
	return fmt.Errorf("%s has no control %q; it has %s", module, name, strings.Join(names, ", "))
}

func (s *session) lessonCheck() *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:   "check FILE",
		Short: "Check a lesson that you have written",
		Long: `Check a lesson file (JSON; - is standard input): every fault with its line. Then
each step is rendered at the start, in the middle and at the end of its way: the
peak is -6 dBFS at most, the question can be measured, and what is measured is what
the theory says, within the tolerance. The form is told in assets/lessons/README.md.

With --json: a list of {step, part (0 to 1 of the way), at, peak (dBFS), measured,
theory}.`,
		Example: "  lampblack lesson check mine.json",
		Args:    exactly(1, "one lesson file"),
		RunE: func(c *cobra.Command, args []string) error {
			file, err := readLesson(args[0])
			if err != nil {
				return err
			}
			l, err := lesson.Load(file)
			if err != nil {
				return fmt.Errorf("%s: %w", args[0], err)
			}
			found, err := lesson.Check(c.Context(), l)
			if c.Context().Err() != nil {
				return err
			}
			if asJSON {
				if printed := s.printJSON(newCheckedJSON(found)); printed != nil {
					return printed
				}
			} else {
				s.printChecked(l, found)
			}
			if err != nil {
				fmt.Fprintln(s.err, "lampblack:", visible(err.Error()))
				return errNotHeld
			}
			return nil
		},
	}
	jsonFlag(c, &asJSON)
	return c
}

// readLesson reads a file that may not be longer than a lesson is.
func readLesson(path string) ([]byte, error) {
	f := os.Stdin
	if path != "-" {
		var err error
		if f, err = os.Open(path); err != nil {
			return nil, told(path, err)
		}
		defer f.Close()
	}
	var b bytes.Buffer
	if _, err := b.ReadFrom(io.LimitReader(f, lesson.MaxFile+1)); err != nil {
		return nil, told(path, err)
	}
	return b.Bytes(), nil
}

func completeLessons(_ *cobra.Command, args []string, begun string) (names []cobra.Completion, _ cobra.ShellCompDirective) {
	for _, l := range lesson.All() {
		if len(args) == 0 && strings.HasPrefix(l.Name, begun) {
			names = append(names, cobra.CompletionWithDesc(l.Name, l.Title))
		}
	}
	return names, cobra.ShellCompDirectiveNoFileComp
}
