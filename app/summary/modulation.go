package summary

import (
	"context"
	"math"

	"lampblack/patch"
	"lampblack/patch/engine"
	"lampblack/patch/kind"
	"lampblack/patch/memory"
	"lampblack/patch/module"
	"lampblack/scope/picture"
)

// Playing says how a patch is played to see what moves.
type Playing struct {
	Memory   memory.Memory
	Clips    map[string]*module.Clip // at Rate
	Rate     int                     // samples a second
	Seconds  float64                 // for how long
	Once     bool                    // the memory is played once, even if it repeats
	Progress func(done float64)      // 0 to 1; may be nil
}

// look is how many samples lie between two looks at a control: 1.3 ms at 48 kHz.
const look = module.MaxBlock

// watched is a control that cords move.
type watched struct {
	module, name string
	scale        *patch.Scale
	unit         string
	setting      patch.Setting
	tap          *engine.Tap
	now          []float64 // at each look, as a part of the ruler
	excursion    float64   // between two looks, added up

	lowest, ended, highest float64 // in unit, of all voices
}

// Movements plays a patch and returns what its cords move, in the order of its
// modules and their controls: the range that each control was driven through,
// where it stood at the end, how fast it went to and fro, and how it moved. Of a
// patch with several voices the ranges are those of all of them, the movement
// is that of the voice that was started last.
func Movements(ctx context.Context, p patch.Patch, how Playing) ([]picture.Movement, error) {
	all := moved(p)
	if len(all) == 0 {
		return nil, nil
	}
	e, err := begin(p, how)
	if err != nil {
		return nil, err
	}
	looks := int(how.Seconds * float64(how.Rate) / look)
	left, right, values := make([]float64, look), make([]float64, look), make([]float32, look)
	for k := range all {
		all[k].tap = e.TapControl(all[k].module, all[k].name)
	}
	for i := range looks {
		if i%64 == 0 {
			if ctx.Err() != nil {
				return nil, ctx.Err()
			}
			if how.Progress != nil {
				how.Progress(float64(i) / float64(looks))
			}
		}
		e.Block(left, right)
		for k := range all {
			all[k].read(values)
		}
	}
	var rows []picture.Movement
	for k := range all {
		w := &all[k]
		if low, now, high, ok := e.Swept(w.module, w.name); ok {
			w.lowest, w.ended, w.highest = low, now, high
			rows = append(rows, w.movement(p, float64(how.Rate)/look))
		}
	}
	return rows, nil
}

// begin starts a patch as a take is rendered.
func begin(p patch.Patch, how Playing) (*engine.Engine, error) {
	g, err := engine.Compile(p, engine.Settings{Rate: how.Rate, Clips: how.Clips})
	if err != nil {
		return nil, err
	}
	e := engine.New(how.Rate)
	e.Swap(g)
	if len(how.Memory.Notes) == 0 {
		e.NoteOn(0, 1)
		return e, nil
	}
	m := how.Memory.Clone()
	m.Repeat = m.Repeat && !how.Once
	if err := e.SetMemory(m); err != nil {
		return nil, err
	}
	e.Play(0)
	return e, nil
}

// moved returns the controls that cords move.
func moved(p patch.Patch) (all []watched) {
	for _, m := range p.Modules {
		k, ok := kind.Catalogue.Kind(m.Kind)
		if !ok {
			continue
		}
		for i := range k.Controls {
			c := &k.Controls[i]
			if len(cordsInto(p, patch.Socket{Module: m.Name, Name: c.Name})) == 0 {
				continue
			}
			set, written := m.Settings[c.Name]
			if !written {
				set = c.Default()
			}
			all = append(all, watched{
				module: m.Name, name: c.Name, setting: set, unit: set.Unit, scale: &c.Scales[max(c.Scale(set.Unit), 0)],
			})
		}
	}
	return all
}

// read takes what a control did in one block, sample by sample. values is room
// for them.
func (w *watched) read(values []float32) {
	if _, ok := w.tap.Read(values); !ok {
		return
	}
	low, high := values[0], values[0]
	for _, v := range values {
		low, high = min(low, v), max(high, v)
	}
	now := w.place(values[len(values)-1])
	w.now = append(w.now, now)
	w.excursion += w.place(high) - w.place(low)
}

// place is where a value of the engine's stands on the control's ruler, 0 to 1: as
// it is heard.
func (w *watched) place(v float32) float64 {
	return w.scale.Fraction(engine.InUnit(w.unit, float64(v)))
}

// movement words what was seen. looks is how many there were in a second.
func (w *watched) movement(p patch.Patch, looks float64) picture.Movement {
	m := picture.Movement{
		Module: w.module, Control: w.name, Setting: w.setting.String(),
		Lowest: patch.FormatValue(w.lowest, w.unit), Highest: patch.FormatValue(w.highest, w.unit), Now: patch.FormatValue(w.ended, w.unit),
	}
	for _, c := range cordsInto(p, patch.Socket{Module: w.module, Name: w.name}) {
		words := c.Name[len("← "):]
		if c.Value != "" {
			words += " " + c.Value
		}
		m.Cords = append(m.Cords, words)
	}
	span := w.scale.Fraction(w.highest) - w.scale.Fraction(w.lowest)
	if !(span > 0) || len(w.now) == 0 {
		m.Rate, m.Shape = "still", []float64{0, 0}
		return m
	}
	if w.excursion/float64(len(w.now)) > span/4 {
		m.Rate = "audio rate" // what is looked at 750 times a second tells no more
		return m
	}
	period := Period(w.now) / looks
	shown := w.now
	if period > 0 {
		m.Rate = patch.FormatValue(1/period, "Hz")
		if n := int(3 * period * looks); n < len(shown) { // three periods in the middle
			from := (len(shown) - n) / 2
			shown = shown[from : from+n+1]
		}
	}
	m.Shape = thinned(shown)
	return m
}

// shapePoints is how many points a small drawing has at most.
const shapePoints = 240

// thinned returns at most shapePoints of the values.
func thinned(values []float64) []float64 {
	if len(values) <= shapePoints {
		return values
	}
	few := make([]float64, shapePoints)
	for i := range few {
		few[i] = values[i*(len(values)-1)/(shapePoints-1)]
	}
	return few
}

// Period returns after how many steps values come round again, 0 if they don't
// keep time: from the passages upwards through the middle of their range. Those
// that do not reach a tenth of the range beyond it do not count, and no two may
// be more than a tenth off the mean.
func Period(values []float64) float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for _, v := range values {
		low, high = min(low, v), max(high, v)
	}
	middle, margin := (low+high)/2, (high-low)/10
	var at []float64
	below, since := false, 0.0
	for i, v := range values {
		switch {
		case v < middle-margin:
			below = true
		case below && v >= middle && since == 0:
			since = float64(i)
			if before := values[i-1]; v > before {
				since -= (v - middle) / (v - before)
			}
		}
		if below && v > middle+margin {
			at, below, since = append(at, since), false, 0
		}
		if v < middle {
			since = 0
		}
	}
	if len(at) < 3 {
		return 0
	}
	mean := (at[len(at)-1] - at[0]) / float64(len(at)-1)
	for i := 1; i < len(at); i++ {
		if math.Abs(at[i]-at[i-1]-mean) > mean/10 {
			return 0
		}
	}
	return mean
}
