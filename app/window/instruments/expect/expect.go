// Package expect lays what theory expects at an output beside what is measured
// there.
//
//	Prediction -> Rows (names, levels, formulas)
//	samples    -> Meter: every expected line by least squares  -> Rows, what is left
//
// A line is measured without using its predicted level: the prediction only says
// near which frequency to look. It knows no toolkit, no session and no sound.
//
// Held by tests: lines made by hand, down to -100 dB and as near to each other as
// two bins, are read within 0.001 dB and 0.001 Hz; frequency modulation reads the
// Bessel values of Abramowitz and Stegun.
package expect

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"lampblack/scope"
	"lampblack/scope/predict"
)

// Row is one line, or one third-octave band of noise, of the table.
type Row struct {
	Name    string
	Formula string  // where the level comes from, with its numbers
	Note    string  // what became of the line on the way: "reflected at 0 Hz"
	Hz      float64 // expected; of a band its exact middle
	Level   float64 // expected, dBFS: of a line that of its peak, of a band its RMS (1 is 0)
	// Least and Most are Level unless phases that nothing tells decide.
	Least, Most float64
	Band        bool // a third of an octave of noise

	Reading
}

// Told is what can be said of a row's measurement.
type Told int

// What can be said.
const (
	NotYet  Told = iota // nothing was measured
	Read                // Reading holds figures
	TooNear             // it can't be told apart from a neighbour
	TooWeak             // it lies too far under the strongest to be looked for
	Unclear             // what else is there is nearly as strong
)

// Reading is what was measured of a row.
type Reading struct {
	Told    Told
	FoundHz float64
	Found   float64 // dBFS, as Row.Level
	Stray   float64 // by how many dB what else is there may have moved Found
	Needs   float64 // TooNear: how many seconds of signal would part the two
}

// most is how many lines are held against the sound: from the strongest on.
const most = 320

// Deepest is how far under the strongest line lines are looked for, in dB.
const Deepest = 130

// Rows returns what is to be laid beside the sound: lines from the strongest to
// the weakest, then the bands of noise in the order of frequency.
func Rows(p predict.Prediction) []Row {
	var rows []Row
	for _, l := range p.Lines {
		if len(rows) == most || l.Level < p.Lines[0].Level-Deepest || !(l.Level > scope.Floor) {
			break
		}
		rows = append(rows, Row{Name: l.Name, Note: noteOf(l), Formula: l.Formula, Hz: l.Hz, Level: l.Level, Least: level(l.Least, l), Most: level(l.Most, l)})
	}
	for _, t := range p.Thirds {
		if t.Hz < 25*0.99 || t.Hz > 20000*1.01 || t.Level < -150 {
			continue
		}
		rows = append(rows, band(t, p))
	}
	return rows
}

// level is the level of an end of the range in which a line lies.
func level(amplitude float64, l predict.Line) float64 {
	if l.Least == l.Most {
		return l.Level
	}
	return max(scope.DB(amplitude), scope.Floor)
}

// noteOf tells what became of a line on its way.
func noteOf(l predict.Line) string {
	var notes []string
	if l.Reflected {
		notes = append(notes, "reflected at 0 Hz")
	}
	if l.Folded {
		notes = append(notes, "folded at half the rate")
	}
	if l.Meets > 0 {
		notes = append(notes, fmt.Sprintf("%d lines meet", l.Meets+1))
	}
	return strings.Join(notes, ", ")
}

// band is the row of a third of an octave: its noise and the lines in it.
func band(t predict.Third, p predict.Prediction) Row {
	noise := math.Pow(10, t.Level/10)
	power := noise
	low, high := t.Hz*math.Pow(10, -0.05), t.Hz*math.Pow(10, 0.05)
	for _, l := range p.Lines {
		if l.Hz >= low && l.Hz < high {
			power += l.Amplitude * l.Amplitude / 2
		}
	}
	db := 10 * math.Log10(power)
	formula := fmt.Sprintf("%.1f dB in 1 Hz x %.4g Hz = %.2f dB", 10*math.Log10(p.Density(t.Hz)), high-low, t.Level)
	if power > noise*(1+1e-9) {
		formula += fmt.Sprintf("; with the lines in it %.2f dB", db)
	}
	return Row{Name: "third octave at " + nominal(t.Hz).String(), Formula: formula, Hz: t.Hz, Level: db, Least: db, Most: db, Band: true}
}

