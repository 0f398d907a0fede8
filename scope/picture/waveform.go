package picture

import (
	"io"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"

	"lampblack/scope"
)

// Waveform draws one or two channels against time in seconds, below each other.
// The axis of values reaches to full scale, or further if the signal does; full
// scale is ruled. No sample is lost: each column of the picture spans all that
// it stands for.
func Waveform(w io.Writer, channels [][]float64, rate int, o Options) error {
	if err := checkChannels(channels, rate); err != nil {
		return err
	}
	p, err := newPage(o)
	if err != nil {
		return err
	}
	reach := 1.0
	for _, samples := range channels {
		reach = max(reach, scope.Measure(samples).Peak)
	}
	plots := make([]*plot.Plot, len(channels))
	for c, samples := range channels {
		title, x := "", ""
		if c == 0 {
			title = o.Title
		}
		if c == len(channels)-1 {
			x = "time, s"
		}
		pl := p.plot(title, x, [][]string{{"level"}, {"left", "right"}}[len(channels)-1][c])
		pl.X.Min, pl.X.Max = 0, float64(max(len(samples)-1, 1))/float64(rate)
		pl.Y.Min, pl.Y.Max = -reach, reach
		pl.X.Tick.Marker, pl.Y.Tick.Marker = evenly(8), evenly(4)
		p.rule(pl)
		line := plotter.Line{XYs: envelope(samples, rate, 2*p.Width)}
		line.Width, line.Color = stroke, p.Ink.Left
		if c == 1 {
			line.Color = p.Ink.Right
		}
		pl.Add(&line)
		plots[c] = pl
	}
	return p.write(w, plots...)
}

// envelope returns the outline of samples in columns: down and up again in each.
func envelope(samples []float64, rate, columns int) plotter.XYs {
	if len(samples) == 1 {
		return plotter.XYs{{X: 0, Y: samples[0]}, {X: 1 / float64(rate), Y: samples[0]}}
	}
	length := float64(len(samples) - 1)
	var points plotter.XYs
	for c, column := range scope.Trace(make([]scope.Column, columns), samples, scope.View{Length: length}) {
		if column.Empty() {
			continue
		}
		second := (float64(c) + 0.5) / float64(columns) * length / float64(rate)
		points = append(points, plotter.XY{X: second, Y: column.Min}, plotter.XY{X: second, Y: column.Max})
	}
	return points
}

// rule draws the ruling of the paper behind everything else.
func (p *page) rule(pl *plot.Plot) {
	grid := plotter.NewGrid()
	grid.Vertical.Color, grid.Horizontal.Color = p.Ink.Faint, p.Ink.Faint
	grid.Vertical.Width, grid.Horizontal.Width = hairline, vg.Length(hairline)
	pl.Add(grid)
}

// evenly puts about so many marks at steps of 1, 2 or 5 times a power of ten,
// with the true minus sign.
type evenly int

// Ticks implements plot.Ticker.
func (n evenly) Ticks(low, high float64) []plot.Tick {
	step := math.Pow(10, math.Floor(math.Log10((high-low)/float64(n))))
	for _, factor := range []float64{2, 2.5, 2} { // 1, 2, 5, 10
		if (high-low)/step <= float64(n) {
			break
		}
		step *= factor
	}
	decimals := max(0, int(math.Ceil(-math.Log10(step)-1e-9)))
	var ticks []plot.Tick
	for k := math.Ceil(low/step - 1e-9); k*step <= high+1e-9*step; k++ {
		ticks = append(ticks, plot.Tick{Value: k * step, Label: number(k*step, decimals)})
	}
	return ticks
}
