// Package lesson holds short lessons: a patch to begin with, and steps that each
// move one control, say what to watch and to listen for, and ask a question.
//
//	file -> Load -> Lesson; Lesson.At(step) -> patch; Answer(patch) -> measured, theory
//
// No answer is stored: it is measured from the patch as the learner has set it,
// and set beside what a formula says. It knows no screen and no sound device.
// Held by tests: every lesson measures what its theory says, at a safe level, and
// every fault of a file is told with its line.
package lesson

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"lampblack/assets"
	"lampblack/patch"
	"lampblack/patch/kind"
	"lampblack/patch/memory"
)

// Version is the number written into a lesson's file. A reader refuses a higher
// one.
const Version = 1

// Limits of a lesson.
const (
	MaxFile  = 1 << 20 // bytes
	MaxSteps = 20
	MaxText  = 2000   // letters of one text
	MaxPeak  = 0.5012 // -6 dBFS: the loudest that Check lets a lesson be
)

// Lesson is a patch to begin with and the steps that lead through it.
type Lesson struct {
	Name    string // of the file without its ending; "" of one that was loaded from bytes
	Title   string
	Text    string   // what it is about, for somebody new to it
	Sources []string // what its facts rest on
	Patch   patch.Patch
	Memory  memory.Memory // may be empty: a note A4 is held
	Steps   []Step
}

// Step is one thing to do, to see, to hear and to answer.
type Step struct {
	Text     string
	Set      []Set // what stands otherwise than in the lesson's patch when the step begins
	Move     Move
	Watch    Watch
	Listen   string
	Question Question
}

// Set is a control and its setting.
type Set struct {
	Control patch.Socket
	To      patch.Setting
}

// Move is the control that the step moves, and how far.
type Move struct {
	Control  patch.Socket
	From, To patch.Setting // in the same unit
}

// Watch says where to look.
type Watch struct {
	Text       string
	Instrument string       // one of Instruments
	A, B       patch.Socket // of the probes; B may be empty
}

// Instruments are the words for Watch.Instrument.
func Instruments() []string { return []string{"scope", "spectrum", "spectrogram", "meters"} }

// Question asks for one number.
type Question struct {
	Ask       string
	Unit      string  // of the answer: that of the measure
	Tolerance float64 // in Unit, > 0: how far an answer may be from what is measured
	Where     map[string]Variable
	Measure   Measure
	Theory    Theory
}

// Within reports whether an answer is near enough to a value.
func (q Question) Within(answer, value float64) bool {
	return math.Abs(answer-value) <= q.Tolerance*(1+1e-9)
}

// Variable is a number that a formula takes from the patch: a control's setting,
// or the depth of a cord, in the unit in which the lesson's patch writes it.
type Variable struct {
	Control  patch.Socket
	From, To patch.Socket // of a cord, if Control is empty
	Unit     string
}

// Theory is what the measure should come to.
type Theory struct {
	Value   string // an expression over the question's variables; "" asks package predict
	Formula string // the same as a sentence
	Source  string
}

// All returns the lessons that travel inside the program, in the order in which
// they are best taken. The caller may change what it gets.
func All() []Lesson {
	var all []Lesson
	for _, name := range assets.Lessons() {
		file, err := assets.Lesson(name)
		if err != nil {
			panic("lesson: " + err.Error()) // it is embedded
		}
		l, err := Load(file)
		if err != nil {
			panic("lesson: " + name + ": " + err.Error()) // a test loads them all
		}
		_, l.Name, _ = strings.Cut(name, "-") // the number before it gives the order
		all = append(all, l)
	}
	return all
}

// Find returns the lesson of that name.
func Find(name string) (Lesson, error) {
	all := All()
	i := slices.IndexFunc(all, func(l Lesson) bool { return l.Name == name })
	if i < 0 {
		var names []string
		for _, l := range all {
			names = append(names, l.Name)
		}
		return Lesson{}, fmt.Errorf("there is no lesson %q; there are %s", name, strings.Join(names, ", "))
	}
	return all[i], nil
}

// At returns the patch of step i, from 0, with its control at a part of its way:
// 0 is Move.From, 1 is Move.To, between them as on the control's ruler.
func (l Lesson) At(i int, part float64) patch.Patch {
	step, p := l.Steps[i], l.Patch.Clone()
	for _, s := range step.Set {
		set(&p, s.Control, s.To)
	}
	set(&p, step.Move.Control, step.Move.at(p, part))
	return p
}

func (m Move) at(p patch.Patch, part float64) patch.Setting {
	c := controlOf(p, m.Control)
	scale := c.Scale(m.From.Unit)
	switch {
	case part <= 0:
		return m.From
	case part >= 1:
		return m.To
	case c.Stepped() || scale < 0:
		return m.From
	}
	sc := c.Scales[scale]
	a, z := sc.Fraction(m.From.Value), sc.Fraction(m.To.Value)
	return patch.Rounded(sc.At(a+part*(z-a)), m.From.Unit)
}

func set(p *patch.Patch, at patch.Socket, s patch.Setting) {
	m := p.Module(at.Module)
	if m.Settings == nil {
		m.Settings = map[string]patch.Setting{}
	}
	m.Settings[at.Name] = s
}

// noControl tells that a patch has no such control, and which there are.
func noControl(p patch.Patch, at patch.Socket) string {
	text, names := fmt.Sprintf("the patch has no control %s", at), []string(nil)
	m := p.Module(at.Module)
	if m == nil {
		for _, m := range p.Modules {
			names = append(names, m.Name)
		}
		return text + "; its modules are " + strings.Join(names, ", ")
	}
	if k, ok := kind.Catalogue.Kind(m.Kind); ok {
		for i := range k.Controls {
			names = append(names, k.Controls[i].Name)
		}
	}
	return text + "; " + at.Module + " has " + strings.Join(names, ", ")
}

// controlOf returns the control at a place of a patch, or nil.
func controlOf(p patch.Patch, at patch.Socket) *patch.Control {
	m := p.Module(at.Module)
	if m == nil {
		return nil
	}
	k, ok := kind.Catalogue.Kind(m.Kind)
	if !ok {
		return nil
	}
	for i := range k.Controls {
		if k.Controls[i].Name == at.Name {
			return &k.Controls[i]
		}
	}
	return nil
}

// isOutput reports whether a patch has that output.
func isOutput(p patch.Patch, at patch.Socket) bool {
	m := p.Module(at.Module)
	if m == nil {
		return false
	}
	k, ok := kind.Catalogue.Kind(m.Kind)
	return ok && slices.ContainsFunc(k.Outputs, func(o patch.Output) bool { return o.Name == at.Name })
}
