package response

import (
	"fmt"
	"math"
	"sort"
	"strconv"
	"strings"

	"lampblack/app/probing"
	"lampblack/app/window/look"
	"lampblack/app/window/plate"
	"lampblack/scope/sounding"
)

func fieldsOf(text string) []string { return strings.Fields(text) }

// Reading tells what is read in the lines, and how far the run is from the
// formulas.
func (p *Plate) Reading() (one, two string) {
	r := &p.shown
	switch r.form {
	case probing.Words:
		return "", ""
	case probing.Response:
		one = r.responseText()
		if text := r.textAt(p.set.readAt); text != "" {
			one = text + plate.Between + one
		}
	case probing.Shape:
		one = r.shapeText()
	case probing.Wave:
		one = r.waveText()
	case probing.Transfer:
		one = r.transferText()
	}
	two = look.Shown(r.agreement())
	if room := p.picture.Size().Width; room > 0 && look.Figures.Measure(firstOf(two)).Width > room {
		two = strings.Replace(two, "computed against measured:", "apart by", 1)
		two = strings.Replace(two, " at worst, ", " at worst"+plate.Between, 1)
	}
	return look.Shown(one), two
}

// firstOf is the first part of a line of readings.
func firstOf(line string) string {
	first, _, _ := strings.Cut(line, plate.Between)
	return first
}

// agreement says by how much computed and measured differ, or why one of them is
// not there.
func (r *result) agreement() string {
	switch {
	case r.unmeasured != "":
		return "not measured: " + r.unmeasured
	case !r.measured && r.by == notMeasured && r.form == probing.Response:
		return "not measured, as set"
	case r.uncurved != "" && !r.measured:
		return "not computed: " + r.uncurved
	case !r.measured:
		return "computed; being measured"
	case r.uncurved != "":
		return "not computed: " + r.uncurved + plate.Between + "measured " + r.how()
	case !r.compared:
		return "measured " + r.how()
	}
	switch r.form {
	case probing.Transfer:
		return fmt.Sprintf("computed against measured: %s of full scale at worst, at %+.2f", deep(r.worst), r.worstAt)
	case probing.Shape:
		return fmt.Sprintf("computed against measured: %s at worst%sdown to −40 dB, at %s", small(r.worst), plate.Between, plate.Time(rounded(r.worstAt)))
	case probing.Wave:
		return fmt.Sprintf("computed against measured: %s at worst%sharmonics down to −60 dB, at %s", small(r.worst), plate.Between, plate.Hertz(r.worstAt))
	}
	return fmt.Sprintf("computed against measured: %s at worst, 20 Hz to %s%s%s", small(r.worst), plate.Hertz(math.Min(comparedHz, r.highest)), plate.Between, r.how())
}

// how says how it was measured.
func (r *result) how() string {
	if r.form != probing.Response {
		return "by a run of its own"
	}
	if r.by == byImpulse && r.seconds < 1e-4 {
		return "by an impulse, answered at once"
	}
	if r.by == byImpulse {
		return fmt.Sprintf("by an impulse, answered for %s", plate.Time(rounded(r.seconds)))
	}
	return fmt.Sprintf("by a sweep at %s", plate.Level(r.by.level()))
}

// small writes a small difference in dB.
func small(db float64) string {
	switch {
	case db < 0.00005:
		return "under 0.0001 dB"
	case db < 0.1:
		return fmt.Sprintf("%.4f dB", db)
	}
	return fmt.Sprintf("%.2f dB", db)
}

// deep writes a difference as a level.
func deep(db float64) string {
	if db < -200 {
		return "under −200 dB"
	}
	return plate.Level(db)
}

func (r *result) responseText() string {
	if len(r.curve) == 0 {
		return ""
	}
	f := r.figures
	var parts []string
	if f.Highest.Y-f.Lowest.Y < 0.05 {
		return fmt.Sprintf("%s at every frequency", signed(f.Highest.Y))
	}
	if f.Band {
		parts = append(parts, fmt.Sprintf("%s at %s", signed(f.Highest.Y), hertz(f.Highest.X)))
		if !math.IsNaN(f.Width) {
			parts = append(parts, fmt.Sprintf("bandwidth %s, %s to %s, Q %s", hertz(f.Width), hertz(f.Low), hertz(f.High), plate.Number(three(f.Q))))
		}
	}
	for i, edge := range f.Edges {
		if !math.IsNaN(edge) && (i == 0 || math.IsNaN(f.Edges[0]) || math.Abs(edge/f.Edges[0]-1) > 1e-6) {
			parts = append(parts, fmt.Sprintf("3 dB from the %s end at %s", [...]string{"low", "high"}[i], hertz(edge)))
		}
	}
	if low := f.Lowest; !f.Band && low.X > lowestHz*1.1 && low.X < r.highest/1.1 && f.Highest.Y-low.Y > 6 {
		parts = append(parts, fmt.Sprintf("lowest %s at %s", signed(low.Y), hertz(low.X)))
	}
	if !math.IsNaN(f.Slope) {
		parts = append(parts, fmt.Sprintf("%s/oct from %s to %s", signed(f.Slope), hertz(f.SlopeFrom), hertz(f.SlopeTo)))
	}
	if len(parts) == 0 {
		parts = append(parts, fmt.Sprintf("%s to %s", signed(f.Lowest.Y), signed(f.Highest.Y)))
	}
	return strings.Join(parts, plate.Between)
}

