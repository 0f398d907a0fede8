package instruments

import (
	"fmt"

	"fyne.io/fyne/v2/driver/desktop"

	"lampblack/app/desk"
	"lampblack/app/sound"
	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
	"lampblack/app/window/plate"
	"lampblack/app/window/told"
)

// lowest is the left end of the meters and of the listening level, in dB.
const lowest = sound.MinLevel

// holdLimiter is for how many beats a reduction stays to be read.
const holdLimiter = 45

// levelsHeight returns how much room the meters take.
func (t *Panel) levelsHeight(p *leaf.Pen) float32 {
	lines := float32(0)
	if t.sound.Silent && p.Width > 0 {
		lines = float32(min(len(look.Emphasis.Wrap(t.sound.Reason, p.Width-p.Em*2.6)), 2) - 1)
	}
	return p.Em*(8.2+1.3*lines) + t.noticesHeight(p)
}

// noticesHeight returns how much room the notices about sound take.
func (t *Panel) noticesHeight(p *leaf.Pen) float32 {
	width := p.Width - p.Em*2.6
	return told.Height(t.session, desk.AtSound, width) + told.Height(t.session, desk.AtInstruments, width)
}

// beatLevels reads the loudspeaker and draws the meters anew.
func (t *Panel) beatLevels() {
	before := t.sound
	t.sound = t.session.Sound()
	if t.sound.Silent != before.Silent || t.sound.Reason != before.Reason {
		t.Refresh() // the reason takes room from the pictures
	}
	if t.sound.LimiterDB < -0.05 {
		t.limited = holdLimiter
	} else if t.limited > 0 {
		t.limited--
	}
	if t.levelText() != t.read {
		t.levels.Refresh()
	}
}

// Heard tells whether anything came out of the loudspeaker at the last beat.
func (t *Panel) Heard() bool { return t.sound.PeakDB > inaudible }

// inaudible is less than half a step of the device's 16 bits, in dBFS.
const inaudible = -96

// levelText is what the meters show, to see whether it has changed.
func (t *Panel) levelText() string {
	a, b := t.measure.meters[0].Reading(), t.measure.meters[1].Reading()
	return fmt.Sprintf("%.1f %.1f %.1f %.1f %.1f %.1f %d %v %v", a.Peak, a.RMS, a.Hold, b.Peak, b.RMS,
		t.sound.LevelDB, t.limited, t.sound.Silent, t.sound.Muted)
}

// scale is where a ruler in dB lies.
type scale struct{ x, width float32 }

func (s scale) at(db float64) float32 {
	return s.x + s.width*float32(min(max((db-lowest)/-lowest, 0), 1))
}

func (s scale) db(x float32) float64 { return lowest - lowest*float64((x-s.x)/s.width) }

func (t *Panel) writeLevels(p *leaf.Pen) {
	t.read = t.levelText()
	x := p.Em * 1.3
	s := scale{p.Em * 6.2, p.Width - p.Em*13.4}
	p.Level(x, 0, p.Width-2*x, p.Ink.Faint)
	for db := lowest; db <= 0; db += 12 {
		at := s.at(db)
		p.Upright(at, p.Em*1.35, p.Em*0.35, p.Ink.Line)
		if s.width > p.Em*13 || db == lowest || db == -24 || db == 0 {
			p.Middle(look.Small, at, p.Em*1.15, scaleLabel(db))
		}
	}
	p.Right(look.Small, p.Width-p.Em*3.9, p.Em*1.15, "peak")
	p.Right(look.Small, p.Width-x, p.Em*1.15, "RMS")
	for i := range channels {
		t.writeMeter(p, s, i, p.Em*(1.9+1.45*float32(i)))
	}
	t.writeListening(p, s, p.Em*5)
	y := p.Height - t.noticesHeight(p) - p.Em*0.3
	for _, place := range [...]desk.Place{desk.AtSound, desk.AtInstruments} {
		y = told.Notices(p, t.session, place, x, y, p.Width-2*x)
	}
}

func scaleLabel(db float64) string {
	if db == 0 {
		return "0 dB"
	}
	return look.Shown(plate.Number(db))
}

