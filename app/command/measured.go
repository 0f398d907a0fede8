package command

import (
	"fmt"
	"math"
	"strings"

	"lampblack/patch"
	"lampblack/scope/meter"
)

const measureKeys = `With --json: file, format, seconds, rate (Hz), channels, bits (null for MP3 and
Ogg Vorbis), float, ends_early, loudness {integrated, short_term_max,
momentary_max (LUFS), range (LU)}, true_peak (dBTP), each [{channel, peak,
true_peak, rms, ppm_max (dBFS), ppm_mark, vu_max (VU), crest (dB), offset (1 =
full scale), full_scale, no_sound (samples)}], correlation {all, lowest, balance
(dB, right re left)}, silence {start, end (s), below (dBFS)}, tone {hz, note,
cents, share (0 to 1), line (Hz), level (dBFS), thdn (dB), at, seconds,
channel}, fluctuation {hz, depth (1 = 100 %)}, roughness. What there is not (the
level of silence, a tone in noise) is null.`

type measuredJSON struct {
	File        string           `json:"file"`
	Format      string           `json:"format"`
	Seconds     float64          `json:"seconds"`
	Rate        int              `json:"rate"`
	Channels    int              `json:"channels"`
	Bits        *int             `json:"bits"`
	Float       bool             `json:"float"`
	EndsEarly   bool             `json:"ends_early"`
	Loudness    loudnessJSON     `json:"loudness"`
	TruePeak    *float64         `json:"true_peak"`
	Each        []channelJSON    `json:"each"`
	Correlation *correlationJSON `json:"correlation"`
	Silence     silenceJSON      `json:"silence"`
	Tone        *toneJSON        `json:"tone"`
	Fluctuation *movementJSON    `json:"fluctuation"`
	Roughness   *movementJSON    `json:"roughness"`
}

type loudnessJSON struct {
	Integrated   *float64 `json:"integrated"`
	ShortTermMax *float64 `json:"short_term_max"`
	MomentaryMax *float64 `json:"momentary_max"`
	Range        float64  `json:"range"`
}

type channelJSON struct {
	Channel   string   `json:"channel"`
	Peak      *float64 `json:"peak"`
	TruePeak  *float64 `json:"true_peak"`
	RMS       *float64 `json:"rms"`
	PPMMax    *float64 `json:"ppm_max"`
	PPMMark   *float64 `json:"ppm_mark"`
	VUMax     *float64 `json:"vu_max"`
	Crest     float64  `json:"crest"`
	Offset    float64  `json:"offset"`
	FullScale int64    `json:"full_scale"`
	NoSound   int64    `json:"no_sound"`
}

type correlationJSON struct {
	All     float64  `json:"all"`
	Lowest  float64  `json:"lowest"`
	Balance *float64 `json:"balance"`
}

type silenceJSON struct {
	Start float64 `json:"start"`
	End   float64 `json:"end"`
	Below float64 `json:"below"`
}

type toneJSON struct {
	Hz      float64 `json:"hz"`
	Note    string  `json:"note"`
	Cents   float64 `json:"cents"`
	Share   float64 `json:"share"`
	Line    float64 `json:"line"`
	Level   float64 `json:"level"`
	THDN    float64 `json:"thdn"`
	At      float64 `json:"at"`
	Seconds float64 `json:"seconds"`
	Channel string  `json:"channel"`
}

type movementJSON struct {
	Hz    float64 `json:"hz"`
	Depth float64 `json:"depth"`
}

