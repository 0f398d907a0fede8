package meters

import (
	"fmt"
	"math"
	"strconv"

	"lampblack/app/window/look"
	"lampblack/app/window/plate"
	"lampblack/scope/meter"
)

// bare writes a level with one figure behind the point, without its unit.
func bare(v float64) string {
	if math.IsInf(v, -1) || v < -199.95 {
		return "−∞"
	}
	if math.Abs(v) < 0.05 {
		v = 0 // no sign
	}
	return look.Shown(strconv.FormatFloat(v, 'f', 1, 64))
}

// plus writes it with its sign.
func plus(v float64) string {
	if v >= 0.05 {
		return "+" + bare(v)
	}
	return bare(v)
}

func dBFS(v float64) string { return look.Shown(plate.Number(v)) + " dBFS" }

// clock writes a time: 00:12.3.
func clock(seconds float64) string {
	tenths := int64(math.Round(seconds * 10))
	return fmt.Sprintf("%02d:%02d.%d", tenths/600, tenths/10%60, tenths%10)
}

// pair writes what is read of the channels: of one alone, or "L ... R ..." in one
// part, which the hard space keeps together.
func (p *Plate) pair(r *reading, of func(s *side) string) string {
	if r.channels == 1 {
		return of(&r.sides[0])
	}
	names := p.sides()
	return names[0] + " " + of(&r.sides[0]) + "\u00a0 " + names[1] + " " + of(&r.sides[1])
}

// sides are the names of the channels.
func (p *Plate) sides() [2]string {
	switch p.set.of {
	case ofOutput:
		return [2]string{"L", "R"}
	case ofB:
		return [2]string{"B", ""}
	}
	return [2]string{"A", "B"}
}

// ppmText is where the programme meter stands, in marks.
func (p *Plate) ppmText(dB float64) string {
	mark := ppmOf(dB, p.set.alignment)
	if mark < 0.95 {
		return "< 1"
	}
	return bare(mark)
}

func (p *Plate) vuText(dB float64) string {
	vu := dB - p.set.alignment
	if vu < -20 {
		return "< −20"
	}
	return plus(vu)
}

func (p *Plate) correlationText(r *reading) string {
	switch {
	case r.channels == 1:
		return "needs two signals"
	case !r.related:
		return "–"
	}
	text := alike(r.correlation)
	if r.lowest < 0.995 {
		text += "  lowest " + alike(r.lowest)
	}
	return text
}

// alike writes a correlation; 0 has no sign.
func alike(v float64) string {
	if math.Abs(v) < 0.005 {
		return "0.00"
	}
	return look.Shown(fmt.Sprintf("%+.2f", v))
}

// heardHarmonic is the highest harmonic that can be the strongest of a tone whose
// root is missing, and still be heard as that root's: the ear tells no more than some
// ten apart. Source: R. Plomp, The ear as a frequency analyzer, JASA 36, 1964 (from
// memory).
const heardHarmonic = 10

// pitch returns the frequency that the tuner shows: that of which all lines are
// harmonics or, where nobody would hear it, that of the strongest line.
func pitch(t *meter.ToneReading) (hz float64, root bool) {
	if t.Line > (heardHarmonic+0.5)*t.Hz {
		return t.Line, false
	}
	return t.Hz, true
}

// toneText is note, cents, frequency, and the share of the power that is in the
// tone's harmonics.
func toneText(r *reading) string {
	if !r.tone.Found {
		return "no tone"
	}
	hz, root := pitch(&r.tone)
	name, cents := meter.Note(hz)
	sure := "strongest line"
	if root {
		sure = fmt.Sprintf("%.0f %%", 100*r.tone.Share)
	}
	return fmt.Sprintf("%s %s ct  %s  %s", name, plus(cents), plate.ExactHertz(hz), sure)
}

func modulationText(name string, m meter.Modulation) string {
	if m.Hz == 0 {
		return ""
	}
	return fmt.Sprintf("%s %s %.0f %%", name, modulationHertz(m.Hz), 100*m.Depth)
}

func modulationHertz(hz float64) string {
	if hz < 9.995 {
		return fmt.Sprintf("%.2f Hz", hz)
	}
	return fmt.Sprintf("%.1f Hz", hz)
}

