package instruments

import (
	"fmt"
	"math"

	"lampblack/app/window/look"
	"lampblack/scope"
)

func (t *Panel) timeSetting() setting {
	return setting{name: "time", text: timeText(t.measure.switches.time) + "/div", step: t.stepTime,
		hint:  "ten divisions across; from 100 ms on the picture rolls like a strip chart",
		typed: t.typed(leastTime, mostTime, func(w *switches, v float64) { w.time = v })}
}

func (t *Panel) valueSetting(i int) setting {
	name := [...]string{"A", "B"}[i]
	return setting{name: "scale " + name, text: number(t.measure.switches.value[i]) + " /div", step: func(n int) { t.stepValue(i, n) },
		hint:  "eight divisions from top to bottom; full scale is −1 to +1",
		typed: t.typed(leastValue, mostValue, func(w *switches, v float64) { w.value[i] = v })}
}

func (t *Panel) slopeSetting() setting {
	text := "rising"
	if t.measure.switches.falling {
		text = "falling"
	}
	step := func(int) { t.set(func(w *switches) { w.falling = !w.falling }) }
	return setting{name: "slope", text: text, tap: func() { step(1) }, step: step,
		hint: "whether the picture begins where the signal comes up through the level, or down"}
}

func (t *Panel) levelSetting() setting {
	return setting{name: "level", text: look.Shown(number(t.measure.switches.level)), step: t.stepLevel,
		tap:   func() { t.set(func(w *switches) { w.level = 0 }) },
		hint:  "the value at which the picture begins; a click returns to 0",
		typed: t.typed(-8, 8, func(w *switches, v float64) { w.level = v })}
}

func (t *Panel) sourceSetting() setting {
	text := [...]string{"on A", "on B", "on notes"}[t.measure.switches.source]
	step := func(n int) { t.set(func(w *switches) { w.source = turn(w.source, n, inputs) }) }
	return setting{name: "source", text: text, tap: func() { step(1) }, step: step,
		hint: "what begins a picture: the signal of a probe, or the start of a note"}
}

func (t *Panel) modeSetting() setting {
	m := t.measure
	step := func(n int) {
		t.set(func(w *switches) { w.mode = scope.Mode(turn(int(w.mode), n, 3)) })
		m.sweep.Arm()
	}
	tap := func() { step(1) }
	text := m.switches.mode.String()
	if m.sweep.Done() {
		text, tap = "single: again", func() { m.sweep.Arm(); t.set(func(*switches) {}) }
	}
	return setting{name: "mode", text: text, tap: tap, step: step,
		hint: "auto runs free without a trigger, normal keeps the last picture, single takes one and stops"}
}

// holdOffs are the times for which the trigger can be silent, in seconds.
var holdOffs = []float64{0, 1e-3, 2e-3, 5e-3, 10e-3, 20e-3, 50e-3, 0.1, 0.2, 0.5, 1, 2, 5}

func (t *Panel) holdOffSetting() setting {
	text := "none"
	if s := t.measure.switches.holdOff; s > 0 {
		text = timeText(s)
	}
	return setting{name: "hold-off", text: text,
		step:  func(n int) { t.set(func(w *switches) { w.holdOff = along(holdOffs, w.holdOff, n) }) },
		tap:   func() { t.set(func(w *switches) { w.holdOff = 0 }) },
		hint:  "how long the trigger stays silent after a picture: a signal with several crossings stands still",
		typed: t.typed(0, 5, func(w *switches, v float64) { w.holdOff = v })}
}

func (t *Panel) beforeSetting() setting {
	return setting{name: "before", text: fmt.Sprintf("%.0f div", t.measure.switches.before*10),
		step: func(n int) {
			t.set(func(w *switches) { w.before = math.Round(min(max(w.before*10+float64(n), 0), 9)) / 10 })
		},
		tap:   func() { t.set(func(w *switches) { w.before = 0 }) },
		hint:  "how much of the picture lies before the trigger",
		typed: t.typed(0, 9, func(w *switches, v float64) { w.before = math.Round(v) / 10 })}
}

func (t *Panel) planeSetting() setting {
	text := "over time"
	if t.measure.switches.plane {
		text = "B over A"
	}
	step := func(int) { t.set(func(w *switches) { w.plane = !w.plane }) }
	return setting{name: "drawn", text: text, tap: func() { step(1) }, step: step,
		hint: "against time, or A to the right and B up: a circle is 90 degrees apart, a line in step"}
}

