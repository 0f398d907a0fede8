package instruments

import (
	"fmt"
	"image/color"
	"math"

	"lampblack/app/window/look"
	"lampblack/app/window/plate"
	"lampblack/scope"
)

func (t *Panel) timeSetting() plate.Setting {
	return plate.Setting{Name: "time", Text: plate.Time(t.measure.switches.time) + "/div", Step: t.stepTime,
		Hint:  "ten divisions across; from 100 ms on the picture rolls like a strip chart",
		Typed: t.typed(leastTime, mostTime, func(w *switches, v float64) { w.time = v })}
}

func (t *Panel) valueSetting(i int) plate.Setting {
	name := [...]string{"A", "B"}[i]
	ink := [...]color.Color{look.Now().ProbeA, look.Now().ProbeB}[i]
	return plate.Setting{Name: "scale " + name, Tint: ink, Text: plate.Number(t.measure.switches.value[i]) + " /div", Step: func(n int) { t.stepValue(i, n) },
		Hint:  "eight divisions from top to bottom; full scale is −1 to +1",
		Typed: t.typed(leastValue, mostValue, func(w *switches, v float64) { w.value[i] = v })}
}

func (t *Panel) slopeSetting() plate.Setting {
	text := "rising"
	if t.measure.switches.falling {
		text = "falling"
	}
	step := func(int) { t.set(func(w *switches) { w.falling = !w.falling }) }
	return plate.Setting{Name: "slope", Text: text, Tap: func() { step(1) }, Step: step,
		Hint: "whether the picture begins where the signal comes up through the level, or down"}
}

func (t *Panel) levelSetting() plate.Setting {
	return plate.Setting{Name: "level", Text: look.Shown(plate.Number(t.measure.switches.level)), Step: t.stepLevel,
		Tap:   func() { t.set(func(w *switches) { w.level = 0 }) },
		Hint:  "the value at which the picture begins; a click returns to 0",
		Typed: t.typed(-8, 8, func(w *switches, v float64) { w.level = v })}
}

func (t *Panel) sourceSetting() plate.Setting {
	text := [...]string{"on A", "on B", "on notes", "on passes"}[t.measure.switches.source]
	step := func(n int) { t.set(func(w *switches) { w.source = plate.Turn(w.source, n, sources) }) }
	return plate.Setting{Name: "source", Text: text, Tap: func() { step(1) }, Step: step,
		Hint: "what begins a picture: the signal of a probe, the start of a note, or of a pass of the memory"}
}

func (t *Panel) modeSetting() plate.Setting {
	m := t.measure
	step := func(n int) {
		t.set(func(w *switches) { w.mode = scope.Mode(plate.Turn(int(w.mode), n, 3)) })
		m.sweep.Arm()
	}
	tap := func() { step(1) }
	text := m.switches.mode.String()
	if m.sweep.Done() {
		text, tap = "single: again", func() { m.sweep.Arm(); t.set(func(*switches) {}) }
	}
	return plate.Setting{Name: "mode", Text: text, Tap: tap, Step: step,
		Hint: "auto runs free without a trigger, normal keeps the last picture, single takes one and stops"}
}

// holdOffs are the times for which the trigger can be silent, in seconds.
var holdOffs = []float64{0, 1e-3, 2e-3, 5e-3, 10e-3, 20e-3, 50e-3, 0.1, 0.2, 0.5, 1, 2, 5}

func (t *Panel) holdOffSetting() plate.Setting {
	text := "none"
	if s := t.measure.switches.holdOff; s > 0 {
		text = plate.Time(s)
	}
	return plate.Setting{Name: "hold-off", Text: text,
		Step:  func(n int) { t.set(func(w *switches) { w.holdOff = plate.Along(holdOffs, w.holdOff, n) }) },
		Tap:   func() { t.set(func(w *switches) { w.holdOff = 0 }) },
		Hint:  "how long the trigger stays silent after a picture: a signal with several crossings stands still",
		Typed: t.typed(0, 5, func(w *switches, v float64) { w.holdOff = v })}
}

func (t *Panel) beforeSetting() plate.Setting {
	return plate.Setting{Name: "before", Text: fmt.Sprintf("%.0f div", t.measure.switches.before*10),
		Step: func(n int) {
			t.set(func(w *switches) { w.before = math.Round(min(max(w.before*10+float64(n), 0), 9)) / 10 })
		},
		Tap:   func() { t.set(func(w *switches) { w.before = 0 }) },
		Hint:  "how much of the picture lies before the trigger",
		Typed: t.typed(0, 9, func(w *switches, v float64) { w.before = math.Round(v) / 10 })}
}