// Bands returns what a spectrum in thirds of an octave should show, dBFS: a
// full-scale sine is 0, and noise stands 3.01 dB above its RMS.
func Bands(p predict.Prediction) [scope.Bands]float64 {
	var power, db [scope.Bands]float64
	add := func(hz, square float64) {
		if at := int(nominal(hz) - scope.Band25Hz); hz > 0 && at >= 0 && at < scope.Bands {
			power[at] += square
		}
	}
	for _, l := range p.Lines {
		add(l.Hz, l.Amplitude*l.Amplitude)
	}
	for _, t := range p.Thirds {
		add(t.Hz, 2*math.Pow(10, t.Level/10))
	}
	for i := range db {
		db[i] = max(10*math.Log10(power[i]), scope.Floor)
	}
	return db
}

// nominal is the band that a mid-band frequency belongs to.
func nominal(hz float64) scope.Band { return scope.Band(math.Round(10 * math.Log10(hz/1000))) }

// Open tells whether phases that nothing tells decide over the level.
func (r *Row) Open() bool { return r.Most-r.Least > 1e-6 }

// OffLevel is how far the sound lies from what was expected, in dB: of a row whose
// phases nothing tells, how far outside of what is possible.
func (r *Row) OffLevel() float64 {
	switch {
	case r.Told != Read:
		return math.NaN()
	case !r.Open():
		return r.Found - r.Level
	case r.Found > r.Most:
		return r.Found - r.Most
	case r.Found < r.Least:
		return r.Found - r.Least
	}
	return 0
}

// OffHz is how far the line lies from where it was expected, NaN of a band or of
// what stands still.
func (r *Row) OffHz() float64 {
	if r.Told != Read || r.Band || r.Hz == 0 {
		return math.NaN()
	}
	return r.FoundHz - r.Hz
}

// ReadBands measures the bands among the rows from a spectrum of a signal at rate,
// that holds seconds of it.
func ReadBands(rows []Row, s *scope.Spectrum, rate, seconds float64) {
	if taken, _ := s.Taken(); taken == 0 {
		return
	}
	var levels [scope.Bands]float64
	s.ThirdOctaves(levels[:], rate, scope.Band25Hz)
	for i := range rows {
		r := &rows[i]
		if !r.Band {
			continue
		}
		at := int(nominal(r.Hz) - scope.Band25Hz)
		if at < 0 || at >= scope.Bands {
			continue
		}
		low, high := nominal(r.Hz).Edges()
		r.Told, r.FoundHz = Read, r.Hz
		r.Found = levels[at] - 10*math.Log10(2) // a spectrum's 0 dB is a sine, whose RMS is 3.01 dB less
		// The power of noise of width B over a time T strays by 1/sqrt(B T).
		// Source: Bendat and Piersol, Random Data, error of a mean square value.
		r.Stray = 10 / math.Ln10 / math.Sqrt(max((high-low)*seconds, 1))
	}
}

// Nearest returns the row for which far is the least; -1 without rows.
func Nearest(rows []Row, far func(r *Row) float64) int {
	if len(rows) == 0 {
		return -1
	}
	best := 0
	for i := range rows {
		if far(&rows[i]) < far(&rows[best]) {
			best = i
		}
	}
	return best
}

// Worst returns the rows' largest differences, of those that were read and lie at
// least floor (dBFS) high.
func Worst(rows []Row, floor float64) (db, hz float64, lines int) {
	for i := range rows {
		r := &rows[i]
		if r.Told != Read || r.Level < floor {
			continue
		}
		lines++
		db = max(db, math.Abs(r.OffLevel()))
		if off := r.OffHz(); !math.IsNaN(off) {
			hz = max(hz, math.Abs(off))
		}
	}
	return db, hz, lines
}

// byHz returns the places of the lines among rows in the order of frequency.
func byHz(rows []Row) []int {
	var at []int
	for i := range rows {
		if !rows[i].Band {
			at = append(at, i)
		}
	}
	slices.SortStableFunc(at, func(a, b int) int {
		switch {
		case rows[a].Hz < rows[b].Hz:
			return -1
		case rows[a].Hz > rows[b].Hz:
			return 1
		}
		return 0
	})
	return at
}
