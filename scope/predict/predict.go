package predict

import (
	"cmp"
	"math"
	"math/cmplx"
	"slices"

	"lampblack/patch"
)

// Conditions are what is played, and what is known of the moment.
type Conditions struct {
	Rate     float64 // samples a second; 0 is 48,000
	Pitch    float64 // of the note, in octaves, 0 = A4 = 440 Hz
	Velocity float64 // of the note, 0 to 1
	Held     bool    // whether its gate is up

	// After is how many seconds after the start of the note the envelopes are
	// looked at, or after its end if it is not held; 0: when they have settled.
	After float64

	// AnyPhase says that the oscillators have run on for so long that nothing tells
	// how they stand to each other, as on the bench while one plays. Otherwise all
	// count from the first sample of a render.
	AnyPhase bool

	// Levels are outputs whose voltage is known from elsewhere: measured now, for
	// what can't be predicted. They count as standing still.
	Levels map[patch.Socket]float64
}

func (c *Conditions) gate() float64 {
	if c.Held {
		return 1
	}
	return 0
}

// Prediction is what a socket should give once the sound has settled.
type Prediction struct {
	Lines []Line // from the strongest to the weakest

	// Density is the power of all noise in a Hz at a frequency, averaged over time;
	// nil if there is no noise. An even spectrum of an RMS of 1 has 2/rate.
	Density func(hz float64) float64
	Thirds  []Third // the same in thirds of an octave; nil without noise

	// Why says, one sentence each, what else is heard that can't be predicted.
	// With Why the rest is only a part of the sound.
	Why []string

	Moving []Movement // controls on the way that move slowly, or with the note
	Within float64    // by how many dB a line may differ from the sound, if Why is empty
	Down   float64    // down to how many dB under the strongest line that holds
	Up     float64    // and up to how many Hz
}

// Line is one line of a spectrum.
type Line struct {
	Hz        float64
	Amplitude float64 // of the peak; at 0 Hz the voltage, with its sign
	Phase     float64 // in degrees at sample 0, -180 to 180: a sine has -90, a cosine 0
	Level     float64 // 20 log10 |Amplitude|

	// Least and Most are Amplitude unless several parts meet here whose phases
	// nothing tells. Then Amplitude adds their powers.
	Least, Most float64

	Name      string // of which tones it is a sum or a difference: "bronze + 2 x clapper"
	Formula   string // where its amplitude comes from, with the numbers in it: "J1(1.2) = 0.4983"
	Meets     int    // how many lines have met here, less 1
	Reflected bool   // come back at 0 Hz, with its sign turned
	Folded    bool   // come back at half the rate
}

// Predict works out what an output gives. Kinds and settings are taken from p as
// they are written; p should be valid.
func Predict(p patch.Patch, at patch.Socket, c Conditions) Prediction {
	w := newWalk(p, c)
	s := w.output(at)
	out := Prediction{Lines: w.report(s.lines), Why: distinct(s.why), Moving: w.moving, Within: w.claimed, Down: w.down, Up: w.up}
	if len(s.hiss) > 0 {
		hiss, rate := s.hiss, w.rate
		out.Density = func(hz float64) float64 { return density(hiss, hz, rate) }
		out.Thirds = thirds(out.Density, rate)
	}
	return out
}

// Heard returns the sockets that are heard: the left and right of every output
// module. What is heard is their sum.
func Heard(p patch.Patch) (left, right []patch.Socket) {
	for _, m := range p.Modules {
		if m.Kind == "output" {
			left = append(left, patch.Socket{Module: m.Name, Name: "left"})
			right = append(right, patch.Socket{Module: m.Name, Name: "right"})
		}
	}
	return left, right
}

func distinct(all []string) []string {
	var out []string
	for _, s := range all {
		if !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	return out
}

// report turns lines, which are in the order of their frequencies, into what is
// told of them.
func (w *walk) report(lines []line) []Line {
	var out []Line
	for i := 0; i < len(lines); {
		j := i + 1
		for j < len(lines) && lines[j].hz-lines[i].hz <= same {
			j++
		}
		out = append(out, w.lineOf(lines[i:j]))
		i = j
	}
	slices.SortStableFunc(out, func(a, b Line) int { return cmp.Compare(b.Level, a.Level) })
	return out
}

// lineOf tells of lines of one frequency whose phases are not tied.
func (w *walk) lineOf(parts []line) Line {
	strongest, sum, power := parts[0], 0.0, 0.0
	met := len(parts) - 1
	for _, p := range parts {
		a := cmplx.Abs(p.a)
		sum += a
		power += a * a
		met += p.met
		if a > cmplx.Abs(strongest.a) {
			strongest = p
		}
	}
	most := cmplx.Abs(strongest.a)
	l := Line{Hz: strongest.hz, Amplitude: math.Sqrt(power), Least: math.Max(2*most-sum, 0), Most: sum,
		Phase: cmplx.Phase(strongest.a) * 180 / math.Pi, Name: w.name(strongest.order), Meets: met,
		Reflected: strongest.bent&reflected != 0, Folded: strongest.bent&folded != 0}
	l.Level = 20 * math.Log10(l.Amplitude)
	if strongest.how != nil {
		l.Formula = strongest.how()
	}
	if len(parts) == 1 && strongest.turn == 0 && (l.Hz < same || l.Hz > w.rate/2-same) {
		l.Amplitude = real(strongest.a)
		l.Least, l.Most = l.Amplitude, l.Amplitude
	} else if l.Hz < same {
		l.Least, l.Most = -sum, sum // any phase of a line at 0 Hz
	}
	return l
}