func (t *Panel) planeSetting() plate.Setting {
	text := "over time"
	if t.measure.switches.plane {
		text = "B over A"
	}
	step := func(int) { t.set(func(w *switches) { w.plane = !w.plane }) }
	return plate.Setting{Name: "drawn", Text: text, Tap: func() { step(1) }, Step: step,
		Hint: "against time, or A to the right and B up: a circle is 90 degrees apart, a line in step"}
}

// fades are the times in which old traces fade to 1/e, in seconds.
var fades = []float64{0, 0.5, 1, 2, 5, 10, math.Inf(1)}

func (t *Panel) fadeSetting() plate.Setting {
	text := "none"
	if s := t.measure.switches.fade; math.IsInf(s, 1) {
		text = "for ever"
	} else if s > 0 {
		text = plate.Time(s)
	}
	return plate.Setting{Name: "afterglow", Text: text,
		Step:  func(n int) { t.set(func(w *switches) { w.fade = plate.Along(fades, w.fade, n) }) },
		Tap:   func() { t.set(func(w *switches) { w.fade = fades[plate.Turn(indexOf(fades, w.fade), 1, len(fades))] }) },
		Hint:  "how long earlier traces stay to be seen: more ink where the signal is more often",
		Typed: t.typed(0, 10, func(w *switches, v float64) { w.fade = v })}
}

func indexOf(list []float64, v float64) int {
	for i, x := range list {
		if x == v {
			return i
		}
	}
	return 0
}

func (t *Panel) freezeSetting() plate.Setting {
	text := "running"
	if t.measure.switches.frozen {
		text = "frozen"
	}
	return plate.Setting{Name: "signal", Text: text, Tap: t.ToggleFreeze, Step: func(int) { t.ToggleFreeze() },
		Hint: "F4 holds all pictures, or lets them go on"}
}

func (t *Panel) keepSetting() plate.Setting {
	text, act := "keep this one", t.measure.keep
	if t.measure.holds() {
		text, act = "drop the kept one", t.measure.drop
	}
	tap := func() {
		act()
		t.redraw()
		t.large.Refresh()
	}
	return plate.Setting{Name: "trace", Text: text, Tap: tap,
		Hint: "a kept trace stays in grey under the later ones, trigger over trigger"}
}

func (t *Panel) cursorSetting() plate.Setting {
	text := [...]string{"off", "on A", "on B"}[t.measure.switches.cursors]
	step := func(n int) { t.set(func(w *switches) { w.cursors = plate.Turn(w.cursors, n, 3) }) }
	return plate.Setting{Name: "cursors", Text: text, Tap: func() { step(1) }, Step: step,
		Hint: "two lines to be dragged, or moved with ↑ ↓ (PgUp, PgDn: a division): time, 1/time and rise between them"}
}

func (t *Panel) windowSetting() plate.Setting {
	step := func(n int) {
		t.set(func(w *switches) { w.window = scope.Windows()[plate.Turn(int(w.window), n, len(scope.Windows()))] })
	}
	w := t.measure.switches.window
	return plate.Setting{Name: "window", Text: w.String(), Tap: func() { step(1) }, Step: step,
		Hint: fmt.Sprintf("a bin lets through as much noise as a filter %s wide (%.2f bins)", plate.Hertz(t.noiseWidth()), w.NoiseBandwidth())}
}

// noiseWidth is the noise bandwidth of a bin, in Hz.
func (t *Panel) noiseWidth() float64 {
	w := &t.measure.switches
	return w.window.NoiseBandwidth() * t.measure.rate / float64(w.samples)
}

func (t *Panel) noiseSetting() plate.Setting {
	return plate.Setting{Name: "noise width", Text: plate.Hertz(t.noiseWidth()), Hint: "the noise bandwidth of a bin, with this window and this many samples"}
}

func (t *Panel) samplesSetting() plate.Setting {
	w := &t.measure.switches
	return plate.Setting{Name: "samples", Text: fmt.Sprintf("%d", w.samples), Step: func(n int) {
		t.set(func(w *switches) {
			if n > 0 {
				w.samples = min(w.samples*2, 32768)
			} else {
				w.samples = max(w.samples/2, 1024)
			}
		})
	}, Hint: fmt.Sprintf("bins %s apart, over %s of signal", plate.Hertz(t.measure.rate/float64(w.samples)), plate.Time(math.Round(float64(w.samples)/t.measure.rate*1e4)/1e4))}
}

// averages are over how many spectra the power can be averaged.
var averages = []float64{1, 4, 16, 64, 256}

