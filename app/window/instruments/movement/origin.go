package movement

import (
	"lampblack/app/window/plate"
	"lampblack/patch"
	"lampblack/patch/kind"
)

// origin is where a movement comes from, as far as that tells how it repeats.
type origin int

const (
	fromElsewhere origin = iota
	fromNotes            // it moves with the note that is played
	fromChance           // it is drawn
)

// originOf tells where the movement of cords comes from: from notes if all of
// them do, from chance if any of them does.
func originOf(p *patch.Patch, cords []patch.Cord) origin {
	w := &upstream{patch: p, seen: map[string]bool{}}
	for _, c := range cords {
		w.visit(c.From)
	}
	switch {
	case w.chance:
		return fromChance
	case w.notes && !w.others:
		return fromNotes
	}
	return fromElsewhere
}

// upstream goes back along the signal to what makes it.
type upstream struct {
	patch                 *patch.Patch
	seen                  map[string]bool
	notes, chance, others bool
}

func (w *upstream) visit(from patch.Socket) {
	m := w.patch.Module(from.Module)
	if m == nil || w.seen[from.Module] {
		return
	}
	w.seen[from.Module] = true
	k, _ := kind.Catalogue.Kind(m.Kind)
	switch {
	case k == nil:
	case k.Family == patch.Playing || k.Family == patch.Envelopes:
		w.notes = true
	case k.Symbol == "noise" || k.Symbol == "random" || k.Symbol == "hold" && (from.Name == "random" || !w.joined(from.Module, "in")):
		w.chance = true
	case k.Family == patch.Sources || k.Symbol == "generator" || !w.goOn(from.Module):
		w.others = true // it goes by itself
	}
}

// joined tells whether a cord ends in a socket of a module.
func (w *upstream) joined(name, socket string) bool {
	for _, c := range w.patch.Cords {
		if c.To == (patch.Socket{Module: name, Name: socket}) {
			return true
		}
	}
	return false
}

// goOn goes back to what feeds a module; false if nothing does.
func (w *upstream) goOn(name string) (fed bool) {
	for _, c := range w.patch.Cords {
		if c.To.Module == name {
			w.visit(c.From)
			fed = true
		}
	}
	return fed
}

// words writes how a control moves: its rate as it was measured, and where no
// rate was found what its cords come from.
func (r rate) words(o origin) string {
	hz := ""
	if r.hz > 0 {
		hz = rateText(r.hz)
	}
	switch {
	case r.manner == unknown:
		return ""
	case r.manner == still:
		return "still"
	case o == fromNotes:
		return "with the note"
	case r.manner == periodic:
		return hz
	case o == fromChance && hz != "":
		return hz + " random"
	case o == fromChance:
		return "random"
	case r.manner == stepping && hz != "":
		return hz + " steps"
	case r.young:
		return soon
	}
	return none
}

// What stands where there is no rate yet, and where there is none.
const soon, none = "…", "–"

// rateText writes a rate: a slow one with three figures, others to a hundredth of
// a hertz.
func rateText(hz float64) string {
	if hz < 0.1 {
		return patch.FormatValue(hz, "Hz")
	}
	return plate.ExactHertz(hz)
}
