package meters

import (
	"fmt"
	"math"

	"lampblack/app/desk"
	"lampblack/app/window/plate"
	"lampblack/scope/meter"
)

// of is what is metered.
type of int

const (
	ofOutput of = iota
	ofA
	ofB
	ofBoth
	ofAll // how many there are
)

func (o of) String() string { return [...]string{"output", "A", "B", "A and B"}[o] }

// channels is how many there are of it.
func (o of) channels() int {
	if o == ofA || o == ofB {
		return 1
	}
	return 2
}

// probes are those that are metered, in the order of the channels.
func (o of) probes() []desk.ProbeID {
	switch o {
	case ofA:
		return []desk.ProbeID{desk.ProbeA}
	case ofB:
		return []desk.ProbeID{desk.ProbeB}
	case ofBoth:
		return []desk.ProbeID{desk.ProbeA, desk.ProbeB}
	}
	return nil
}

// The European and the North American target; both call the same scale by another
// name. Sources: EBU R 128, 2014 (0.5 LU where it can't be met exactly); ATSC A/85.
var targets = []struct {
	name      string
	lufs      float64
	tolerance float64
}{
	{"−23 LUFS", -23, 0.5},
	{"−24 LKFS", -24, 2},
	{"none", 0, 0},
}

// switches are the settings.
type switches struct {
	of        of
	anew      bool    // the loudness is begun anew when playing starts
	paused    bool    // it stands still
	target    int     // of targets
	hold      float64 // s of true peak
	alignment float64 // dBFS of PPM 4 and 0 VU
	first     int     // of the rulers, where there is no room for all
}

func usual() switches { return switches{hold: 3, alignment: meter.Alignment} }

// aim is the target; none tells that there is none.
func (s *switches) aim() (lufs, tolerance float64, none bool) {
	t := targets[s.target]
	return t.lufs, t.tolerance, t.lufs == 0
}

// around turns i by n within a list of that many.
func around(i, n, count int) int { return ((i+n)%count + count) % count }

// Settings is plate.Plate's.
func (p *Plate) Settings() []plate.Setting {
	all := []plate.Setting{
		p.ofSetting(), p.anewSetting(), p.beginSetting(), p.pauseSetting(), p.targetSetting(),
		p.holdSetting(), p.alignmentSetting(), p.freeze(),
	}
	if p.crowded {
		all = append(all, p.firstSetting())
	}
	return all
}

func (p *Plate) firstSetting() plate.Setting {
	list := p.rulers(false)
	step := func(n int) { p.set.first = around(p.set.first, n, len(list)) }
	return plate.Setting{Name: "first", Text: list[0].name, Tap: func() { step(1) }, Step: step,
		Hint: "the first of the meters: there is no room for all of them"}
}

func (p *Plate) ofSetting() plate.Setting {
	step := func(n int) {
		p.set.of = of(around(int(p.set.of), n, int(ofAll)))
		p.renew()
	}
	return plate.Setting{Name: "of", Text: p.set.of.String(), Tap: func() { step(1) }, Step: step,
		Hint: "the output before listening level and limiter, or probes (A and B: as left and right)"}
}

func (p *Plate) anewSetting() plate.Setting {
	text := "by hand"
	if p.set.anew {
		text = "with playing"
	}
	step := func(int) { p.set.anew = !p.set.anew }
	return plate.Setting{Name: "begins", Text: text, Tap: func() { step(1) }, Step: step,
		Hint: "by hand, or integrated loudness and range begin anew whenever playing starts"}
}

func (p *Plate) beginSetting() plate.Setting {
	return plate.Setting{Name: "integrated", Text: "begin anew", Tap: p.begin,
		Hint: "forget integrated loudness, range and chart, and measure from now on"}
}

func (p *Plate) pauseSetting() plate.Setting {
	text := "goes on"
	if p.set.paused {
		text = "paused"
	}
	step := func(int) {
		p.set.paused = !p.set.paused
		p.gauges.paused = p.set.paused
	}
	return plate.Setting{Name: "counting", Text: text, Tap: func() { step(1) }, Step: step,
		Hint: "paused, nothing is added to the loudness; hidden, it goes on counting"}
}

func (p *Plate) targetSetting() plate.Setting {
	step := func(n int) { p.set.target = around(p.set.target, n, len(targets)) }
	hint := "no target: no line on the ruler"
	if lufs, tolerance, none := p.set.aim(); !none {
		from := "EBU R 128"
		if lufs == -24 {
			from = "ATSC A/85"
		}
		hint = fmt.Sprintf("the whole is to read %s, within %s LU (%s)", targets[p.set.target].name, plate.Number(tolerance), from)
	}
	return plate.Setting{Name: "target", Text: targets[p.set.target].name, Tap: func() { step(1) }, Step: step, Hint: hint}
}

// holds are for how long, in s, the highest true peak stays.
var holds = []float64{1, 3, 10, 30, math.Inf(1)}

func (p *Plate) holdSetting() plate.Setting {
	text := "for ever"
	if !math.IsInf(p.set.hold, 1) {
		text = plate.Number(p.set.hold) + " s"
	}
	set := func(v float64) { p.set.hold, p.gauges.hold = v, v }
	step := func(n int) {
		at := 0
		for i, v := range holds {
			if v <= p.set.hold {
				at = i
			}
		}
		set(holds[min(max(at+n, 0), len(holds)-1)])
	}
	tap := func() {
		if math.IsInf(p.set.hold, 1) {
			set(holds[0])
			return
		}
		step(1)
	}
	return plate.Setting{Name: "peak hold", Text: text, Tap: tap, Step: step,
		Typed: func(v float64) { set(min(max(v, 0.1), 600)) },
		Hint:  "for how long the highest true peak stays as a line"}
}

// The levels that mark 4 and 0 VU can be at, in dBFS.
const leastAlignment, mostAlignment = -24.0, -9.0

func (p *Plate) alignmentSetting() plate.Setting {
	set := func(v float64) { p.set.alignment = min(max(math.Round(v*10)/10, leastAlignment), mostAlignment) }
	return plate.Setting{Name: "alignment", Text: dBFS(p.set.alignment),
		Step: func(n int) { set(p.set.alignment + float64(n)) }, Tap: func() { set(meter.Alignment) }, Typed: set,
		Hint: "PPM 4 and 0 VU: −18 dBFS (EBU R 68; a click) or −20 (SMPTE RP 155), or typed"}
}
