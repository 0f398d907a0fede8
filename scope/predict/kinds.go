package predict

import (
	"lampblack/patch"
	"lampblack/patch/kind"
)

// kindOf returns the words of a module's kind.
func kindOf(m *patch.Module) *patch.Kind {
	k, _ := kind.Catalogue.Kind(m.Kind)
	return k
}

// outputs works out what the module gives, by its kind.
func (n *node) outputs() []signal {
	switch n.kind.Name {
	case "oscillator":
		return n.oscillator()
	case "partials":
		return n.partials()
	case "slow":
		return n.slow()
	case "noise":
		return n.noise()
	case "memory":
		return n.memory()
	case "envelope":
		return n.envelope()
	case "ahd":
		return n.ahd()
	case "contour":
		return n.contour()
	case "slew":
		return n.slew()
	case "scale":
		return n.scale()
	case "ring":
		return n.ring()
	case "amplifier":
		return n.amplifier()
	case "mixer":
		return n.mixer()
	case "output":
		return n.speaker()
	case "pan":
		return n.pan()
	}
	if r, ok := responses[n.kind.Name]; ok {
		return n.linear(r)
	}
	return n.why("%s", n.reason())
}

// reasons say of kinds that are not predicted why not.
var reasons = map[string]string{
	"recording":    "plays a recording: what is in it is heard, not computed",
	"string":       "is a plucked string that dies away, struck by noise",
	"click":        "gives single knocks: they have no lines",
	"wander":       "wanders by chance",
	"hold":         "holds samples of what comes in: steps, whose lines depend on both rates",
	"slew":         "limits how fast a voltage may move",
	"comparator":   "jumps where a voltage crosses its threshold",
	"logic":        "combines gates",
	"quantiser":    "moves in steps",
	"loudness":     "follows the loudness of what it hears",
	"pitch":        "follows the pitch of what it hears",
	"gate":         "opens with the loudness of what it hears",
	"onset":        "answers the starts of what it hears",
	"vocoder":      "weighs one sound by the bands of another",
	"chorus":       "reads its delay lines with moving heads",
	"wow":          "reads its tape at a speed that sways",
	"reverberator": "is a room of many echoes, some of which move",
	"saturation":   "bends what comes in: new lines, whose levels depend on all others",
}

func (n *node) reason() string {
	if why, ok := reasons[n.kind.Name]; ok {
		return why
	}
	return "is of a kind (" + n.kind.Title + ") that is not predicted"
}
