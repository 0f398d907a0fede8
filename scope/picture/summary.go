package picture

import (
	"fmt"
	"io"
	"time"

	"gonum.org/v1/plot/vg"

	"lampblack/scope"
)

// Take is what the summary of a take tells. Words that are empty are left out.
type Take struct {
	Job      string
	Cue      string // "1M4 Moths at the lamp"
	Timecode string
	Name     string // "Take 9"
	From     string // the take that it came from: "1M4/8"
	Star     bool
	Kept     time.Time // zero: it is not kept
	Note     string
	Tags     []string
	Modules  []Module
	Moving   []Movement // what its cords move; Now is where it ended
	Memory   string     // what plays it: "11 notes, 8.2 s a pass"
	Proof    string     // the SHA-256 of its samples in hexadecimal
	Program  string     // the version that kept it
}

// Module is a module in the table of a summary.
type Module struct {
	Name, Kind string
	Lines      []Line
}

// Line is a written value, or a cord that comes in.
type Line struct {
	Name  string // "centre", or for a cord "centre ← sway"
	Value string // "2.10 kHz", or the cord's depth
	Cord  bool
}

// MaxSummaryText is how large the words of a summary can be, as parts of their
// usual size, so that there is room for the pictures.
const MaxSummaryText = 1.2

// The sides of A4 in pixels: at 150 to an inch for a PNG, else at 96.
const (
	a4Short, a4Long       = 794, 1123
	a4ShortPNG, a4LongPNG = 1240, 1754
)

// Summary draws a take on one page: what it is called and why it was kept, its
// waveform, spectrogram (the louder of two channels), envelope and mean spectrum,
// what its cords move, its settings, and the beginning of the SHA-256 that proves
// it. A page that is
// wider than high has the words beside the pictures. Title and Aside of the
// options are not drawn.
func Summary(w io.Writer, t Take, s Sound, moves []Move, o Options) error {
	if err := s.checkSpectral(); err != nil {
		return err
	}
	if o.Text > MaxSummaryText {
		return fmt.Errorf("words are to be %g times as large as usual; on a summary there is room for %g; draw its pictures one by one; it was not drawn", o.Text, MaxSummaryText)
	}
	width, height := a4Short, a4Long
	if o.Format == PNG {
		width, height = a4ShortPNG, a4LongPNG
	}
	if o.Title == "" {
		o.Title = t.Cue // of the file
	}
	p, err := newPage(o, width, height)
	if err != nil {
		return err
	}
	margin := p.pt(34)
	r := p.whole()
	r.Min = r.Min.Add(vg.Point{X: margin, Y: margin * 0.7})
	r.Max = r.Max.Sub(vg.Point{X: margin, Y: margin * 0.9})
	r.Max.Y = p.masthead(r, t)
	r.Min.Y = p.imprint(r, t, s)
	if p.Width > p.Height {
		words, pictures := r, r
		words.Min.X = r.Min.X + 0.65*r.Size().X
		pictures.Max.X = words.Min.X - p.pt(22)
		words.Max.Y = p.note(words, t, 12)
		p.settings(words, t, p.fitting(words, t))
		pictures.Min.Y = p.moving(pictures, t, 0.3*pictures.Size().Y)
		p.pictures(pictures, s, moves)
		return p.finish(w)
	}
	r.Max.Y = p.note(r, t, 5)
	// The table takes what it needs; rather than take more than a third of the page
	// it is set smaller, and it never takes much more: the pictures come first.
	wanted, all := r, r.Size().Y
	wanted.Max.Y = r.Min.Y + 0.33*all
	table := p.fitting(wanted, t)
	if table.size < 7 {
		wanted.Max.Y = r.Min.Y + 0.37*all
		table = p.fitting(wanted, t)
	}
	wanted.Max.Y = r.Min.Y + table.height
	p.settings(wanted, t, table)
	r.Min.Y = wanted.Max.Y + p.pt(10)
	r.Min.Y = p.moving(r, t, min(0.2*all, r.Size().Y-0.46*all))
	p.pictures(r, s, moves)
	return p.finish(w)
}

// moving draws what the cords move at the foot of r, no higher than most if there
// is a row to draw, and returns where that begins.
func (p *page) moving(r vg.Rectangle, t Take, most vg.Length) vg.Length {
	if len(t.Moving) == 0 {
		return r.Min.Y
	}
	most = max(most, p.pt(partOfMoves.head()+2*partOfMoves.row+1))
	r.Max.Y = r.Min.Y + min(most, p.pt(partOfMoves.head()+1+partOfMoves.row*float64(len(t.Moving))))
	p.modulation(r, t.Moving, partOfMoves)
	return r.Max.Y + p.pt(6)
}

