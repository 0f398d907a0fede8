package meters

import (
	"image/color"
	"math"

	"fyne.io/fyne/v2"

	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
	"lampblack/app/window/plate"
	"lampblack/scope/meter"
)

// The meters' places on the leaf.
const (
	atPPM         = "PPM"
	atVU          = "VU"
	atPeak        = "true peak"
	atCorrelation = "correlation"
	atTuner       = "tuner"
	atModulation  = "AM"
	atLoudness    = "loudness"
)

// rulerHeight is the least height of a ruler with its head, in ems.
const rulerHeight = 3.4

// figuresWidth is how much room the figures of two channels take, in ems.
const figuresWidth = 6.4

// ruler is a meter on a level scale.
type ruler struct {
	name    string
	aside   func(r *reading) string // beside the name
	longest string                  // that it can become, if it changes
	words   func(r *reading) string // its figures
	marks   []mark
	heavy   [2]float64 // part of the scale that is drawn thick
	write   func(pen *leaf.Pen, s stretch)
	tap     func()
}

// stretch is where the line of a ruler lies.
type stretch struct{ x, y, width float32 }

// rulers returns all of them; wide tells that there is room for long figures.
func (p *Plate) rulers(wide bool) []ruler {
	fixed := func(s string) func(*reading) string { return func(*reading) string { return s } }
	all := []ruler{
		{
			name: atLoudness, aside: fixed(p.unit()), words: p.loudText, marks: loudMarks(),
			heavy: p.aimed(), tap: p.begin, write: p.writeLoud,
		}, {
			name: atPPM, aside: fixed("IIa, 4 = " + dBFS(p.set.alignment)), marks: ppmMarks(p.set.alignment),
			words: func(r *reading) string { return p.pair(r, func(s *side) string { return p.ppmText(s.ppm) }) },
			heavy: [2]float64{ppmAt(6), 1}, tap: p.restart, write: p.writePPM,
		}, {
			name: atVU, aside: fixed("0 = " + dBFS(p.set.alignment)), marks: vuMarks(),
			words: func(r *reading) string { return p.pair(r, func(s *side) string { return p.vuText(s.vu) }) },
			heavy: [2]float64{vuAt(0), 1}, tap: p.restart, write: p.writeVU,
		}, {
			name: atPeak, aside: overText, longest: over, marks: peakMarks(),
			words: func(r *reading) string { return p.pair(r, func(s *side) string { return bare(s.held) }) },
			heavy: [2]float64{peakAt(permitted), 1}, tap: p.restart, write: p.writePeak,
		}, {
			name: atCorrelation, words: p.correlationText, marks: correlationMarks(), tap: p.forgetLowest, write: p.writeCorrelation,
		}, {
			name: atTuner, words: toneText, marks: centsMarks(), tap: p.restart, write: p.writeTuner,
		}, {
			name: atModulation, words: func(r *reading) string { return envelopeText(r, wide) }, marks: rateMarks(),
			tap: p.restart, write: p.writeModulation,
		},
	}
	if p.panel { // there is more of the loudness
		all = all[1:]
	}
	first := p.set.first % len(all)
	return append(all[first:len(all):len(all)], all[:first]...)
}

// restart begins all but the loudness anew.
func (p *Plate) restart() {
	p.gauges.tune()
	p.show()
}

func (p *Plate) forgetLowest() {
	p.gauges.now.lowest = 1
	p.show()
}

// show brings what was changed by hand on the screen.
func (p *Plate) show() {
	p.shown = p.gauges.now
	p.needles.move(&p.shown)
	p.writeFigures()
}

// over is the warning; where there is no room its unit is left out.
const (
	over      = overShort + ", dBTP"
	overShort = "over −1"
)

// overText warns of peaks over what is permitted, as long as they are remembered.
func overText(r *reading) string {
	if max(r.sides[0].peakMost, r.sides[1].peakMost) > permitted {
		return over
	}
	return "dBTP"
}

// writeRuler writes a meter into a box.
func (p *Plate) writeRuler(pen *leaf.Pen, b plate.Box, r ruler) {
	em := pen.Em
	end := pen.Text(look.Caps, b.X, b.Y+em*1.05, r.name)
	words := b.X + b.Width - end - em*0.6
	if r.aside != nil {
		longest := max(pen.Wide(look.Quiet, r.aside(&p.shown)), pen.Wide(look.Quiet, r.longest)) + 1
		room := min(max(words-em*figuresWidth, pen.Wide(look.Quiet, overShort)+1), longest)
		p.figure(pen, look.Quiet, 1, end+em*0.5, b.Y+em*1.05, room, fyne.TextAlignLeading, r.aside)
		if r.longest == "" {
			words -= room
		} else { // figures are short when the warning is there
			words -= pen.Wide(look.Quiet, "dBTP")
		}
	}
	p.figure(pen, look.Figures, 1, b.X+b.Width, b.Y+em*1.05, words, fyne.TextAlignTrailing, r.words)
	s := stretch{b.X + em*0.9, b.Y + em*2.75, b.Width - em*1.8}
	printScale(pen, s, r, b.Height > em*4.3)
	r.write(pen, s)
	place := pen.Place(r.name, b.X-em*0.3, b.Y, b.Width+em*0.6, min(b.Height, em*4.4))
	place.Tap, place.Unmarked = r.tap, true
}