func (t *Panel) averageSetting() plate.Setting {
	text := "none"
	if n := t.measure.switches.average; n > 1 {
		text = fmt.Sprintf("%d spectra", n)
	}
	step := func(n int) {
		t.set(func(w *switches) { w.average = int(plate.Along(averages, float64(w.average), n)) })
	}
	return plate.Setting{Name: "average", Text: text, Step: step, Tap: func() { t.set(func(w *switches) { w.average = 1 }) },
		Hint:  "of the power in each bin, thirty spectra a second: noise becomes smooth; a click ends it",
		Typed: t.typed(1, 256, func(w *switches, v float64) { w.average = int(v) })}
}

func (t *Panel) holdSetting() plate.Setting {
	text := "off"
	if t.measure.switches.hold {
		text = "on"
	}
	step := func(int) {
		t.measure.holdFrom++
		t.set(func(w *switches) { w.hold = !w.hold })
	}
	return plate.Setting{Name: "peak hold", Text: text, Tap: func() { step(1) }, Step: step,
		Hint: "the highest level so far stays in grey; off and on begins it anew"}
}

func (t *Panel) showSetting() plate.Setting {
	text := [...]string{"lines", "third octaves", "B less A"}[t.measure.switches.show]
	step := func(n int) { t.set(func(w *switches) { w.show = plate.Turn(w.show, n, 3) }) }
	return plate.Setting{Name: "shown", Text: text, Tap: func() { step(1) }, Step: step,
		Hint: "every line, bands of a third of an octave (IEC 61260-1), or how far B lies above A"}
}

func (t *Panel) spanSetting() plate.Setting {
	return plate.Setting{Name: "range", Text: plate.Number(t.measure.switches.span) + " dB", Step: t.stepSpan,
		Hint:  "from top to bottom; a full-scale sine is 0 dB",
		Typed: t.typed(40, 180, func(w *switches, v float64) { w.span = math.Round(v) })}
}

func (t *Panel) axisSetting() plate.Setting {
	text := "log"
	if t.measure.switches.linear {
		text = "linear"
	}
	step := func(int) { t.set(func(w *switches) { w.linear = !w.linear }) }
	return plate.Setting{Name: "axis", Text: text, Tap: func() { step(1) }, Step: step,
		Hint: "octaves equally wide, or hertz: harmonics then stand equally far apart"}
}

func (t *Panel) gramOfSetting() plate.Setting {
	text := [...]string{"A", "B"}[t.measure.switches.gramOf]
	step := func(int) { t.set(func(w *switches) { w.gramOf = 1 - w.gramOf }) }
	return plate.Setting{Name: "of probe", Text: text, Tap: func() { step(1) }, Step: step, Hint: "whose signal is drawn"}
}

var gramTimes = []float64{5, 10, 20, 60}

func (t *Panel) gramTimeSetting() plate.Setting {
	return plate.Setting{Name: "across", Text: plate.Time(t.measure.switches.gramTime),
		Step:  func(n int) { t.set(func(w *switches) { w.gramTime = plate.Along(gramTimes, w.gramTime, n) }) },
		Hint:  "from the left edge to now; changing it begins anew",
		Typed: t.typed(1, 60, func(w *switches, v float64) { w.gramTime = v })}
}

func (t *Panel) gramSpanSetting() plate.Setting {
	return plate.Setting{Name: "range", Text: plate.Number(t.measure.switches.gramSpan) + " dB",
		Step: func(n int) {
			t.set(func(w *switches) { w.gramSpan = min(max(w.gramSpan+10*float64(n), 40), 140) })
		},
		Hint:  "from full ink (a full-scale sine) to none",
		Typed: t.typed(40, 140, func(w *switches, v float64) { w.gramSpan = math.Round(v) })}
}

func (t *Panel) overSetting() plate.Setting {
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
		g.watch(t.session, list[plate.Turn(at, n, len(list))])
		t.redraw()
		t.large.Refresh()
	}
	return plate.Setting{Name: "over it", Tint: look.Now().Modulation, Text: g.over.String(), Tap: func() { step(1) }, Step: step,
		Hint: "the movement of a control in ochre: a frequency on this axis, all else on its own ruler"}
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
	case w.source == onPasses && len(m.passes) == 0:
		return "the memory has not played yet"
	case m.sweep.Done():
		return "taken; click “single” for another"
	case w.mode != scope.Auto && (m.waiting || len(m.samples[0]) == 0 || w.mode == scope.Single):
		return "waits for its trigger"
	case !m.triggered && w.source == onPasses:
		return "no new pass: it runs free"
	case !m.triggered && m.connected[w.source] && w.source == onNotes:
		return "no note: it runs free"
	case !m.triggered && m.connected[w.source]:
		return "no crossing: it runs free"
	}
	return ""
}
