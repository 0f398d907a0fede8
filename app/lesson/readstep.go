package lesson

import (
	"fmt"
	"slices"
	"strings"

	"lampblack/patch"
	"lampblack/patch/kind"
	"lampblack/patch/strict"
)

func (r *reader) steps(v strict.Value) {
	items := v.Array(r.at("steps"))
	if len(items) == 0 || len(items) > MaxSteps {
		r.at("steps")(v.Line, fmt.Sprintf("there are %d steps; allowed are 1 to %d", len(items), MaxSteps))
		return
	}
	for i, item := range items {
		r.lesson.Steps = append(r.lesson.Steps, r.step(item, fmt.Sprintf("step %d", i+1)))
	}
}

func (r *reader) step(v strict.Value, place string) (s Step) {
	f := v.Fields(r.at(place), "text", "set?", "move", "watch", "listen", "question")
	s.Text = r.text(f, "text", place)
	s.Listen = r.text(f, "listen", place)
	if set, ok := f["set"]; ok {
		for _, m := range set.Object(r.at(place)) {
			at := r.socket(m.Line, m.Key, place)
			s.Set = append(s.Set, Set{at, r.setting(m.Value, at, place)})
		}
	}
	if m, ok := f["move"]; ok {
		s.Move = r.move(m, place+", move")
	}
	if w, ok := f["watch"]; ok {
		s.Watch = r.watch(w, place+", watch")
	}
	if q, ok := f["question"]; ok {
		s.Question = r.question(q, place+", question")
	}
	return s
}

func (r *reader) move(v strict.Value, place string) (m Move) {
	f := v.Fields(r.at(place), "control", "from", "to")
	c, ok := f["control"]
	if !ok {
		return m
	}
	before := len(r.faults)
	m.Control = r.socket(c.Line, r.words(c, place), place)
	if from, ok := f["from"]; ok {
		m.From = r.setting(from, m.Control, place)
	}
	if len(r.faults) > before {
		return m // one fault for a control that is not there
	}
	if to, ok := f["to"]; ok {
		m.To = r.setting(to, m.Control, place)
	}
	if r.patched && len(r.faults) == before && len(f) == 3 && (m.From.Unit != m.To.Unit || m.From.Value == m.To.Value) {
		r.at(place)(v.Line, fmt.Sprintf("from %s to %s is no way; write two different settings in one unit", m.From, m.To))
	}
	return m
}

func (r *reader) watch(v strict.Value, place string) (w Watch) {
	f := v.Fields(r.at(place), "text", "instrument", "A", "B?")
	w.Text = r.text(f, "text", place)
	w.Instrument = r.choice(f, "instrument", place, Instruments())
	w.A, w.B = r.output(f, "A", place), r.output(f, "B", place)
	return w
}

func (r *reader) question(v strict.Value, place string) (q Question) {
	f := v.Fields(r.at(place), "ask", "unit", "tolerance", "where?", "measure", "theory?")
	q.Ask = r.text(f, "ask", place)
	if t, ok := f["tolerance"]; ok {
		before := len(r.faults)
		if q.Tolerance = t.Number(r.at(place)); len(r.faults) == before && q.Tolerance <= 0 {
			r.at(place)(t.Line, fmt.Sprintf("the tolerance is %g; it must be over 0", q.Tolerance))
		}
	}
	q.Where = r.where(f["where"], place)
	if m, ok := f["measure"]; ok {
		q.Measure = r.measure(m, q, place+", measure")
	}
	known, ok := measures[q.Measure.What]
	if u, has := f["unit"]; has {
		if q.Unit = u.Text(r.at(place)); ok && q.Unit != known.unit {
			r.at(place)(u.Line, fmt.Sprintf("the unit is %q; %s is measured in %q", q.Unit, q.Measure.What, known.unit))
		}
	}
	if t, has := f["theory"]; has {
		q.Theory = r.theory(t, q, place+", theory")
	} else if ok && !known.predicted {
		r.at(place)(v.Line, fmt.Sprintf("\"theory\" is missing; only for line and lines the program works it out itself, not for %s", q.Measure.What))
	}
	return q
}

func (r *reader) theory(v strict.Value, q Question, place string) (t Theory) {
	f := v.Fields(r.at(place), "value", "formula", "source")
	t.Value = r.formula(f, "value", q, place)
	t.Formula = r.text(f, "formula", place)
	t.Source = r.text(f, "source", place)
	return t
}

// where reads the names that a question's formulas use.
func (r *reader) where(v strict.Value, place string) map[string]Variable {
	of := map[string]Variable{}
	if v.Line == 0 {
		return of
	}
	for _, m := range v.Object(r.at(place)) {
		t := r.words(m.Value, place)
		var x Variable
		if from, to, cord := strings.Cut(t, " -> "); cord {
			x.From, x.To = r.socket(m.Line, from, place), r.socket(m.Line, to, place)
		} else {
			x.Control = r.socket(m.Line, t, place)
		}
		if r.patched && t != "" {
			s, err := x.setting(r.lesson.Patch)
			if err != nil {
				r.at(place)(m.Line, err.Error())
			}
			x.Unit = s.Unit
		}
		of[m.Key] = x
	}
	return of
}

func (r *reader) formula(f map[string]strict.Value, key string, q Question, place string) string {
	v, ok := f[key]
	if !ok {
		return ""
	}
	before := len(r.faults)
	t := r.words(v, place)
	if len(r.faults) > before {
		return t
	}
	if _, err := readFormula(t, q.Where); err != nil {
		r.at(place)(v.Line, err.Error())
	}
	return t
}

func (r *reader) socket(line int, t, place string) patch.Socket {
	module, name, ok := strings.Cut(t, "/")
	if !ok && t != "" {
		r.at(place)(line, fmt.Sprintf("%q is no place in a patch; it is written as module / control or module / output", t))
	}
	return patch.Socket{Module: strings.TrimSpace(module), Name: strings.TrimSpace(name)}
}

// setting reads a setting of a control of the patch.
func (r *reader) setting(v strict.Value, at patch.Socket, place string) patch.Setting {
	t := r.words(v, place)
	if !r.patched || t == "" || at.Name == "" {
		return patch.Setting{}
	}
	c := controlOf(r.lesson.Patch, at)
	if c == nil {
		r.at(place)(v.Line, noControl(r.lesson.Patch, at))
		return patch.Setting{}
	}
	s, err := patch.ParseSetting(t, c)
	if err != nil {
		r.at(place)(v.Line, fmt.Sprintf("%s: %v", at, err))
	}
	return s
}

// output reads the name of an output of the patch.
func (r *reader) output(f map[string]strict.Value, key, place string) patch.Socket {
	v, ok := f[key]
	if !ok {
		return patch.Socket{}
	}
	at := r.socket(v.Line, r.words(v, place), place)
	if r.patched && at.Name != "" && !isOutput(r.lesson.Patch, at) {
		message := fmt.Sprintf("the patch has no output %s", at)
		if m := r.lesson.Patch.Module(at.Module); m != nil {
			k, _ := kind.Catalogue.Kind(m.Kind)
			var names []string
			for _, o := range k.Outputs {
				names = append(names, o.Name)
			}
			message += fmt.Sprintf("; %s has %s", at.Module, strings.Join(slices.Compact(names), ", "))
		}
		r.at(place)(v.Line, message)
	}
	return at
}