// printScale prints a scale: the line, its marks above, another unit beneath.
func printScale(pen *leaf.Pen, s stretch, r ruler, under bool) {
	em := pen.Em
	pen.Level(s.x, s.y, s.width, pen.Ink.Line)
	if r.heavy[1] > r.heavy[0] {
		pen.Box(s.x+s.width*float32(r.heavy[0]), s.y-1, s.width*float32(r.heavy[1]-r.heavy[0]), 3, pen.Ink.Line, nil)
	}
	free := s.x - em*2
	for _, m := range r.marks {
		x := s.x + s.width*float32(m.at)
		tall := em * 0.25
		if m.label != "" {
			tall = em * 0.42
		}
		if m.label == "" && m.under != "" { // beneath alone
			pen.Upright(x, s.y, em*0.5, pen.Ink.Line)
		} else {
			pen.Upright(x, s.y-tall, tall, pen.Ink.Line)
		}
		half := pen.Wide(look.Small, m.label) / 2
		if m.label != "" && x-half > free {
			pen.Middle(look.Small, x, s.y-em*0.62, m.label)
			free = x + half + em*0.25
		}
		if under && m.under != "" {
			pen.Middle(look.Small, x, s.y+em*1.5, m.under)
		}
	}
}

// tints are the colours of the channels: those of the probes, or the drawing ink.
func (p *Plate) tints(ink *look.Ink) [2]color.Color {
	switch p.set.of {
	case ofOutput:
		return [2]color.Color{ink.Drawn, ink.Drawn}
	case ofB:
		return [2]color.Color{ink.ProbeB, ink.ProbeB}
	}
	return [2]color.Color{ink.ProbeA, ink.ProbeB}
}

// sideNeedles lays a needle for each channel: left above the line, right below; one
// alone across it. A longer, thinner one marks the highest.
func (p *Plate) sideNeedles(pen *leaf.Pen, s stretch, now, most func(s *side) float64) {
	em, names, tints := pen.Em, p.sides(), p.tints(pen.Ink)
	n := p.set.of.channels()
	for i := range n {
		y, across, base := s.y-em*0.55, em*0.55, s.y-em*0.02
		switch {
		case n == 1:
			across, base = em*1.1, s.y+em*0.3
		case i == 1:
			y, base = s.y+1, s.y+em*0.75
		}
		pen.Right(look.Small, s.x-em*0.3, base, names[i])
		at := func(of func(s *side) float64) func(r *reading) (float64, bool) {
			return func(r *reading) (float64, bool) {
				v := of(&r.sides[i])
				return v, v > 0
			}
		}
		p.needles.add(pen, needle{at: at(most), x: s.x, y: y, length: s.width, across: across, thick: 1}, pen.Ink.Drawn, false)
		p.needles.add(pen, needle{at: at(now), x: s.x, y: y, length: s.width, across: across, thick: 2.5}, tints[i], true)
	}
}

func (p *Plate) writePPM(pen *leaf.Pen, s stretch) {
	at := func(dB float64) float64 { return ppmAt(ppmOf(dB, p.set.alignment)) }
	p.sideNeedles(pen, s, func(s *side) float64 { return at(s.ppm) }, func(s *side) float64 { return at(s.ppmMost) })
}

func (p *Plate) writeVU(pen *leaf.Pen, s stretch) {
	at := func(dB float64) float64 { return vuAt(dB - p.set.alignment) }
	p.sideNeedles(pen, s, func(s *side) float64 { return at(s.vu) }, func(s *side) float64 { return at(s.vuMost) })
}

func (p *Plate) writePeak(pen *leaf.Pen, s stretch) {
	p.sideNeedles(pen, s, func(s *side) float64 { return peakAt(s.peak) }, func(s *side) float64 { return peakAt(s.held) })
}

func (p *Plate) writeCorrelation(pen *leaf.Pen, s stretch) {
	em := pen.Em
	related := func(of func(r *reading) float64) func(r *reading) (float64, bool) {
		return func(r *reading) (float64, bool) { return correlationAt(of(r)), r.related }
	}
	p.needles.add(pen, needle{at: related(func(r *reading) float64 { return r.lowest }), x: s.x, y: s.y, length: s.width, across: em * 0.5, thick: 1}, pen.Ink.Drawn, false)
	p.needles.add(pen, needle{at: related(func(r *reading) float64 { return r.correlation }), x: s.x, y: s.y - em*0.5, length: s.width, across: em, thick: 2.5}, pen.Ink.Drawn, false)
}

func (p *Plate) writeTuner(pen *leaf.Pen, s stretch) {
	at := func(r *reading) (float64, bool) {
		hz, _ := pitch(&r.tone)
		_, cents := meter.Note(hz)
		return centsAt(cents), r.tone.Found
	}
	p.needles.add(pen, needle{at: at, x: s.x, y: s.y - pen.Em*0.5, length: s.width, across: pen.Em, thick: 2.5}, pen.Ink.Drawn, false)
}

// writeModulation lays a needle for each modulation, and a line where the one passes
// into the other.
func (p *Plate) writeModulation(pen *leaf.Pen, s stretch) {
	em := pen.Em
	for _, of := range []func(r *reading) meter.Modulation{
		func(r *reading) meter.Modulation { return r.envelope.Fluctuation },
		func(r *reading) meter.Modulation { return r.envelope.Roughness },
	} {
		at := func(r *reading) (float64, bool) {
			m := of(r)
			return rateAt(m.Hz), m.Hz > 0
		}
		p.needles.add(pen, needle{at: at, x: s.x, y: s.y - em*0.5, length: s.width, across: em, thick: 2.5}, pen.Ink.Drawn, false)
	}
	x := s.x + s.width*float32(rateAt(meter.RoughnessLow))
	pen.Upright(float32(math.Round(float64(x))), s.y-em*0.55, em*1.1, pen.Ink.Line)
}
