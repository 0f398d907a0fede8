package response

import (
	"math"
	"slices"

	"lampblack/app/desk"
	"lampblack/app/probing"
	"lampblack/app/window/plate"
	"lampblack/patch"
)

// settings are what a person has chosen on the plate.
type settings struct {
	form     int  // of those that suit the module
	whole    bool // the whole path instead of the chosen module
	in, out  string
	from     patch.Socket // of the whole path; zero: the chosen or the nearest source
	toOutput bool
	beside   beside
	by       method
	live     bool // moved controls as they now stand
	gate     float64
	span     float64 // dB
	reach    float64
	readAt   float64 // Hz; 0: nowhere
}

// beside is what is drawn under the level.
type beside int

const (
	levelAlone beside = iota
	withPhase
	withDelay
)

func usual() settings { return settings{gate: 0.5, span: 72, reach: 1, beside: withPhase} }

var (
	gates   = []float64{0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20}
	spans   = []float64{12, 24, 36, 48, 72, 96, 144}
	reaches = []float64{0.1, 0.25, 0.5, 1, 2, 5, 10}
)

// Settings returns those that mean anything now.
func (p *Plate) Settings() []plate.Setting {
	name := p.module()
	k := p.session.Kind(name)
	if k == nil {
		return nil
	}
	all := []plate.Setting{p.moduleSetting(name), p.ofSetting()}
	form, _ := p.form(k)
	if p.set.whole {
		form = probing.Response
		all = append(all, p.fromSetting(name), p.toSetting(name))
	} else {
		all = append(all, p.socketSettings(k)...)
		if forms, _ := probing.FormsOf(k); len(forms) > 1 {
			all = append(all, p.formSetting(forms))
		}
	}
	switch form {
	case probing.Response:
		all = append(all, p.besideSetting(), p.spanSetting(), p.readAtSetting(), p.bySetting())
	case probing.Shape:
		all = append(all, p.gateSetting())
	case probing.Transfer:
		all = append(all, p.reachSetting())
	}
	if form != probing.Words {
		if p.set.live || p.moves(name) {
			all = append(all, p.liveSetting())
		}
		all = append(all, p.keptSetting())
	}
	return all
}

// turning makes a setting of words that go round.
func (p *Plate) turning(name, text, hint string, step func(s *settings, n int)) plate.Setting {
	return plate.Setting{Name: name, Text: text, Hint: hint,
		Tap:  func() { p.change(func(s *settings) { step(s, 1) }) },
		Step: func(n int) { p.change(func(s *settings) { step(s, n) }) }}
}

func (p *Plate) moduleSetting(name string) plate.Setting {
	return plate.Setting{Name: "module", Text: name, Tap: func() { p.stepModule(1) }, Step: p.stepModule,
		Hint: "the module whose rulers are shown; this turns to the next"}
}

func (p *Plate) ofSetting() plate.Setting {
	text := "this module"
	if p.set.whole {
		text = "whole path"
	}
	return p.turning("of", text, "the module alone, or all from a source to probe A",
		func(s *settings, _ int) { s.whole = !s.whole })
}

func (p *Plate) fromSetting(name string) plate.Setting {
	from, to := p.ends(name)
	all := probing.Sources(p.session.Patch(), to)
	s := plate.Setting{Name: "from", Text: from.String(), Hint: "the source in whose place the test signal comes"}
	if from.Module == "" {
		s.Text = "nothing"
	}
	if len(all) > 1 {
		return p.turning(s.Name, s.Text, s.Hint, func(set *settings, n int) {
			set.from = all[plate.Turn(max(slices.Index(all, from), 0), n, len(all))]
		})
	}
	return s
}

func (p *Plate) toSetting(name string) plate.Setting {
	_, to := p.ends(name)
	s := plate.Setting{Name: "to", Text: to.String(), Hint: "where it ends: at probe A, or at what the output hears"}
	if to.Module == "" {
		s.Text = "nothing"
	}
	if heard, ok := p.session.Heard(); ok && heard != p.session.Probe(desk.ProbeA) && p.session.Kind(p.session.Probe(desk.ProbeA).Module) != nil {
		return p.turning(s.Name, s.Text, s.Hint, func(set *settings, _ int) { set.toOutput = !set.toOutput })
	}
	return s
}

// socketSettings are between which sockets a module is looked at, where it has
// several.
func (p *Plate) socketSettings(k *patch.Kind) []plate.Setting {
	in, out := p.sockets(k)
	if forms, _ := probing.FormsOf(k); forms[0] == probing.Words {
		return nil
	}
	var all []plate.Setting
	if ins := probing.Ins(k); in != "" && len(ins) > 1 && k.Grows == 0 {
		all = append(all, p.turning("from", in, "the input that the test signal comes into",
			func(s *settings, n int) { s.in = ins[plate.Turn(slices.Index(ins, in), n, len(ins))] }))
	}
	if len(k.Outputs) > 1 {
		at := k.Output(out)
		all = append(all, p.turning("to", out, "the output that is looked at; first that of probe A",
			func(s *settings, n int) { s.out = k.Outputs[plate.Turn(at, n, len(k.Outputs))].Name }))
	}
	return all
}

