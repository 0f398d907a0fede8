// Package recording is the kind of module that plays a recorded sound.
//
//	trigger -> place in the recording -> value between samples -> left, right
//	                 \-> grains that fit each other (stretched) -/
//
// Held by tests: unchanged at speed 1, the exact pitch at any other, nothing
// folded, a repeat of exact period, seams and retriggers without a click, an exact
// length and pitch when stretched.
package recording

import (
	"lampblack/patch"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// Kind is the catalogue entry.
func Kind() *module.Kind {
	return &module.Kind{Kind: words, New: newSound, Bounded: true, Heeds: heeds}
}

// heeds reports whether a note does anything: where something else starts the
// recording and it plays through, the gate is not looked at.
func heeds(stands func(string) (patch.Setting, bool)) bool {
	_, struck := stands("trigger")
	how, moves := stands("play")
	return !struck || how.Value != through || moves
}

// The controls, by their place in words.
const (
	speed = iota
	pitch
	stretch
	grain
	direction
	start
	end
	loop
	loopStart
	loopEnd
	fade
	play
	edges
	level
)

var words = patch.Kind{
	Name: "recording", Title: "recording", Family: patch.Sources, Symbol: "recording", Version: 2,
	Help: `Plays a recorded sound from a file: a voice, a door, a take of this notebook.

Each trigger starts it anew at start. It plays once to its end, or repeats
the loop. Speed moves the pitch with it, as a tape does: 2 is an octave up
and half as long, 0.5 an octave down and twice as long. Join pitch of a
memory to pitch with a depth of +1 oct and the recording plays a tune:

    tape:     speed of the sound = speed x 2^pitch; its length follows
    stretch:  its place moves at speed, its pitch at 2^pitch: length and pitch
              apart; what lasts T seconds lasts T/speed, exactly

Stretched, the sound is put together from grains that overlap by half. Each
next grain is looked for near the place where it is due, at most a quarter
of a grain off, so that its waves continue those of the one before. A voice
or a single tone stays what it is; where many tones sound at once or a beat
is sharp, it is heard that time was stretched. (A sine of 60 Hz to 8 kHz
comes out with all else 85 dB down.) Take grains of 80 ms and more for
tones, of 20 to 40 ms for words and beats. The lowest tone that is matched
has two periods in a grain (40 Hz in 50 ms).

Backward turns the sound round, from end to start. A loop runs from loop
start to loop end within start and end. Its seam is a cut, unless there is a
fade: then what leads up to the loop start is faded in while the loop's last
moments fade out, and the seam is not heard. Where less than the fade lies
before the loop start, the loop starts later by what is missing. The fade
keeps the power even, however much the two sides are alike.

    through  from the trigger on to the end; a loop goes on for ever
    held     only while the gate is up
    sustain  the loop repeats while the gate is up; then it plays on to the end

Edges fade what is cut: a start or end within the file, the old sound when a
trigger starts it anew, and the end of held. The file's own beginning is
left as it is. A cord may move every control while it sounds; start, and all
that is read at the trigger, counts from the next one.

Between the samples of the recording the value is worked out by band-limited
interpolation (32 points, Kaiser window). At speed 1 every sample comes out
unchanged. Above speed 1 what would pass half the sample rate is filtered
away: what folds is 95 dB down below 0.4 of the rate (19 kHz at 48 kHz).

Without a file the module is silent.

Sources: Smith and Gossett, A flexible sampling-rate conversion method,
ICASSP 1984; Verhelst and Roelands, An overlap-add technique based on
waveform similarity (WSOLA), ICASSP 1993; fades that keep the power: Fink,
Holters and Zoelzer, Signal-matched power-complementary cross-fading, DAFx
2016.`,
	Inputs: []patch.Input{
		{Name: "trigger", Open: patch.OpenTrigger, Help: "Rising through 0.5 starts the recording at start. Left open it follows the note being played."},
		{Name: "gate", Open: patch.OpenGate, Help: "Above 0.5 the note is held; only held and sustain listen to it. Left open it follows the note being played."},
	},
	Outputs: []patch.Output{
		{Name: "left", Help: "Left channel; of a mono recording its only one. Full scale is +-1."},
		{Name: "right", Help: "Right channel; of a mono recording the same as left. Full scale is +-1."},
	},
	Controls: []patch.Control{
		{Name: "speed", Help: "How fast it plays, 0.01 to 20 times; pitch moves with it unless it is stretched. A cord moves it in octaves.",
			Scales: []patch.Scale{{Min: 0.01, Max: 20, Default: 1, Taper: patch.Logarithmic, Moves: []patch.Move{patch.Octaves}}}},
		{Name: "pitch", Help: "How much higher it sounds, -4 to +4 octaves; on the tape it moves the speed as well, up to 32 times in all. A cord moves it in octaves.",
			Scales: []patch.Scale{{Unit: "oct", Min: -4, Max: 4, Moves: []patch.Move{{Unit: "oct", Kind: patch.MoveLinear, Max: 10}}}}},
		control.Choice("stretch", "Off: speed moves the pitch, as on a tape. On: speed moves the length alone. A change fades over within edges. A cord moves it by as many words.", "off", "on"),
		{Name: "grain", Help: "Length of the grains of a stretched sound, 10 to 200 ms: short for words and beats, long for tones. Read as each begins. A cord moves it in octaves.",
			Scales: []patch.Scale{{Unit: "s", Min: 0.01, Max: 0.2, Default: 0.05, Taper: patch.Logarithmic, Moves: []patch.Move{patch.Octaves}}}},
		control.Choice("direction", "Forward from start to end, or backward from end to start. A change while it sounds turns it round where it is. A cord moves it by as many words.", "forward", "backward"),
		place("start", "Where a trigger starts (backward: where it ends), 0 to 100 % of the recording or 0 to 3600 s. Read at the trigger and by a repeat. A cord moves it in the same unit.", 0),
		place("end", "Where it ends (backward: where it starts), 0 to 100 % of the recording or 0 to 3600 s. A cord moves it in the same unit.", 100),
		control.Choice("loop", "Once: to the end, then silence. Repeat: from loop end back to loop start. A cord moves it by as many words.", "once", "repeat"),
		place("loop start", "Where a repeat goes back to, 0 to 100 % of the recording or 0 to 3600 s; never before start. A cord moves it in the same unit.", 0),
		place("loop end", "Where a repeat goes back from, 0 to 100 % of the recording or 0 to 3600 s; never behind end. At or before loop start the loop is all from start to end. A cord moves it in the same unit.", 100),
		seconds("fade", "How long the seam of a repeat cross-fades, 0 (a cut) to 2 s of the recording, half of the loop at most. Stretched, the grains do it. A cord moves it in seconds.", 2, 0),
		control.Choice("play", "Through: to the end, whatever the gate does. Held: while the gate is up. Sustain: loops while the gate is up, then on to the end. A cord moves it by as many words.", "through", "held", "sustain"),
		seconds("edges", "How long it fades where it would be cut off: at start and end within the file, by a new trigger, by the gate. 0 (cuts) to 100 ms. A cord moves it in seconds.", 0.1, 0.003),
		control.Level("level", "Level of the recording, -96 dB (off) to +24 dB; 0 dB plays it unchanged. A cord moves it as a factor (x: depth 1 multiplies by the voltage) or in dB.", 24, 0),
	},
}

// longest is how far into a recording a place can be written in seconds.
const longest = 3600

func place(name, help string, start float64) patch.Control {
	c := control.Percent(name, help, 0, 100, start)
	c.Scales = append(c.Scales, patch.Scale{Unit: "s", Max: longest, Moves: []patch.Move{{Unit: "s", Kind: patch.MoveLinear, Max: longest}}})
	return c
}

func seconds(name, help string, most, start float64) patch.Control {
	return patch.Control{Name: name, Help: help, Scales: []patch.Scale{{
		Unit: "s", Max: most, Default: start, Moves: []patch.Move{{Unit: "s", Kind: patch.MoveLinear, Max: most}},
	}}}
}