// envelopeText tells both modulations, or the deeper one where there is no room.
func envelopeText(r *reading, both bool) string {
	slow, fast := modulationText("fluctuation", r.envelope.Fluctuation), modulationText("roughness", r.envelope.Roughness)
	switch {
	case max(r.sides[0].ppm, r.sides[1].ppm) < meter.Quiet:
		return "–"
	case slow == "" && fast == "":
		return "steady"
	case fast == "" || slow != "" && !both && r.envelope.Fluctuation.Depth >= r.envelope.Roughness.Depth:
		return slow
	case slow == "" || !both:
		return fast
	}
	return slow + "  " + fast
}

// loudText is the loudness now and as a whole.
func (p *Plate) loudText(r *reading) string {
	return "I " + bare(r.loud.Integrated) + "  M " + bare(r.loud.Momentary) + "  S " + bare(r.loud.ShortTerm)
}

// sinceText tells from when on the loudness is measured, and over how long.
func (p *Plate) sinceText(r *reading) string {
	text := "since " + clock(p.since) + ", for " + clock(float64(r.measured)/p.gauges.rate)
	if r.lost > 0 {
		text += fmt.Sprintf(", %.1f s lost", float64(r.lost)/p.gauges.rate)
	}
	if p.set.paused {
		text += ", paused"
	}
	return text
}

// unit is what the target calls the scale.
func (p *Plate) unit() string {
	if lufs, _, _ := p.set.aim(); lufs == -24 {
		return "LKFS"
	}
	return "LUFS"
}

// integratedText is the loudness of the whole, and how far it is from the target.
func (p *Plate) integratedText(r *reading) string {
	text := "integrated " + bare(r.loud.Integrated) + " " + p.unit()
	if lufs, tolerance, none := p.set.aim(); !none && !math.IsInf(r.loud.Integrated, -1) {
		off := r.loud.Integrated - lufs
		text += " (" + plus(off) + " LU)"
		if math.Abs(off) <= tolerance+0.05 {
			text += " on target"
		}
	}
	return text
}

// rangeText is the loudness range with its ends.
func (p *Plate) rangeText(r *reading) string {
	if r.loud.Low == 0 {
		return "range –"
	}
	return "range " + bare(r.loud.Range) + " LU (" + bare(r.loud.Low) + " to " + bare(r.loud.High) + ")"
}

// mostShort is the highest short-term loudness; before the first 3 s are complete
// there is none, which is not silence.
func (p *Plate) mostShort(r *reading) string {
	if float64(r.measured) < 3*p.gauges.rate && math.IsInf(r.loud.MaxShortTerm, -1) {
		return "–"
	}
	return bare(r.loud.MaxShortTerm)
}

// Reading is plate.Plate's.
func (p *Plate) Reading() (one, two string) {
	if !p.source.connected() {
		return "there is nothing to be metered: put a probe on an output, or an output module on the sheet", ""
	}
	r := &p.shown
	one = p.integratedText(r) + plate.Between
	if !p.panel { // which tells it as well
		one += p.sinceText(r) + plate.Between
	}
	one += p.rangeText(r) + plate.Between + "max M " + bare(r.loud.MaxMomentary) + plate.Between + "max S " + p.mostShort(r)
	two = "highest: true peak " + p.pair(r, func(s *side) string { return bare(s.peakMost) }) + " dBTP" + plate.Between +
		"PPM " + p.pair(r, func(s *side) string { return p.ppmText(s.ppmMost) }) + plate.Between +
		"VU " + p.pair(r, func(s *side) string { return p.vuText(s.vuMost) })
	return one, two
}

// HintAt is plate.Hinter's.
func (p *Plate) HintAt(place string) string {
	switch place {
	case atPPM:
		return "IEC 60268-10 type IIa: 10 ms read 2 dB less, falls 24 dB in 2.8 s; 6: the most permitted; a click: anew"
	case atVU:
		return "IEC 60268-17, VU: the mean, 99 % in 300 ms; it shows no peaks; a click begins it anew"
	case atPeak:
		return "ITU-R BS.1770-5, dBTP: what lies between samples too; at most −1 (R 128); a click: anew"
	case atCorrelation:
		return "over 0.4 s: +1 alike, 0 nothing in common, −1 upside down (silent in mono); a click: anew"
	case atTuner:
		return "note, cents (ISO 16: A4 = 440 Hz), Hz, power in its harmonics, over 0.7 s; a click: anew"
	case atModulation:
		return "amplitude: fluctuation to 15 Hz, roughness above; most at 4, 70 Hz (Fastl and Zwicker)"
	case atLoudness:
		return "BS.1770-5, Tech 3341: M 0.4 s (dashed), S 3 s, I gated; range: Tech 3342; a click: anew; since: place in the pass"
	}
	return ""
}