var formNames = map[probing.Form]string{probing.Response: "response", probing.Shape: "shape", probing.Wave: "one cycle", probing.Transfer: "curve"}

func (p *Plate) formSetting(forms []probing.Form) plate.Setting {
	at := p.set.form % len(forms)
	return p.turning("shows", formNames[forms[at]], "its response, or what comes out over what goes in",
		func(s *settings, n int) { s.form = plate.Turn(at, n, len(forms)) })
}

func (p *Plate) besideSetting() plate.Setting {
	text := [...]string{"level", "level, phase", "level, delay"}[p.set.beside]
	return p.turning("drawn", text, "the level, and the phase or the group delay below it",
		func(s *settings, n int) { s.beside = beside(plate.Turn(int(s.beside), n, 3)) })
}

func (p *Plate) spanSetting() plate.Setting {
	return plate.Setting{Name: "span", Text: plate.Number(p.set.span) + " dB", Hint: "how much of the level is seen from top to foot",
		Step:  func(n int) { p.change(func(s *settings) { s.span = plate.Along(spans, s.span, n) }) },
		Typed: func(v float64) { p.change(func(s *settings) { s.span = min(max(v, 6), 240) }) }}
}

// stepOctaves is how far a step goes along the frequencies.
const stepOctaves = 1.0 / 12

func (p *Plate) readAtSetting() plate.Setting {
	text := "nowhere"
	if p.set.readAt > 0 {
		text = plate.Number(math.Round(p.set.readAt*10)/10) + " Hz"
	}
	return plate.Setting{Name: "read at", Text: text, Hint: "drag in the picture, step or type; a click takes it away",
		Tap: func() { p.readAt(0) },
		Step: func(n int) {
			if p.set.readAt == 0 {
				p.readAt(1000)
				return
			}
			p.readAt(p.set.readAt * math.Exp2(float64(n)*stepOctaves))
		},
		Typed: func(v float64) { p.readAt(v) }}
}

// readAt reads the lines at a frequency; 0: nowhere.
func (p *Plate) readAt(hz float64) {
	p.set.readAt = 0
	if hz > 0 {
		p.set.readAt = min(max(hz, lowestHz), max(p.shown.highest, lowestHz))
	}
	p.redraw()
}

func (p *Plate) bySetting() plate.Setting {
	text := [...]string{"impulse", "sweep −40 dB", "sweep −20 dB", "sweep 0 dB", "not"}[p.set.by]
	return p.turning("measured", text,
		"by a faint impulse, or by a sweep, which tells harmonics, too",
		func(s *settings, n int) { s.by = method(plate.Turn(int(s.by), n, int(methods))) })
}

func (p *Plate) gateSetting() plate.Setting {
	return plate.Setting{Name: "note", Text: plate.Time(p.set.gate), Hint: "how long the note is held",
		Step:  func(n int) { p.change(func(s *settings) { s.gate = plate.Along(gates, s.gate, n) }) },
		Typed: func(v float64) { p.change(func(s *settings) { s.gate = min(max(v, 1e-3), 60) }) }}
}

func (p *Plate) reachSetting() plate.Setting {
	return plate.Setting{Name: "in", Text: "±" + plate.Number(p.set.reach), Hint: "how far what is sent in goes; full scale is ±1",
		Step:  func(n int) { p.change(func(s *settings) { s.reach = plate.Along(reaches, s.reach, n) }) },
		Typed: func(v float64) { p.change(func(s *settings) { s.reach = min(max(math.Abs(v), 0.01), 10) }) }}
}

func (p *Plate) liveSetting() plate.Setting {
	text := "as set"
	if p.set.live {
		text = "as now"
	}
	return p.turning("controls", text, "what a cord moves stands as set, or where it now is",
		func(s *settings, _ int) { s.live = !s.live })
}

// moves tells whether a cord moves a control that matters.
func (p *Plate) moves(name string) bool {
	all := p.session.Patch()
	for _, c := range all.Cords {
		if k := p.session.Kind(c.To.Module); k != nil && k.Control(c.To.Name) != nil && (p.set.whole || c.To.Module == name) {
			return true
		}
	}
	return false
}

func (p *Plate) keptSetting() plate.Setting {
	s := plate.Setting{Name: "kept", Text: "keep this", Hint: "leaves this line under later ones, to see what a change does",
		Tap: func() { p.keep(true) }}
	if p.kept != nil {
		s.Text, s.Hint = "drop", "takes the line away that was kept"
		s.Tap = func() { p.keep(false) }
	}
	s.Step = func(int) { p.keep(p.kept == nil) }
	return s
}

func (p *Plate) keep(on bool) {
	p.kept = nil
	if on {
		r := p.shown
		p.kept = &r
	}
	p.redraw()
}
