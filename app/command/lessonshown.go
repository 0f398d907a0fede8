package command

import (
	"fmt"

	"lampblack/app/lesson"
	"lampblack/patch"
	"lampblack/patch/memory"
)

const lessonKeys = `With --json: name, title, text, sources [], memory, steps [{text, patch (with which
it begins), move {control, from, to}, watch {text, instrument, a, b}, listen,
question {ask, unit, tolerance}}].`

const answerKeys = `With --json: lesson, step, ask, unit, tolerance, measured, theory (null if no formula
says it), formula, source, why (there is no theory), answer and right (with
--answer).`

type lessonRowJSON struct {
	Name  string `json:"name"`
	Title string `json:"title"`
	Text  string `json:"text"`
	Steps int    `json:"steps"`
}

type lessonJSON struct {
	Name    string           `json:"name"`
	Title   string           `json:"title"`
	Text    string           `json:"text"`
	Sources []string         `json:"sources"`
	Memory  memory.Memory    `json:"memory"`
	Steps   []lessonStepJSON `json:"steps"`
}

type lessonStepJSON struct {
	Text     string       `json:"text"`
	Patch    rawJSON      `json:"patch"`
	Move     moveStepJSON `json:"move"`
	Watch    watchJSON    `json:"watch"`
	Listen   string       `json:"listen"`
	Question questionJSON `json:"question"`
}

type moveStepJSON struct {
	Control string `json:"control"`
	From    string `json:"from"`
	To      string `json:"to"`
}

type watchJSON struct {
	Text       string `json:"text"`
	Instrument string `json:"instrument"`
	A          string `json:"a"`
	B          string `json:"b,omitempty"`
}

type questionJSON struct {
	Ask       string  `json:"ask"`
	Unit      string  `json:"unit"`
	Tolerance float64 `json:"tolerance"`
}

type answerJSON struct {
	Lesson    string   `json:"lesson"`
	Step      int      `json:"step"`
	Ask       string   `json:"ask"`
	Unit      string   `json:"unit"`
	Tolerance float64  `json:"tolerance"`
	Measured  float64  `json:"measured"`
	Theory    *float64 `json:"theory"`
	Formula   string   `json:"formula"`
	Source    string   `json:"source"`
	Why       string   `json:"why,omitempty"`
	Answer    *float64 `json:"answer,omitempty"`
	Right     *bool    `json:"right,omitempty"`
}

type checkedJSON struct {
	Step     int      `json:"step"`
	Part     float64  `json:"part"`
	At       string   `json:"at"`
	Peak     float64  `json:"peak"`
	Measured float64  `json:"measured"`
	Theory   *float64 `json:"theory"`
}

// rawJSON is a text that is JSON already.
type rawJSON []byte

func (r rawJSON) MarshalJSON() ([]byte, error) { return r, nil }

func newLessonJSON(l lesson.Lesson) lessonJSON {
	j := lessonJSON{Name: l.Name, Title: l.Title, Text: l.Text, Sources: l.Sources, Memory: l.Memory}
	for i, step := range l.Steps {
		m, w, q := step.Move, step.Watch, step.Question
		j.Steps = append(j.Steps, lessonStepJSON{
			Text: step.Text, Patch: l.At(i, 0).JSON(), Listen: step.Listen,
			Move:     moveStepJSON{m.Control.String(), m.From.String(), m.To.String()},
			Watch:    watchJSON{w.Text, w.Instrument, w.A.String(), probeWords(w.B)},
			Question: questionJSON{q.Ask, q.Unit, q.Tolerance},
		})
	}
	return j
}

func probeWords(at patch.Socket) string {
	if at == (patch.Socket{}) {
		return ""
	}
	return at.String()
}

func newCheckedJSON(found []lesson.Checked) []checkedJSON {
	rows := []checkedJSON{}
	for _, c := range found {
		rows = append(rows, checkedJSON{c.Step, c.Part, c.At, c.Peak, c.Value, c.Theory})
	}
	return rows
}

func (s *session) printLesson(l lesson.Lesson) {
	fmt.Fprintf(s.text, "%s\n\n%s\n", l.Title, wrap(l.Text, 78, ""))
	for i, step := range l.Steps {
		fmt.Fprintf(s.text, "\n%d  %s\n\n", i+1, wrap(step.Text, 78, "   ")[3:])
		fmt.Fprintf(s.text, "   move    %s from %s to %s\n", step.Move.Control, step.Move.From, step.Move.To)
		for _, set := range step.Set {
			fmt.Fprintf(s.text, "   with    %s at %s\n", set.Control, set.To)
		}
		probes := "A on " + step.Watch.A.String()
		if b := probeWords(step.Watch.B); b != "" {
			probes += ", B on " + b
		}
		for _, row := range [...]struct{ name, text string }{
			{"watch ", fmt.Sprintf("the %s (%s): %s", step.Watch.Instrument, probes, step.Watch.Text)},
			{"listen", step.Listen},
			{"answer", step.Question.Ask},
		} {
			fmt.Fprintf(s.text, "   %s  %s\n", row.name, wrap(row.text, 78, "           ")[11:])
		}
	}
	fmt.Fprintln(s.text, "\nSources")
	for _, source := range l.Sources {
		fmt.Fprintln(s.text, wrap(source, 78, "  "))
	}
}

func (s *session) printAnswer(a lesson.Answered, q lesson.Question, j answerJSON) {
	fmt.Fprintf(s.text, "%s\n\n  measured  %s\n", wrap(q.Ask, 78, ""), a.Text)
	if a.Theory != nil {
		fmt.Fprintf(s.text, "  theory    %s\n%s\n%s\n", lesson.Words(*a.Theory, q.Unit), wrap(a.Formula, 78, "            "), wrap("Source: "+a.Source, 78, "            "))
	} else {
		fmt.Fprintf(s.text, "  theory    none\n%s\n", wrap(a.Why, 78, "            "))
	}
	if j.Right == nil {
		return
	}
	verdict := "right"
	if !*j.Right {
		verdict = "not yet"
	}
	fmt.Fprintf(s.text, "  yours     %s: %s (within %s counts)\n", lesson.Words(*j.Answer, q.Unit), verdict, lesson.Words(q.Tolerance, q.Unit))
}

func (s *session) printChecked(l lesson.Lesson, found []lesson.Checked) {
	fmt.Fprintf(s.text, "%s: %s\n", l.Title, counted(len(l.Steps), "step"))
	for _, c := range found {
		theory, unit := "none", l.Steps[c.Step-1].Question.Unit
		if c.Theory != nil {
			theory = lesson.Words(*c.Theory, unit)
		}
		fmt.Fprintf(s.text, "  step %d at %-12s peak %6.1f dBFS   measured %-12s theory %s\n", c.Step, c.At, c.Peak, c.Text, theory)
	}
}
