package engine

import (
	"maps"

	"lampblack/patch"
	"lampblack/patch/module"
)

// MemoryKind is the name of the kind of module that gives out the notes. The
// controls "voices", "steal" and "unison" of the first one in a patch are the
// patch's.
const MemoryKind = "memory"

// MaxVoices is how many voices a patch can have.
const MaxVoices = 16

// steal says which note gives up its voice to a new one.
type steal int

// In the order of the choices of the control "steal".
const (
	stealOldest steal = iota
	stealSoftest
	stealLowest
	stealHighest
	stealNone
)

// Voices says how a patch sounds several notes at once.
type Voices struct {
	// Count is how often the part of the patch that a note changes is there, 1 to
	// MaxVoices; Unison is how many of those every note has. Count / Unison notes
	// sound at once.
	Count, Unison int

	// PerVoice names the modules that are there once for every voice (with one
	// voice, those that would be). What they are follows from the cords. A module is
	// one of them if a note reaches one of its controls, or one of the inputs that
	// starts or holds it; or if it lies before such a module and sounds different
	// for every note, or draws noise. All others are there once, and hear the
	// sum of the voices.
	PerVoice map[string]bool

	steal steal
}

// VoicesOf finds out how p sounds several notes at once. Modules of a kind that k
// does not have count as deaf to notes.
func VoicesOf(p patch.Patch, k Catalogue) Voices {
	if k == nil {
		k = defaultKinds
	}
	v := voicesWritten(p, k)
	v.PerVoice = map[string]bool{}
	voiced, _ := newNet(p, k).divide()
	for i, m := range p.Modules {
		if voiced[i] {
			v.PerVoice[m.Name] = true
		}
	}
	return v
}

// SameVoices reports whether two patches can sound in one graph as far as voices
// go: there is one only, or what is there once for every voice is the same.
func SameVoices(p, q patch.Patch, k Catalogue) bool {
	if k == nil {
		k = defaultKinds
	}
	v, w := voicesWritten(p, k), voicesWritten(q, k)
	if v.Count != w.Count || v.Unison != w.Unison || v.steal != w.steal {
		return false
	}
	return v.Count == 1 || maps.Equal(VoicesOf(p, k).PerVoice, VoicesOf(q, k).PerVoice)
}

// notes returns how many notes sound at once.
func (v Voices) notes() int { return v.Count / v.Unison }

// side returns where a voice stands among those of its note, -1 to +1.
func (v Voices) side(voice int) float64 {
	if v.Unison == 1 {
		return 0
	}
	return 2*float64(voice%v.Unison)/float64(v.Unison-1) - 1
}

// net is a patch as the search for what is there once for every voice sees it.
type net struct {
	kinds []*module.Kind // by module; nil: unknown
	hears []bool         // by module: the note being played reaches it without a cord
	cords []wire
}

// wire is a cord between two modules, by their numbers.
type wire struct {
	from, to int
	guides   bool // it ends in a control, or in an input that starts or holds the sound
}

func newNet(p patch.Patch, k Catalogue) *net {
	n := &net{kinds: make([]*module.Kind, len(p.Modules)), hears: make([]bool, len(p.Modules))}
	number := make(map[string]int, len(p.Modules))
	for i, m := range p.Modules {
		n.kinds[i], _ = k.Module(m.Kind)
		number[m.Name] = i
	}
	joined := make(map[patch.Socket]bool, len(p.Cords))
	for _, c := range p.Cords {
		joined[c.To] = true
		from, ok := number[c.From.Module]
		to, too := number[c.To.Module]
		if !ok || !too || n.kinds[to] == nil {
			continue
		}
		n.cords = append(n.cords, wire{from, to, guides(n.kinds[to], c.To.Name)})
	}
	for i := range p.Modules {
		if n.kinds[i] != nil {
			n.hears[i] = hears(&p.Modules[i], n.kinds[i], joined)
		}
	}
	return n
}

// guides reports whether what comes in there does more than pass through.
func guides(k *module.Kind, socket string) bool {
	i := k.Input(socket)
	return i < 0 || followsNote(k.Inputs[i])
}

func followsNote(in patch.Input) bool {
	return in.Open == patch.OpenGate || in.Open == patch.OpenTrigger
}

// hears reports whether the note reaches m without a cord, and does something
// there.
func hears(m *patch.Module, k *module.Kind, joined map[patch.Socket]bool) bool {
	if m.Kind == MemoryKind {
		return true
	}
	for _, in := range k.Inputs {
		if !followsNote(in) || joined[patch.Socket{Module: m.Name, Name: in.Name}] {
			continue
		}
		return k.Heeds == nil || k.Heeds(func(control string) (patch.Setting, bool) {
			return settingAt(m, &k.Kind, control), joined[patch.Socket{Module: m.Name, Name: control}]
		})
	}
	return false
}

// settingAt returns the setting of a control that the kind has.
func settingAt(m *patch.Module, k *patch.Kind, control string) patch.Setting {
	if s, ok := m.Settings[control]; ok {
		return s
	}
	if c := k.Control(control); c != nil {
		return c.Default()
	}
	return patch.Setting{}
}

// voicesWritten reads what the first memory of p says.
func voicesWritten(p patch.Patch, kinds Catalogue) Voices {
	v := Voices{Count: 1, Unison: 1}
	for i := range p.Modules {
		m := &p.Modules[i]
		k, ok := kinds.Module(m.Kind)
		if m.Kind != MemoryKind || !ok {
			continue
		}
		stands := func(control string) int { return int(settingAt(m, &k.Kind, control).Value) }
		v.Count = min(max(stands("voices"), 1), MaxVoices)
		v.Unison = min(max(stands("unison"), 1), v.Count)
		v.Count -= v.Count % v.Unison // what is left over would never sound
		v.steal = steal(min(max(stands("steal"), 0), int(stealNone)))
		break
	}
	return v
}

// divide tells which modules are there once for every voice, and which come
// behind those: they hear the voices, or noise, and are there once.
func (n *net) divide() (voiced, behind []bool) {
	note := make([]bool, len(n.kinds))   // what the note reaches
	varies := make([]bool, len(n.kinds)) // what differs between voices
	for i, k := range n.kinds {
		note[i] = n.hears[i]
		varies[i] = n.hears[i] || k != nil && k.Seeded
	}
	n.spread(note, false)
	n.spread(varies, false)
	voiced = append([]bool(nil), n.hears...)
	for _, w := range n.cords {
		if w.guides && note[w.from] {
			voiced[w.to] = true
		}
	}
	n.spread(voiced, true)
	behind = make([]bool, len(n.kinds))
	for i := range voiced {
		voiced[i] = voiced[i] && varies[i]
		behind[i] = varies[i] && !voiced[i]
	}
	return voiced, behind
}

// spread marks all modules that cords lead to from those that are marked, or,
// backwards, that lead to them.
func (n *net) spread(marked []bool, backwards bool) {
	next := make([][]int, len(marked))
	for _, w := range n.cords {
		if backwards {
			w.from, w.to = w.to, w.from
		}
		next[w.from] = append(next[w.from], w.to)
	}
	var found []int
	for i, m := range marked {
		if m {
			found = append(found, i)
		}
	}
	for len(found) > 0 {
		i := found[len(found)-1]
		found = found[:len(found)-1]
		for _, k := range next[i] {
			if !marked[k] {
				marked[k] = true
				found = append(found, k)
			}
		}
	}
}
