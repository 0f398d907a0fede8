package instruments

import (
	"fmt"
	"image/color"
	"math"
	"strings"

	"fyne.io/fyne/v2"

	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
	"lampblack/app/window/plate"
	"lampblack/app/window/told"
	"lampblack/scope"
)

// writeScope rules the scope's screen, 10 by 8 divisions, and writes its
// settings below.
func (t *Panel) writeScope(p *leaf.Pen, f frame) {
	for i := 0; i <= 10; i++ {
		p.Upright(f.x+f.width*float32(i)/10, f.scopeY, f.scopeH, p.Ink.Faint)
	}
	for i := 0; i <= 8; i++ {
		c := p.Ink.Faint
		if i == 4 {
			c = p.Ink.Line
		}
		p.Level(f.x, f.scopeY+f.scopeH*float32(i)/8, f.width, c)
	}
	p.Right(look.Small, f.x-p.Em*0.4, f.scopeY+f.scopeH/2+p.Em*0.28, "0")
	t.writeTriggerLevel(p, f)
	t.put(p, ofScope, t.scope.raster, f.x, f.scopeY, f.width, f.scopeH)
	word := "large"
	if t.large.Visible() {
		word = "small"
	}
	large, _ := p.Word("large", look.Small, f.x-p.Em*0.4-p.Wide(look.Small, word), f.scopeY+f.scopeH, word)
	large.Tap = t.ToggleLarge
	t.writeTrigger(p, f)
}

// put lays an instrument's picture on the leaf; pressed, it takes the place of
// the sheet.
func (t *Panel) put(p *leaf.Pen, which instrument, o fyne.CanvasObject, x, y, width, height float32) {
	place := p.Place(t.large.plates[which].Name(), x, y, width, height)
	place.Unlisted, place.Unmarked = true, true
	if t.away(which) {
		p.Middle(look.Emphasis, x+width/2, y+height*0.32, look.Emphasis.Fit("enlarged; click to bring it back", width, 1))
		place.Tap = t.GiveBack
		return
	}
	p.Put(o, x, y, width, height)
	place.Tap = func() { t.Enlarge(which) }
}

// writeTriggerLevel marks the level at which the picture begins.
func (t *Panel) writeTriggerLevel(p *leaf.Pen, f frame) {
	w := &t.measure.switches
	if !w.levelled() {
		return
	}
	y := f.scopeY + f.scopeH/2 - float32(w.level/w.value[w.channel()])*f.scopeH/8
	y = min(max(y, f.scopeY), f.scopeY+f.scopeH)
	if w.level != 0 {
		p.Dashes(f.x, y, f.width, 2, p.Ink.Line)
	}
	p.Text(look.Small, p.Em*1.3, y+p.Em*0.28, "▷")
	place := p.Place("level mark", p.Em*0.8, y-p.Em, p.Em*2, p.Em*2)
	place.Unlisted, place.Unmarked = true, true
	place.Step = t.stepLevel
	place.Drag = func(_, y float32) {
		v := float64((f.scopeY+f.scopeH/2-y)/f.scopeH) * 8 * w.value[w.channel()]
		t.set(func(w *switches) { w.level = roundTo(v, w.value[w.channel()]/20) })
	}
}

// row writes settings from x on, and returns the end of the last.
func (t *Panel) row(p *leaf.Pen, x, base float32, settings ...plate.Setting) float32 {
	for _, s := range settings {
		c := s.Tint
		if c == nil {
			c = p.Ink.Quiet
		}
		end := p.Tinted(look.Quiet, c, x, base, s.Text)
		place := p.Place(s.Name, x, base-p.Em*1.05, end-x, p.Em*1.4)
		place.Tap, place.Step = s.Tap, s.Step
		x = end + p.Em*0.45
	}
	return x
}

