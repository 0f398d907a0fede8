package probing

import "lampblack/patch"

// Form is what can be shown of a module.
type Form int

// The forms.
const (
	Words    Form = iota // nothing: Why says why
	Response             // level, phase and delay over frequency
	Shape                // an envelope over time
	Wave                 // one cycle
	Transfer             // out over in
)

// forms are what suits a kind, the first one first.
var forms = map[string][]Form{
	"slow": {Wave}, "slew": {Shape}, "scale": {Transfer}, "comparator": {Transfer}, "quantiser": {Transfer}, "logic": {Transfer},
	"saturation": {Transfer, Response}, "amplifier": {Response, Transfer}, "mixer": {Response, Transfer}, "pan": {Response, Transfer}, "output": {Response, Transfer},
}

// why says of kinds of which nothing is shown why not.
var why = map[string]string{
	"memory":    "plays notes and changes no sound. Choose what it plays",
	"noise":     "has no cycle: noise is never the same twice. Its spectrum is on the plate of that name",
	"recording": "plays a recording, which has no cycle of its own. Choose what it goes through",
	"string":    "dies away while it sounds: no cycle is like the one before. Its sound stands on the plates of the spectrum and the spectrogram",
	"click":     "gives one knock: it has no cycle. The scope shows it",
	"wander":    "wanders by chance: it has no cycle. The scope shows it",
	"hold":      "holds samples of what comes in: what comes out hangs on its beat. The scope shows it",
	"ring":      "multiplies two sounds: what comes out of one hangs on the other. Its sidebands stand on the plate of the spectrum",
	"loudness":  "follows how loud a sound is, over time: it has no curve of its own. The scope shows it",
	"pitch":     "follows the pitch of a sound: it has no curve of its own. The scope shows it",
	"gate":      "opens and closes by how loud a sound is, over time. The scope shows it",
	"onset":     "answers the beginnings of sounds. The scope shows it",
	"vocoder":   "weighs one sound by the bands of another: its response is never the same. The spectrogram shows it",
	"chorus":    "reads its delay lines with moving heads: its response is another at every moment. The spectrogram shows it",
	"wow":       "reads its tape at a speed that sways: it has no response that stands. The spectrogram shows it",
}

// FormsOf returns what can be shown of a kind of module, what suits it best first;
// Words alone, with the reason, if nothing can. Kinds that are not named here are
// judged by what they are for.
func FormsOf(k *patch.Kind) (all []Form, reason string) {
	if reason := why[k.Name]; reason != "" {
		return []Form{Words}, reason
	}
	if f := forms[k.Name]; f != nil {
		return f, ""
	}
	switch {
	case k.Family == patch.Envelopes:
		return []Form{Shape}, ""
	case k.Family == patch.Sources && !triggered(k):
		return []Form{Wave}, ""
	case (k.Family == patch.Filters || k.Family == patch.Space || k.Family == patch.Levels) && AudioIn(k) != "" && AudioOut(k) != "":
		return []Form{Response}, ""
	}
	return []Form{Words}, "is of a kind (" + k.Title + ") of which no curve says what it does: the scope and the spectrum show it"
}

// triggered tells whether a kind sounds only when it is set off.
func triggered(k *patch.Kind) bool {
	for _, in := range k.Inputs {
		if in.Open == patch.OpenTrigger {
			return true
		}
	}
	return false
}

// Ins returns the inputs of a kind through which a sound or a voltage goes.
func Ins(k *patch.Kind) []string {
	var all []string
	for _, in := range k.Inputs {
		if in.Open == patch.OpenSilence || in.Open == patch.OpenLeft {
			all = append(all, in.Name)
		}
	}
	return all
}

// AudioIn returns the first of Ins, "" if there is none.
func AudioIn(k *patch.Kind) string {
	if all := Ins(k); len(all) > 0 {
		return all[0]
	}
	return ""
}

// AudioOut returns the first output that is meant for hearing, or the first one.
func AudioOut(k *patch.Kind) string {
	for _, o := range k.Outputs {
		if !o.Control {
			return o.Name
		}
	}
	if len(k.Outputs) > 0 {
		return k.Outputs[0].Name
	}
	return ""
}
