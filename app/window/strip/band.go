package strip

import (
	"fmt"
	"math"

	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
	"lampblack/patch/memory"
)

// band is the ruler of pitches under the paper.
type band struct {
	x, y, width, height float32
	low                 int // semitones from A4 at the left end
	semitones           int
}

// The band spans C2 to C7, in semitones from A4.
const bandLow, bandHigh = -33, 27

// at returns the semitone whose step lies at x.
func (b band) at(x float32) int {
	i := int(math.Floor(float64((x - b.x) / b.width * float32(b.semitones+1))))
	return b.low + min(max(i, 0), b.semitones)
}

// middle returns where a pitch in octaves lies.
func (b band) middle(octaves float64) float32 {
	return b.x + (float32(octaves*12)-float32(b.low)+0.5)/float32(b.semitones+1)*b.width
}

// velocity returns how hard a point of the band plays: soft at its lower edge,
// full at its upper one.
func (b band) velocity(y float32) float64 {
	return min(max(1-0.8*float64((y-b.y)/b.height), 0.2), 1)
}

func (t *Strip) writeBand(p *leaf.Pen, x, y, width float32) band {
	b := band{x: x, y: y, width: width, height: p.Em * 2, low: bandLow, semitones: bandHigh - bandLow}
	p.Right(look.Small, x-p.Em*0.5, y+p.Em*0.75, "loud")
	p.Right(look.Small, x-p.Em*0.5, y+p.Em*1.9, "soft")
	foot := y + b.height
	p.Level(x, foot, width, p.Ink.Line)
	for s := bandLow; s <= bandHigh; s++ {
		at := b.middle(float64(s) / 12)
		switch {
		case mod12(s-3) == 0: // C
			p.Upright(at, foot-p.Em*0.9, p.Em*0.9, p.Ink.Line)
			p.Middle(look.Small, at, foot-p.Em*1.05, memory.PitchName(float64(s)/12))
		case s == 0:
			p.Upright(at, foot-p.Em*0.9, p.Em*0.9, p.Ink.Drawn)
			p.Middle(look.Small, at, foot-p.Em*1.05, "A4")
		case natural(s):
			p.Upright(at, foot-p.Em*0.6, p.Em*0.6, p.Ink.Line)
		default:
			p.Upright(at, foot-p.Em*0.3, p.Em*0.3, p.Ink.Line)
		}
	}
	for _, pitch := range t.pitches() {
		if at := b.middle(pitch); at >= x && at <= x+width {
			p.Box(at-1, y, 2.5, b.height, p.Ink.Drawn, nil)
		}
	}
	t.placeBand(p, b)
	return b
}

func (t *Strip) placeBand(p *leaf.Pen, b band) {
	place := p.Place("band", b.x, b.y, b.width, b.height)
	place.Unmarked, place.Unlisted = true, true
	play := func(x, y float32) { t.hands.Touch(float64(b.at(x))/12, b.velocity(y)) }
	place.Down, place.Drag, place.Up = play, play, t.hands.Lift
}

// natural tells whether a semitone from A4 has a name without a sharp.
func natural(s int) bool {
	switch mod12(s) {
	case 0, 2, 3, 5, 7, 8, 10: // A B C D E F G
		return true
	}
	return false
}

func mod12(s int) int { return ((s % 12) + 12) % 12 }

// pitches returns what sounds: the keys held, and the note that the memory
// plays now.
func (t *Strip) pitches() []float64 {
	pitches := t.hands.Pitches()
	if !t.session.Playing() {
		return pitches
	}
	now := t.session.Position()
	for _, n := range t.memory().Notes {
		if !n.Rest && now >= n.At && now < n.At+n.For {
			pitches = append(pitches, n.Pitch)
		}
	}
	return pitches
}

func (t *Strip) sounding() string { return fmt.Sprint(t.pitches()) }
