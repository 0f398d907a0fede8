package predict

import (
	"fmt"
	"math"

	"lampblack/patch/kind/control"
)

// partials is the kind of that name: every row a sine of its own.
func (n *node) partials() []signal {
	frequency := n.control("frequency").signal
	if !frequency.known() {
		return n.why("can't be predicted: %s", frequency.why[0])
	}
	var v [6]float64
	for i, name := range []string{"stretch", "stiffness", "tilt", "balance", "reach", "contrast"} {
		c := n.control(name)
		if !c.still() {
			return n.why("moves its %s: its partials go their own ways", name)
		}
		v[i] = c.mean()
	}
	rows := n.module.RowsFor(n.kind)
	ratios, levels := rowsOf(rows, v[0], v[1], v[2], v[3], v[4], v[5])
	_, top := n.extremes(frequency)
	turn := int64(0)
	if frequency.late || n.conditions.AnyPhase {
		turn = n.free()
	}
	sides := [2]signal{}
	for k, ratio := range ratios {
		level := levels[k]
		if level == 0 {
			continue
		}
		if hz := top * ratio; hz > 0.46*n.rate {
			if len(frequency.swing()) > 0 {
				return n.why("moves partials past 0.46 of the sample rate, where they fade")
			}
			level *= math.Min(math.Max((0.49-hz/n.rate)/0.03, 0), 1)
		}
		c := carrier{node: n, name: fmt.Sprintf("%s, partial %d", n.module.Name, k+1), frequency: times(frequency, ratio), width: steady(0.5)}
		if ratio == 1 {
			c.name = n.module.Name
		}
		sides[k&1] = n.add(sides[k&1], n.partial(c, ratio, level, turn))
	}
	return []signal{n.add(sides[0], sides[1]), sides[0], sides[1]}
}

func (n *node) partial(c carrier, ratio, level float64, turn int64) signal {
	// Phases of partials are tied to each other even where that of the tone is free:
	// whole ratios by as many turns, others each by its own.
	if c.turn = turn; turn != 0 {
		if ratio == math.Round(ratio) {
			c.turn = turn * int64(ratio)
		} else {
			c.turn = n.free()
		}
	}
	c.number = c.source(c.name, c.frequency.mean(), c.turn)
	c.modulate()
	text := func() string { return fmt.Sprintf("level %.2f dB = %s", 20*math.Log10(level), number(level)) }
	s := signal{late: c.frequency.late}
	s.lines = tidy(c.harmonic(1, complex(level, 0), text), n.rate)
	return s
}

// rowsOf returns the ratios and levels (as factors) of rows of ratio and dB, as the
// controls of the kind make them. Sources: Fletcher and Rossing, The Physics of
// Musical Instruments, ch. 2 (stiff string); the rest is the kind's own.
func rowsOf(rows [][]float64, stretch, stiffness, tilt, balance, reach, contrast float64) (ratios, levels []float64) {
	loudest, low, high := math.Inf(-1), math.Inf(1), math.Inf(-1)
	for _, row := range rows {
		if row[1] > control.LevelMin {
			loudest = math.Max(loudest, row[1])
			low, high = math.Min(low, math.Log2(row[0])), math.Max(high, math.Log2(row[0]))
		}
	}
	slope := 20 * math.Log10(tilt) // dB an octave
	pivot := low
	if slope > 0 {
		pivot = high
	}
	sides := [2]float64{math.Min(1-balance, 1), math.Min(1+balance, 1)}
	for k, row := range rows {
		r := row[0]
		octaves := math.Log2(r)
		if stretch != 0 {
			r = math.Pow(r, 1+stretch)
		}
		if stiffness != 0 {
			r *= math.Sqrt((1 + stiffness*r*r) / (1 + stiffness))
		}
		share := sides[k&1] * math.Min(math.Max(reach*float64(len(rows))-float64(k), 0), 1)
		level := 0.0
		if row[1] > control.LevelMin {
			level = share * math.Pow(10, (loudest+contrast*(row[1]-loudest)+slope*(octaves-pivot))/20)
		}
		ratios, levels = append(ratios, r), append(levels, level)
	}
	return ratios, levels
}

// slowShapes are the shapes of a slow oscillator, in the order of its choices.
const (
	slowSine = iota
	slowTriangle
	slowSaw
	slowPulse
	slowSlope
)

// How many harmonics of a slow oscillator are told: of one that jumps, and of one
// with corners, whose next ones are 118 dB down.
const (
	mostSlow   = 200
	mostCorner = 800
)

