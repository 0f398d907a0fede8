package timing

import (
	"encoding/json"
	"io"
	"runtime"
	"time"
)

// Version of the form in which a report is written.
const Version = 1

// Report is what was counted. Durations are in milliseconds.
type Report struct {
	Version    int      `json:"lampblack timings"`
	What       string   `json:"counted"`
	Seconds    float64  `json:"seconds"`
	Processors int      `json:"processors"`
	Frames     Rate     `json:"frames"`
	Painting   Figures  `json:"painting"`
	Beats      Figures  `json:"beats"`
	Parts      []Figure `json:"parts"`
	Sound      Sound    `json:"sound"`
}

// Figures are those of a histogram.
type Figures struct {
	What    string  `json:"what,omitempty"`
	Count   int64   `json:"count"`
	Mean    float64 `json:"mean ms"`
	Median  float64 `json:"median ms"`
	P99     float64 `json:"p99 ms"`
	P9999   float64 `json:"p99.99 ms"`
	Longest float64 `json:"longest ms"`
	Bins    []Bin   `json:"histogram,omitempty"`
}

// Bin is where a bin begins, in ms, and how many durations fell into it. Bins
// are 0.05 ms wide; the last one, from 100 ms on, holds all that is longer. Empty
// ones are left out.
type Bin [2]float64

// Figure is that of a part of the window.
type Figure struct {
	Part string `json:"part"`
	Figures
}

// Rate is the times between frames, and the same as frames a second: as many as
// there would be if every interval were the median one, or that of which 99 %
// are no longer.
type Rate struct {
	Median float64 `json:"median a second"`
	P99    float64 `json:"99th percentile a second"`
	Figures
}

// Sound is how the sound thread kept its deadline.
type Sound struct {
	From     string  `json:"from"`
	Samples  int64   `json:"samples a block"`
	Rate     int64   `json:"samples a second"`
	Deadline float64 `json:"deadline ms"`
	Late     int64   `json:"late"`
	Kept     float64 `json:"kept %"`
	Render   Figures `json:"render"`
	Ready    Figures `json:"ready"`
}

// Report returns what was counted so far.
func (c *Counts) Report() Report {
	counted := c.counted
	if c.on.Load() {
		counted += time.Since(c.began)
	}
	r := Report{
		Version: Version, What: "while the memory played", Seconds: counted.Seconds(), Processors: runtime.NumCPU(),
		Frames:   Rate{Figures: c.frames.figures("from one drawn frame to the next", true)},
		Painting: c.painting.figures("from the first to the last object of a frame: the toolkit's calls of the graphics library", false),
		Beats:    c.beats.figures("what the program itself computes for a frame, in all its parts", true),
	}
	r.Frames.Median, r.Frames.P99 = perSecond(r.Frames.Figures.Median), perSecond(r.Frames.Figures.P99)
	for _, name := range c.order {
		r.Parts = append(r.Parts, Figure{name, c.parts[name].figures("", false)})
	}
	r.Sound = c.sound()
	return r
}

func (c *Counts) sound() Sound {
	s := Sound{
		From: "a clock in the place of a device", Samples: c.size.Load(), Rate: c.rate.Load(),
		Deadline: ms(time.Duration(c.deadline.Load())), Late: c.late.Load(), Kept: 100,
		Render: c.render.figures("rendering a block", true),
		Ready:  c.ready.figures("from when a block could begin until it was there", true),
	}
	if c.device.Load() {
		s.From = "the sound device"
	}
	if all := c.ready.Count(); all > 0 {
		s.Kept = 100 * float64(all-s.Late) / float64(all)
	}
	return s
}

func (h *Histogram) figures(what string, bins bool) Figures {
	f := Figures{
		What: what, Count: h.Count(), Mean: ms(h.Mean()), Median: ms(h.Quantile(0.5)), P99: ms(h.Quantile(0.99)),
		P9999: ms(h.Quantile(0.9999)), Longest: ms(h.Longest()),
	}
	for i := range h.counts {
		if n := h.counts[i].Load(); bins && n > 0 {
			f.Bins = append(f.Bins, Bin{ms(time.Duration(i) * binWidth), float64(n)})
		}
	}
	return f
}

func ms(d time.Duration) float64 { return float64(d.Microseconds()) / 1000 }

func perSecond(ms float64) float64 {
	if ms <= 0 {
		return 0
	}
	return 1000 / ms
}

// Write writes the report as JSON.
func (r Report) Write(to io.Writer) error {
	e := json.NewEncoder(to)
	e.SetIndent("", " ")
	return e.Encode(r)
}