// fades are the times in which old traces fade to 1/e, in seconds.
var fades = []float64{0, 0.5, 1, 2, 5, 10, math.Inf(1)}

func (t *Panel) fadeSetting() setting {
	text := "none"
	if s := t.measure.switches.fade; math.IsInf(s, 1) {
		text = "for ever"
	} else if s > 0 {
		text = timeText(s)
	}
	return setting{name: "afterglow", text: text,
		step:  func(n int) { t.set(func(w *switches) { w.fade = along(fades, w.fade, n) }) },
		tap:   func() { t.set(func(w *switches) { w.fade = fades[turn(indexOf(fades, w.fade), 1, len(fades))] }) },
		hint:  "how long earlier traces stay to be seen: more ink where the signal is more often",
		typed: t.typed(0, 10, func(w *switches, v float64) { w.fade = v })}
}

func indexOf(list []float64, v float64) int {
	for i, x := range list {
		if x == v {
			return i
		}
	}
	return 0
}

func (t *Panel) freezeSetting() setting {
	text := "running"
	if t.measure.switches.frozen {
		text = "frozen"
	}
	return setting{name: "signal", text: text, tap: t.ToggleFreeze, step: func(int) { t.ToggleFreeze() },
		hint: "F4 holds all pictures, or lets them go on"}
}

func (t *Panel) keepSetting() setting {
	text, act := "keep this one", t.measure.keep
	if t.measure.holds() {
		text, act = "drop the kept one", t.measure.drop
	}
	tap := func() {
		act()
		t.redraw()
		t.large.Refresh()
	}
	return setting{name: "trace", text: text, tap: tap,
		hint: "a kept trace stays in grey under the later ones, trigger over trigger"}
}

func (t *Panel) cursorSetting() setting {
	text := [...]string{"off", "on A", "on B"}[t.measure.switches.cursors]
	step := func(n int) { t.set(func(w *switches) { w.cursors = turn(w.cursors, n, 3) }) }
	return setting{name: "cursors", text: text, tap: func() { step(1) }, step: step,
		hint: "two lines to be dragged, or moved with ↑ ↓ (PgUp, PgDn: a division): time, 1/time and rise between them"}
}

func (t *Panel) windowSetting() setting {
	step := func(n int) {
		t.set(func(w *switches) { w.window = scope.Windows()[turn(int(w.window), n, len(scope.Windows()))] })
	}
	w := t.measure.switches.window
	return setting{name: "window", text: w.String(), tap: func() { step(1) }, step: step,
		hint: fmt.Sprintf("a bin lets through as much noise as a filter %s wide (%.2f bins)", frequencyText(t.noiseWidth()), w.NoiseBandwidth())}
}

// noiseWidth is the noise bandwidth of a bin, in Hz.
func (t *Panel) noiseWidth() float64 {
	w := &t.measure.switches
	return w.window.NoiseBandwidth() * t.measure.rate / float64(w.samples)
}

func (t *Panel) noiseSetting() setting {
	return setting{name: "noise width", text: frequencyText(t.noiseWidth()), hint: "the noise bandwidth of a bin, with this window and this many samples"}
}

func (t *Panel) samplesSetting() setting {
	w := &t.measure.switches
	return setting{name: "samples", text: fmt.Sprintf("%d", w.samples), step: func(n int) {
		t.set(func(w *switches) {
			if n > 0 {
				w.samples = min(w.samples*2, 32768)
			} else {
				w.samples = max(w.samples/2, 1024)
			}
		})
	}, hint: fmt.Sprintf("bins %s apart, over %s of signal", frequencyText(t.measure.rate/float64(w.samples)), timeText(math.Round(float64(w.samples)/t.measure.rate*1e4)/1e4))}
}

// averages are over how many spectra the power can be averaged.
var averages = []float64{1, 4, 16, 64, 256}

func (t *Panel) averageSetting() setting {
	text := "none"
	if n := t.measure.switches.average; n > 1 {
		text = fmt.Sprintf("%d spectra", n)
	}
	step := func(n int) { t.set(func(w *switches) { w.average = int(along(averages, float64(w.average), n)) }) }
	return setting{name: "average", text: text, step: step, tap: func() { t.set(func(w *switches) { w.average = 1 }) },
		hint:  "of the power in each bin, thirty spectra a second: noise becomes smooth; a click ends it",
		typed: t.typed(1, 256, func(w *switches, v float64) { w.average = int(v) })}
}