// textAt reads the lines at a frequency.
func (r *result) textAt(hz float64) string {
	if hz == 0 || len(r.curve) < 2 || len(r.phase) != len(r.curve) || len(r.delay) != len(r.curve) {
		return ""
	}
	i := sort.Search(len(r.curve), func(i int) bool { return r.curve[i].X >= hz })
	i = min(max(i, 1), len(r.curve)-1)
	part := math.Log(hz/r.curve[i-1].X) / math.Log(r.curve[i].X/r.curve[i-1].X)
	turn := math.Remainder(r.phase[i].Y-r.phase[i-1].Y, 360)
	between := func(p []sounding.Point) float64 { return p[i-1].Y + part*(p[i].Y-p[i-1].Y) }
	late := "not delayed"
	if d := rounded(between(r.delay)); math.Abs(d) > 1e-9 {
		late = "delayed by " + plate.SignedTime(d)
	}
	return fmt.Sprintf("at %s %s, %.1f°, %s", hertz(hz), signed(between(r.curve)), math.Remainder(r.phase[i-1].Y+part*turn, 360), late)
}

func signed(db float64) string {
	if db < -200 {
		return "−∞ dB"
	}
	if math.Abs(db) < 0.05 {
		return "0.0 dB"
	}
	return strings.Replace(fmt.Sprintf("%+.1f dB", db), "-", "−", 1)
}

// three rounds to three digits.
func three(v float64) float64 {
	unit := math.Pow(10, math.Floor(math.Log10(v))-2)
	return math.Round(v/unit) * unit
}

// hertz writes a frequency with four digits, as narrow bands need them.
func hertz(hz float64) string {
	v, unit := hz, "Hz"
	if hz >= 999.95 {
		v, unit = hz/1000, "kHz"
	}
	digits := max(3-int(math.Floor(math.Log10(v))), 0)
	return strconv.FormatFloat(v, 'f', digits, 64) + " " + unit
}

func (r *result) shapeText() string {
	if !r.measured {
		return ""
	}
	s := r.shape
	parts := []string{fmt.Sprintf("top %.4f after %s", s.Top.Y, plate.Time(rounded(s.Top.X)))}
	tau := func(name string, v float64) {
		switch {
		case math.IsInf(v, 1):
			parts = append(parts, name+" even")
		case v == v:
			parts = append(parts, name+" τ "+plate.Time(rounded(v)))
		}
	}
	tau("attack", s.AttackTau)
	tau("decay", s.DecayTau)
	if s.Sustain == s.Sustain && s.Sustain > 1e-6 {
		parts = append(parts, fmt.Sprintf("sustain %.2f %%", 100*s.Sustain))
	}
	tau("release", s.ReleaseTau)
	return strings.Join(parts, plate.Between)
}

func (r *result) waveText() string {
	if r.cycle.Hz == 0 {
		return ""
	}
	hz := plate.ExactHertz(r.cycle.Hz)
	if r.cycle.Hz < 1 {
		hz = fmt.Sprintf("%.4f Hz", r.cycle.Hz)
	}
	parts := []string{fmt.Sprintf("%s, a cycle takes %s", hz, plate.Time(rounded(1/r.cycle.Hz)))}
	for i, h := range r.cycle.Harmonics {
		if i < 4 && h.Computed > barsFrom {
			parts = append(parts, fmt.Sprintf("%d: %s", h.N, plate.Level(h.Computed)))
		}
	}
	return strings.Join(parts, plate.Between)
}

func (r *result) transferText() string {
	if len(r.curve) < 3 {
		return ""
	}
	middle := len(r.curve) / 2
	a, b := r.curve[middle-1], r.curve[middle+1]
	least, most := math.Inf(1), math.Inf(-1)
	for _, c := range r.curve {
		least, most = math.Min(least, c.Y), math.Max(most, c.Y)
	}
	text := fmt.Sprintf("out %+.3f to %+.3f", least, most)
	if slope := (b.Y - a.Y) / (b.X - a.X); math.Abs(slope) < 1e4 {
		text += fmt.Sprintf("%sslope at 0: %.4g (%s)", plate.Between, slope, plate.Level(20*math.Log10(math.Abs(slope))))
	}
	return text
}