func (t *Panel) writeTrigger(p *leaf.Pen, f frame) {
	w := &t.measure.switches
	base := f.scopeY + f.scopeH + p.Em*1.25
	time := t.timeSetting()
	time.Tint = p.Ink.Drawn
	settings := []plate.Setting{time}
	switch {
	case w.rolls():
		settings = append(settings, plate.Setting{Name: "rolls", Text: "rolling"})
	case w.source >= onNotes:
		settings = append(settings, t.sourceSetting())
	default:
		level := t.levelSetting()
		level.Text = "through " + level.Text
		settings = append(settings, t.slopeSetting(), level, t.sourceSetting())
	}
	if w.mode != scope.Auto && !w.rolls() {
		settings = append(settings, t.modeSetting())
	}
	end := t.row(p, f.x, base, settings...)
	gains := []plate.Setting{
		{Name: "A per division", Text: "A " + plate.Number(w.value[0]), Step: func(n int) { t.stepValue(0, n) }, Tint: p.Ink.ProbeA},
		{Name: "B per division", Text: "B " + plate.Number(w.value[1]) + " /div", Step: func(n int) { t.stepValue(1, n) }, Tint: p.Ink.ProbeB},
	}
	wide := p.Wide(look.Quiet, gains[0].Text+gains[1].Text) + p.Em*0.45
	x := f.x + f.width - wide
	if x < end+p.Em*0.3 {
		base, x = f.spectrumY-p.Em*0.5, f.x // on a narrow page they take a line of their own
	}
	end = t.row(p, x, base, gains...)
	t.writeAdvice(p, f, end, base)
}

const advice = "scroll to turn a word"

// writeAdvice tells, on the line below the settings, that the picture runs
// free, or how a setting is turned.
func (t *Panel) writeAdvice(p *leaf.Pen, f frame, end, base float32) {
	x, below := f.x, f.spectrumY-p.Em*0.5
	if base >= below-1 {
		x = end + p.Em*0.4
	}
	switch room := f.x + f.width - x - p.Em*6; { // the spectrum's settings stand at the right
	case t.state() != "":
		p.Fit(look.Emphasis, x, below, room, t.state())
	case x == f.x && room > p.Wide(look.Emphasis, advice)+p.Em*6:
		told.Hint(p, "instruments", advice, x, below, room, t.Refresh)
	}
}

// writeSpectrum rules the spectrum and writes its readings below.
func (t *Panel) writeSpectrum(p *leaf.Pen, f frame) {
	b := plate.Box{X: f.x, Y: f.spectrumY, Width: f.width, Height: f.spectrumH}
	t.ruleLevels(p, b)
	plate.RuleFrequencies(p, b, t.measure.axis())
	t.put(p, ofSpectrum, t.spectrum.raster, f.x, f.spectrumY, f.width, f.spectrumH)
	t.writeReadouts(p, f.x, f.spectrumY+f.spectrumH+p.Em*2.45, f.width)
	settings := []plate.Setting{t.spanSetting(), t.axisSetting()}
	wide := p.Wide(look.Quiet, settings[0].Text+settings[1].Text) + p.Em*0.45
	t.row(p, f.x+f.width-wide, f.spectrumY-p.Em*0.5, settings...)
}

// writeReadouts writes the strongest line of each channel.
func (t *Panel) writeReadouts(p *leaf.Pen, x, base, room float32) {
	right := x + room
	for i, c := range []color.Color{p.Ink.ProbeA, p.Ink.ProbeB} {
		text := t.readout(i)
		if text == "" {
			continue
		}
		if x+p.Wide(look.Small, text) > right {
			return
		}
		x = p.Tinted(look.Small, c, x, base, text) + p.Em*0.7
	}
}

// readout tells the strongest line of a channel, "" if there is none.
func (t *Panel) readout(i int) string {
	if !t.measure.connected[i] || len(t.measure.peaks[i]) == 0 {
		return ""
	}
	name, peak := strings.Split("AB", "")[i], t.measure.peaks[i][0]
	if lowest := t.measure.lowest(i); peak.Hz < lowest {
		return fmt.Sprintf("%s under %s", name, plate.Hertz(lowest))
	}
	return fmt.Sprintf("%s %s %s", name, plate.Hertz(peak.Hz), plate.Level(peak.DB))
}

// ruleLevels rules the levels of the spectrum, or how far B lies above A.
func (t *Panel) ruleLevels(p *leaf.Pen, b plate.Box) {
	w := &t.measure.switches
	top := 0.0
	if w.show == showDifference {
		top = 20 * math.Floor(w.span/40)
	}
	for db := top; db >= top-w.span && (w.show != showDifference || db >= -top); db -= 20 {
		y := b.Y + b.Height*float32(-db/w.span)
		if w.show == showDifference {
			y += b.Height / 2
		}
		c := p.Ink.Faint
		if db == 0 && w.show == showDifference {
			c = p.Ink.Line
		}
		p.Level(b.X, y, b.Width, c)
		if b.Height*float32(20/w.span) > p.Em*0.9 || int(db)%40 == 0 {
			label := look.Shown(plate.Number(db))
			if db == 0 {
				label = "0 dB"
			}
			p.Right(look.Small, b.X-p.Em*0.4, y+p.Em*0.28, label)
		}
	}
}