func (t *Panel) holdSetting() setting {
	text := "off"
	if t.measure.switches.hold {
		text = "on"
	}
	step := func(int) {
		t.measure.holdFrom++
		t.set(func(w *switches) { w.hold = !w.hold })
	}
	return setting{name: "peak hold", text: text, tap: func() { step(1) }, step: step,
		hint: "the highest level so far stays in grey; off and on begins it anew"}
}

func (t *Panel) showSetting() setting {
	text := [...]string{"lines", "third octaves", "B less A"}[t.measure.switches.show]
	step := func(n int) { t.set(func(w *switches) { w.show = turn(w.show, n, 3) }) }
	return setting{name: "shown", text: text, tap: func() { step(1) }, step: step,
		hint: "every line, bands of a third of an octave (IEC 61260-1), or how far B lies above A"}
}

func (t *Panel) spanSetting() setting {
	return setting{name: "range", text: number(t.measure.switches.span) + " dB", step: t.stepSpan,
		hint:  "from top to bottom; a full-scale sine is 0 dB",
		typed: t.typed(40, 180, func(w *switches, v float64) { w.span = math.Round(v) })}
}

func (t *Panel) axisSetting() setting {
	text := "log"
	if t.measure.switches.linear {
		text = "linear"
	}
	step := func(int) { t.set(func(w *switches) { w.linear = !w.linear }) }
	return setting{name: "axis", text: text, tap: func() { step(1) }, step: step,
		hint: "octaves equally wide, or hertz: harmonics then stand equally far apart"}
}

func (t *Panel) gramOfSetting() setting {
	text := [...]string{"A", "B"}[t.measure.switches.gramOf]
	step := func(int) { t.set(func(w *switches) { w.gramOf = 1 - w.gramOf }) }
	return setting{name: "of probe", text: text, tap: func() { step(1) }, step: step, hint: "whose signal is drawn"}
}

var gramTimes = []float64{5, 10, 20, 60}

func (t *Panel) gramTimeSetting() setting {
	return setting{name: "across", text: timeText(t.measure.switches.gramTime),
		step:  func(n int) { t.set(func(w *switches) { w.gramTime = along(gramTimes, w.gramTime, n) }) },
		hint:  "from the left edge to now; changing it begins anew",
		typed: t.typed(1, 60, func(w *switches, v float64) { w.gramTime = v })}
}

func (t *Panel) gramSpanSetting() setting {
	return setting{name: "range", text: number(t.measure.switches.gramSpan) + " dB",
		step: func(n int) {
			t.set(func(w *switches) { w.gramSpan = min(max(w.gramSpan+10*float64(n), 40), 140) })
		},
		hint:  "from full ink (a full-scale sine) to none",
		typed: t.typed(40, 140, func(w *switches, v float64) { w.gramSpan = math.Round(v) })}
}

func (t *Panel) overSetting() setting {
	g := t.measure.gram
	step := func(n int) {
		list := append([]control{{}}, moving(t.session)...)
		at := 0
		for i, c := range list {
			if c == g.over {
				at = i
			}
		}
		g.chosen = true
		g.watch(t.session, list[turn(at, n, len(list))])
		t.redraw()
		t.large.Refresh()
	}
	return setting{name: "over it", text: g.over.String(), tap: func() { step(1) }, step: step,
		hint: "the movement of a control in ochre: a frequency on this axis, all else on its own ruler"}
}

// state tells what the scope waits for, "" if it simply runs.
func (t *Panel) state() string {
	m := t.measure
	w := &m.switches
	switch {
	case w.rolls():
		return ""
	case w.source == onNotes && !m.connected[onNotes]:
		return "no memory module: no notes"
	case m.sweep.Done():
		return "taken; click “single” for another"
	case w.mode != scope.Auto && (m.waiting || len(m.samples[0]) == 0 || w.mode == scope.Single):
		return "waits for its trigger"
	case !m.triggered && m.connected[w.source] && w.source == onNotes:
		return "no note: it runs free"
	case !m.triggered && m.connected[w.source]:
		return "no crossing: it runs free"
	}
	return ""
}