// slow is the kind of that name. Its corners are sharp, so what passes half the
// rate folds; at the rates it has, that is faint.
func (n *node) slow() []signal {
	if n.joined("restart") || n.joined("note") {
		return n.why("is started again by a cord: its cycle breaks off where that comes")
	}
	shape, run, fade := n.control("shape"), n.control("run"), n.control("fade-in")
	if !shape.still() || !run.still() {
		return n.why("changes its shape while it sways")
	}
	c := carrier{node: n, name: n.module.Name, shape: sine, frequency: n.control("rate").signal, phase: n.control("phase").signal, width: steady(0.5)}
	width := n.control("width")
	if !c.frequency.known() || !c.phase.known() || !width.still() {
		return n.why("is moved in a way that is not predicted")
	}
	form := int(math.Round(shape.mean()))
	if run.mean() == 2 {
		if !c.phase.still() {
			return n.why("rests after one cycle, and its phase is moved")
		}
		p := c.phase.mean() / 360
		s := steady(slowAt(form, p-math.Floor(p)-1e-12, width.mean()))
		s.late = true
		return []signal{s}
	}
	hz := c.frequency.mean()
	if c.frequency.late || n.conditions.AnyPhase {
		c.turn = n.free()
	}
	c.number = n.source(c.name, hz, c.turn)
	c.modulate()
	s := signal{late: c.frequency.late || fade.mean() > 0 || !fade.still()}
	if form != slowSine {
		n.down = math.Min(n.down, 60) // its series is cut short
	}
	var lines []line
	for _, h := range slowSeries(form, width.mean()) {
		if h.k == 0 {
			s = n.add(s, steady(real(h.a)))
			continue
		}
		// h.a is that of a cosine; harmonic turns the sine it makes.
		lines = append(lines, c.harmonic(h.k, h.a*1i, h.text)...)
	}
	sum := signal{lines: tidy(lines, n.rate), late: s.late}
	if form == slowSaw || form == slowPulse {
		sum.why = append(sum.why, fmt.Sprintf("%s jumps: of its harmonics the first %d are told", n.module.Name, mostSlow))
	}
	return []signal{n.add(s, sum)}
}

type slowHarmonic struct {
	k    int
	a    complex128 // Re(a e^(jk phase))
	text how
}

// slowSeries is the Fourier series of a shape, by the formulas of its definition.
func slowSeries(form int, width float64) []slowHarmonic {
	if form == slowSine {
		return []slowHarmonic{{1, -1i, func() string { return "sine = 1" }}}
	}
	var all []slowHarmonic
	most := mostSlow
	if form == slowTriangle || form == slowSlope {
		most = mostCorner
	}
	for k := 1; k <= most; k++ {
		n := math.Pi * float64(k)
		var a complex128
		text := ""
		switch form {
		case slowTriangle:
			a = complex(0, -8/(n*n)*math.Sin(n/2))
			text = fmt.Sprintf("8/(pi %d)^2", k)
		case slowSaw:
			a = complex(0, 2/n*math.Cos(n))
			text = fmt.Sprintf("2/(pi %d)", k)
		case slowPulse:
			sin, cos := math.Sincos(n * width)
			a = complex(4/n*sin, 0) * complex(cos, -sin)
			text = fmt.Sprintf("4/(pi %d) |sin(pi %d x %s)|", k, k, number(width))
		default:
			a = complex(0, -2/(n*n*width*(1-width))*math.Sin(n*width))
			text = fmt.Sprintf("2 |sin(pi %d x %s)| / ((pi %d)^2 x %s x %s)", k, number(width), k, number(width), number(1-width))
		}
		size := math.Hypot(real(a), imag(a))
		if size > 1e-12 {
			all = append(all, slowHarmonic{k, a, func() string { return text + " = " + number(size) }})
		}
	}
	if form == slowPulse && width != 0.5 {
		all = append(all, slowHarmonic{0, complex(2*width-1, 0), nil})
	}
	return all
}

// slowAt is the value of a shape at phase p, 0 to 1 cycles.
func slowAt(form int, p, width float64) float64 {
	if p < 0 {
		p++
	}
	switch form {
	case slowSine:
		return math.Sin(2 * math.Pi * p)
	case slowTriangle:
		return math.Abs(math.Abs(4*p-1)-2) - 1
	case slowSaw:
		return 2 * (p - math.Round(p))
	case slowPulse:
		if p < width {
			return 1
		}
		return -1
	}
	switch half := width / 2; {
	case p < half:
		return p / half
	case p <= 1-half:
		return 1 - 2*(p-half)/(1-width)
	default:
		return (p - 1) / half
	}
}

// memory is the kind of that name: the note that is played.
func (n *node) memory() []signal {
	pitch := steady(n.conditions.Pitch)
	if u := n.control("unison"); u.mean() > 1 {
		return n.why("gives every note several voices (unison), each of its own pitch")
	}
	if g := n.control("glide"); g.mean() > 0 || !g.still() {
		pitch.late = true
	}
	velocity := steady(n.conditions.Velocity)
	return []signal{pitch, steady(n.conditions.gate()), {}, velocity, {}}
}

// slew is the kind of that name: a voltage that stands still gets through.
func (n *node) slew() []signal {
	in := n.input(0)
	if !in.still() {
		return n.why("%s", n.reason())
	}
	in.late = true
	return n.each(n.kind, in)
}

// scale is the kind of that name.
func (n *node) scale() []signal {
	out := n.add(n.product(n.input(0), n.control("factor").signal), n.control("offset").signal)
	limits := n.control("limits")
	if !limits.still() {
		return n.why("switches its limits while it runs")
	}
	if limits.mean() == 0 {
		return []signal{out}
	}
	lowest, highest := n.control("lowest"), n.control("highest")
	if !lowest.still() || !highest.still() || !out.known() {
		return n.why("cuts off what is not known")
	}
	lo, hi := lowest.mean(), highest.mean()
	bent, ok := n.bend(out, func(v float64) float64 { return math.Min(math.Max(v, lo), hi) })
	if !ok {
		return n.why("cuts off a sum of tones whose frequencies have no common cycle")
	}
	return []signal{bent}
}