// masthead draws what the take is called and returns where it ends.
func (p *page) masthead(r vg.Rectangle, t Take) vg.Length {
	half := r.Size().X * 0.68
	base := r.Max.Y - p.pt(8)
	if t.Job != "" || !t.Kept.IsZero() {
		p.say(caps, 10, p.Ink.Quiet, r.Min.X, base, left, p.fit(caps, 10, t.Job, half))
		if !t.Kept.IsZero() {
			p.say(text, 9.5, p.Ink.Quiet, r.Max.X, base, right, "kept "+t.Kept.Format("2 January 2006, 15:04 MST"))
		}
		base -= p.pt(15)
	}
	base -= p.pt(10)
	p.say(caps, 20, p.Ink.Drawn, r.Min.X, base, left, p.fit(caps, 20, t.Cue, r.Size().X-p.wide(figures, 12, t.Timecode)-p.pt(20)))
	p.say(figures, 12, p.Ink.Drawn, r.Max.X, base, right, t.Timecode)
	base -= p.pt(18)
	x := r.Min.X
	x += p.say(semibold, 11, p.Ink.Drawn, x, base, left, p.fit(semibold, 11, t.Name, half/2))
	if t.Star {
		x += p.pt(5)
		x += p.say(text, 11, p.Ink.Drawn, x, base, left, "★")
	}
	if t.From != "" {
		p.say(text, 10, p.Ink.Quiet, x+p.pt(8), base, left, "from "+t.From)
	}
	tags := ""
	for i, tag := range t.Tags {
		if i > 0 {
			tags += "  ·  "
		}
		tags += tag
	}
	p.say(italic, 10, p.Ink.Quiet, r.Max.X, base, right, p.fit(italic, 10, tags, half))
	base -= p.pt(9)
	p.rule(r.Min.X, r.Max.X, base, p.Ink.Line)
	return base - p.pt(6)
}

// imprint draws the line at the foot of the page: what proves the take, and what
// its sound is. It returns where it begins.
func (p *page) imprint(r vg.Rectangle, t Take, s Sound) vg.Length {
	base := r.Min.Y
	peak, square := 0.0, 0.0
	for _, samples := range s.Channels {
		l := scope.Measure(samples)
		peak = max(peak, l.Peak)
		square = max(square, l.RMS)
	}
	sides := []string{"mono", "stereo"}[len(s.Channels)-1]
	facts := span(s.Seconds()) + "   " + number(float64(s.Rate)/1000, -1) + " kHz " + sides + "   peak " + level(peak) + "   rms " + level(square) + " dBFS"
	p.say(figures, 8.5, p.Ink.Drawn, r.Min.X, base, left, facts)
	x := r.Max.X
	if t.Program != "" {
		x -= p.say(text, 8, p.Ink.Quiet, x, base, right, "lampblack "+t.Program) + p.pt(14)
	}
	if t.Proof != "" {
		p.say(figures, 8.5, p.Ink.Drawn, x, base, right, "SHA-256 "+shortSum(t.Proof))
	}
	base += p.pt(14)
	p.rule(r.Min.X, r.Max.X, base, p.Ink.Line)
	return base + p.pt(8)
}

// shortSum writes the first sixteen digits of a sum in groups of four.
func shortSum(sum string) string {
	short := ""
	for i := 0; i+4 <= min(len(sum), 16); i += 4 {
		if i > 0 {
			short += " "
		}
		short += sum[i : i+4]
	}
	return short + " …"
}

// note draws the note and what plays the take, and returns where they end.
func (p *page) note(r vg.Rectangle, t Take, most int) vg.Length {
	const size = 10.5
	base := r.Max.Y - p.pt(8)
	if t.Note != "" {
		for _, line := range p.wrap(text, size, t.Note, min(r.Size().X, p.pt(480)), most) {
			p.say(text, size, p.Ink.Drawn, r.Min.X, base, left, line)
			base -= p.pt(size * 1.36)
		}
		base -= p.pt(3)
	}
	if t.Memory != "" {
		width := p.say(text, 8.5, p.Ink.Quiet, r.Min.X, base, left, "memory") + p.pt(6)
		p.say(figures, 8.5, p.Ink.Drawn, r.Min.X+width, base, left, p.fit(figures, 8.5, t.Memory, r.Size().X-width))
		base -= p.pt(10)
	}
	return base - p.pt(2)
}

// pictures draws waveform, spectrogram and envelope over one time axis, and the
// spectrum below them.
func (p *page) pictures(r vg.Rectangle, s Sound, moves []Move) {
	shares := []float64{0.17, 0.39, 0.19, 0.25}
	if len(s.Channels) == 2 {
		shares = []float64{0.24, 0.34, 0.18, 0.24}
	}
	gap := p.pt(4)
	height := r.Size().Y - 3*gap
	for i, share := range shares {
		part := r
		part.Min.Y = r.Max.Y - vg.Length(share)*height
		r.Max.Y = part.Min.Y - gap
		switch i {
		case 0:
			p.waveforms(part, s, false)
		case 1:
			p.spectrogram(part, s, moves, spectrogramLook{"Spectrogram", false, true})
		case 2:
			p.envelope(part, s, true)
		case 3:
			p.spectrum(part, s)
		}
	}
}