// writeMeter writes the level of a channel: a bar for the RMS, a line for the
// peak, a longer one for the highest of the last two seconds.
func (t *Panel) writeMeter(p *leaf.Pen, s scale, i int, y float32) {
	r := t.measure.meters[i].Reading()
	base := y + p.Em*0.95
	c, name := p.Ink.ProbeA, "A"
	if i == 1 {
		c, name = p.Ink.ProbeB, "B"
	}
	p.Text(look.Caps, p.Em*1.3, base, name)
	p.Level(s.x, y+p.Em*0.6, s.width, p.Ink.Faint)
	if !t.measure.connected[i] {
		p.Text(look.Quiet, p.Em*2.6, base, "nowhere")
		return
	}
	p.Box(s.x, y+p.Em*0.5, s.at(r.RMS)-s.x, p.Em*0.22, c, nil)
	if r.Peak > lowest {
		p.Box(s.at(r.Peak), y+p.Em*0.3, 1.5, p.Em*0.65, p.Ink.Drawn, nil)
	}
	if r.Hold > lowest {
		p.Box(s.at(r.Hold), y+p.Em*0.1, 1.5, p.Em*1.05, p.Ink.Drawn, nil)
	}
	p.Right(look.Figures, p.Width-p.Em*3.9, base, bare(r.Hold))
	p.Right(look.Figures, p.Width-p.Em*1.3, base, bare(r.RMS))
	if r.Clipped > 0 {
		place, _ := p.Word("over "+name, look.Quiet, p.Em*2.4, base, "over 0 dB")
		place.Tap = func() { // seen: it is told anew when it happens again
			t.measure.meters[i].Reset()
			t.levels.Refresh()
		}
	}
}

// bare is a level without its unit, which stands over the column.
func bare(db float64) string {
	text := plate.Level(db)
	return text[:len(text)-len(" dB")]
}

// writeListening writes the ruler of the listening level: how loud the
// loudspeaker is, apart from the take.
func (t *Panel) writeListening(p *leaf.Pen, s scale, y float32) {
	base := y + p.Em*0.95
	p.Text(look.Quiet, p.Em*1.3, base, "listening")
	p.Level(s.x, y+p.Em*0.9, s.width, p.Ink.Line)
	for db := lowest; db <= 0; db += 6 {
		tall := p.Em * 0.25
		if int(db)%12 == 0 {
			tall = p.Em * 0.45
		}
		p.Upright(s.at(db), y+p.Em*0.9-tall, tall, p.Ink.Line)
	}
	p.Box(s.at(t.sound.LevelDB)-1, y+p.Em*0.15, 2.5, p.Em*1.1, p.Ink.Drawn, nil)
	level := plate.Level(t.sound.LevelDB)
	if t.sound.LevelDB <= lowest {
		level = "silent"
	}
	p.Right(look.Figures, p.Width-p.Em*1.3, base, level)
	place := p.Place("listening", s.x-p.Em*0.5, y-p.Em*0.2, s.width+p.Em, p.Em*1.6)
	place.Cursor, place.Unmarked = desktop.HResizeCursor, true
	place.Step = func(n int) { t.listen(t.sound.LevelDB + float64(n)) }
	pull := func(x, _ float32) { t.listen(s.db(x)) }
	place.Down, place.Drag = pull, pull
	t.writeState(p, base+p.Em*1.4)
}

func (t *Panel) listen(db float64) {
	t.session.SetListening(min(max(roundTo(db, 0.5), sound.MinLevel), sound.MaxLevel))
	t.sound = t.session.Sound()
	t.levels.Refresh()
}

// writeState says what the loudspeaker does to the sound, or why it is silent.
func (t *Panel) writeState(p *leaf.Pen, base float32) {
	x, room := p.Em*1.3, p.Width-p.Em*2.6
	switch {
	case t.sound.Muted:
		place, end := p.Word("sound on", look.Body, x, base, "silenced: sound on again")
		place.Tap = func() { t.session.MuteOutput(false) }
		_ = end
	case t.sound.Silent:
		for i, line := range look.Emphasis.Wrap(t.sound.Reason, room) {
			if i < 2 {
				p.Text(look.Emphasis, x, base+p.Em*1.3*float32(i), line)
			}
		}
	case t.limited > 0:
		p.Fit(look.Emphasis, x, base, room, fmt.Sprintf("limiter at work: %s; lower the level or the listening", plate.Level(min(t.sound.LimiterDB, 0))))
	case t.sound.LevelDB > -12:
		p.Fit(look.Emphasis, x, base, room, "loud: mind your ears, take breaks; local rules for exposure apply")
	default:
		word := "silence (F12)"
		at := p.Width - p.Em*1.3 - p.Wide(look.Quiet, word)
		place, _ := p.Word("silence", look.Quiet, at, base, word)
		place.Tap = t.session.Panic
		p.Fit(look.Quiet, x, base, at-x-p.Em, "the listening level is not part of a take")
	}
}
