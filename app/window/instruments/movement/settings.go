package movement

import (
	"lampblack/app/window/plate"
)

// times are the stretches that a trace can show, in seconds; 0 is as long as
// ownPeriods of each row's own.
var times = []float64{0, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 40}

const (
	ownPeriods = 4
	otherwise  = 5.0 // seconds of what does not come round again
	inSamples  = 0.3 // seconds up to which every sample is drawn
)

// span is how many seconds a row's trace shows.
func (p *Plate) span(r *row) float64 {
	if t := times[p.seconds]; t > 0 {
		return t
	}
	if r.rate.hz > 0 {
		return min(ownPeriods/r.rate.hz, times[len(times)-1])
	}
	return otherwise
}

// Settings is plate.Plate's.
func (p *Plate) Settings() []plate.Setting {
	all := []plate.Setting{p.orderSetting(), p.timeSetting(), p.heightSetting(), {
		Name: "ranges", Text: "begin again", Tap: p.begin,
		Hint: "begins all lowest and highest values, and what is clamped, again",
	}}
	return append(all, p.o.Freeze())
}

// begin begins the swept ranges again.
func (p *Plate) begin() {
	p.session.ClearMarks()
	p.written, p.words = 0, ""
}

func (p *Plate) orderSetting() plate.Setting {
	text := "by the signal"
	if p.byReach {
		text = "by how far"
	}
	turn := func() {
		p.byReach = !p.byReach
		p.sync()
		p.choose(p.at())
		p.o.Refresh()
	}
	return plate.Setting{Name: "order", Text: text, Tap: turn, Step: func(int) { turn() },
		Hint: "as the signal goes, or what moves over most of its ruler first"}
}

func (p *Plate) timeSetting() plate.Setting {
	text := "4 periods"
	if t := times[p.seconds]; t > 0 {
		text = plate.Time(t)
	}
	set := func(n int) {
		p.seconds = min(max(n, 0), len(times)-1)
		p.o.Refresh()
		p.redraw()
	}
	return plate.Setting{
		Name: "time", Text: text,
		Tap:  func() { set((p.seconds + 1) % len(times)) },
		Step: func(n int) { set(p.seconds + n) },
		Typed: func(v float64) {
			near := 1
			for i, t := range times {
				if i > 0 && abs(t-v) < abs(times[near]-v) {
					near = i
				}
			}
			set(near)
		},
		Hint: "how much of the movement is drawn; 4 periods: of each its own, 5 s of what has none",
	}
}

func abs(v float64) float64 { return max(v, -v) }

func (p *Plate) heightSetting() plate.Setting {
	text := "where it goes"
	if p.whole {
		text = "whole ruler"
	}
	turn := func() {
		p.whole = !p.whole
		p.o.Refresh()
		p.redraw()
	}
	return plate.Setting{Name: "height", Text: text, Tap: turn, Step: func(int) { turn() },
		Hint: "traces over the lowest to the highest value, or over the whole ruler"}
}

func (p *Plate) redraw() {
	p.shapes.raster.Refresh()
	p.enlarged.raster.Refresh()
}

// Reading is plate.Plate's.
func (p *Plate) Reading() (one, two string) {
	n := p.at()
	if n < 0 {
		return "", ""
	}
	return p.rows[n].reading(), p.clamped()
}