func newMeasuredJSON(m measured) measuredJSON {
	j := measuredJSON{
		File: m.name, Format: m.info.Format.String(), Seconds: m.info.Seconds, Rate: m.info.Rate,
		Channels: m.info.Channels, Float: m.info.Float, EndsEarly: m.info.Truncated,
		Loudness: loudnessJSON{
			numberOf(m.Loudness.Integrated), numberOf(m.Loudness.MaxShortTerm), numberOf(m.Loudness.MaxMomentary), m.Loudness.Range,
		},
		TruePeak: numberOf(m.truePeak()), Fluctuation: newMovementJSON(m.Envelope.Fluctuation), Roughness: newMovementJSON(m.Envelope.Roughness),
	}
	if m.info.Bits > 0 {
		j.Bits = &m.info.Bits
	}
	j.Silence.Start, j.Silence.End = m.silence()
	j.Silence.Below = meter.Quiet
	for i, c := range m.Channels {
		j.Each = append(j.Each, channelJSON{
			m.channel(i), numberOf(c.Peak), numberOf(c.TruePeak), numberOf(c.RMS), numberOf(c.PPMMax),
			numberOf(meter.PPMMark(c.PPMMax)), numberOf(meter.VU(c.VUMax)), c.Crest, c.Offset, c.Full, c.Broken,
		})
	}
	if c := m.Correlation; c != nil {
		j.Correlation = &correlationJSON{c.All, c.Lowest, numberOf(c.Balance)}
	}
	if t := m.Tone; t.Found {
		note, cents := meter.Note(t.Hz)
		j.Tone = &toneJSON{t.Hz, note, cents, t.Share, t.Line, t.Level, max(t.THDN, -300), t.At, t.Seconds, m.channel(t.Channel)}
	}
	return j
}

func newMovementJSON(m meter.Modulation) *movementJSON {
	if m.Hz == 0 {
		return nil
	}
	return &movementJSON{m.Hz, m.Depth}
}

// channel names a channel by its place.
func (m *measured) channel(i int) string {
	names := [...][]string{
		{"mono"}, {"left", "right"}, {"left", "right", "centre"}, {"left", "right", "left surr.", "right surr."},
		{"left", "right", "centre", "left surr.", "right surr."},
		{"left", "right", "centre", "low freq.", "left surr.", "right surr."},
	}
	return names[len(m.Channels)-1][i]
}

func (m *measured) truePeak() float64 {
	highest := math.Inf(-1)
	for _, c := range m.Channels {
		highest = max(highest, c.TruePeak)
	}
	return highest
}

// silence returns how long it is before and after the sound, in seconds; a silent
// file is all before.
func (m *measured) silence() (start, end float64) {
	rate := float64(m.info.Rate)
	if m.After == 0 {
		return float64(m.Frames) / rate, 0
	}
	return float64(m.First) / rate, float64(m.Frames-m.After) / rate
}

// printMeasured prints a table for people.
func (s *session) printMeasured(m measured) {
	name := m.name
	if name == "-" {
		name = "standard input"
	}
	form := fmt.Sprintf("%d bits", m.info.Bits)
	switch {
	case m.info.Bits == 0:
		form = "compressed with loss"
	case m.info.Float:
		form = fmt.Sprintf("%d-bit float", m.info.Bits)
	}
	fmt.Fprintf(s.text, "%s: %.3f s, %s, %s, %s, %s\n", name, m.info.Seconds, patch.FormatValue(float64(m.info.Rate), "Hz"), counted(m.info.Channels, "channel"), m.info.Format, form)
	row := func(name, format string, a ...any) {
		fmt.Fprintf(s.text, "  %-22s%s\n", name, strings.TrimRight(fmt.Sprintf(format, a...), " "))
	}
	fmt.Fprint(s.text, "\nLoudness\n")
	l := m.Loudness
	row("integrated", "%s LUFS", levelWords(l.Integrated, 1))
	row("highest short-term", "%s LUFS  in 3 s", levelWords(l.MaxShortTerm, 1))
	row("highest momentary", "%s LUFS  in 0.4 s", levelWords(l.MaxMomentary, 1))
	row("range", "%11.1f LU", l.Range)
	row("true peak", "%s dBTP", levelWords(m.truePeak(), 1))
	s.printLevels(m)
	if c := m.Correlation; c != nil {
		fmt.Fprint(s.text, "\nStereo\n")
		row("correlation", "%+11.2f", c.All)
		row("lowest correlation", "%+11.2f       in 0.4 s", c.Lowest)
		row("right re left", "%s dB", levelWords(c.Balance, 1))
	}
	start, end := m.silence()
	fmt.Fprintf(s.text, "\nSilence below %g dBFS\n", meter.Quiet)
	row("at the start", "%11.3f s", start)
	row("at the end", "%11.3f s", end)
	s.printTone(m, row)
	fmt.Fprint(s.text, "\nMovement of the amplitude\n")
	row("fluctuation", "%s", movementWords(m.Envelope.Fluctuation))
	row("roughness", "%s", movementWords(m.Envelope.Roughness))
}

// printLevels prints a column for each channel.
func (s *session) printLevels(m measured) {
	row := func(name, unit string, cell func(meter.ChannelReading) string) {
		var b strings.Builder
		for _, c := range m.Channels {
			fmt.Fprintf(&b, "%11s", cell(c))
		}
		fmt.Fprintf(s.text, "  %-22s%s %s\n", name, &b, unit)
	}
	var names strings.Builder
	for i := range m.Channels {
		fmt.Fprintf(&names, "%11s", m.channel(i))
	}
	fmt.Fprintf(s.text, "\n%-24s%s\n", "Levels", names.String())
	row("sample peak", "dBFS", func(c meter.ChannelReading) string { return levelWords(c.Peak, 2) })
	row("true peak", "dBTP", func(c meter.ChannelReading) string { return levelWords(c.TruePeak, 2) })
	row("RMS", "dBFS", func(c meter.ChannelReading) string { return levelWords(c.RMS, 2) })
	row("crest factor", "dB", func(c meter.ChannelReading) string { return fmt.Sprintf("%.2f", c.Crest) })
	row("PPM, highest", "dBFS", func(c meter.ChannelReading) string { return levelWords(c.PPMMax, 1) })
	row("", "(mark, type IIa)", func(c meter.ChannelReading) string { return markWords(c.PPMMax) })
	row("VU, highest", "VU", func(c meter.ChannelReading) string { return levelWords(meter.VU(c.VUMax), 1) })
	row("offset", "% of full scale", func(c meter.ChannelReading) string { return fmt.Sprintf("%.4f", 100*c.Offset) })
	row("at full scale", "samples", func(c meter.ChannelReading) string { return fmt.Sprint(c.Full) })
}

func (s *session) printTone(m measured, row func(name, format string, a ...any)) {
	t := m.Tone
	if !t.Found {
		fmt.Fprint(s.text, "\nTone\n")
		row("pitch", "%11s", "none")
		return
	}
	note, cents := meter.Note(t.Hz)
	fmt.Fprintf(s.text, "\nTone, strongest (%s, %.2f s from %.2f s on)\n", m.channel(t.Channel), t.Seconds, t.At)
	row("pitch", "%11.3f Hz    %s %+.2f cents", t.Hz, note, cents)
	row("in its harmonics", "%11.1f %%     of the power", 100*t.Share)
	row("strongest line", "%11.2f dBFS  at %.3f Hz", t.Level, t.Line)
	row("THD+N", "%11.1f dB    %.3g %%", max(t.THDN, -300), 100*math.Pow(10, t.THDN/20))
}

// levelWords tells a level with so many decimals, in a column of 11.
func levelWords(x float64, decimals int) string {
	if math.IsInf(x, 0) {
		return fmt.Sprintf("%11s", "none")
	}
	if text := fmt.Sprintf("%.*f", decimals, x); strings.Trim(text, "-0.") == "" {
		x = 0 // no minus before nothing
	}
	return fmt.Sprintf("%11.*f", decimals, x)
}

// markWords tells where the needle of a PPM stood, whose scale is 1 to 7.
func markWords(dBFS float64) string {
	switch mark := meter.PPMMark(dBFS); {
	case mark < 1:
		return "below 1"
	case mark > 7:
		return "above 7"
	default:
		return levelWords(mark, 1)
	}
}

func movementWords(m meter.Modulation) string {
	if m.Hz == 0 {
		return fmt.Sprintf("%11s", "none")
	}
	return fmt.Sprintf("%11.2f Hz    %.1f %% deep", m.Hz, 100*m.Depth)
}

// numberOf is x for JSON, which has no infinity: the level of silence is nil.
func numberOf(x float64) *float64 { return finite(x, true) }
