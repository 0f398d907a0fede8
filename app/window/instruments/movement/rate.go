package movement

import "lampblack/patch/engine"

// manner is how a control moves.
type manner int

const (
	unknown  manner = iota // nothing has been measured yet
	still                  // it stands
	periodic               // it comes round again
	stepping               // from one value to another, in a beat or not
	free                   // it moves, and does not come round again while it is watched
)

// rate is how a control moves, and how often a second; 0 if it keeps no time.
type rate struct {
	manner manner
	hz     float64
	young  bool // it has not been watched for so long that a slow one would have shown
}

// Measures of what decides between the quick and the slow part of a movement.
const (
	mostOf    = 0.5  // of all the movement must be in the stretch whose period is told
	stillPart = 1e-7 // of its value that a control may move and still stand
	waits     = 0.3  // seconds after which a rate is measured again
	settled   = 2.0  // seconds without a period after which it is said to have none
	slowly    = 15.0 // seconds after which a slow one would have shown
)

// meter measures rates. It keeps its workspaces.
type meter struct {
	rate   float64 // samples a second
	finder finder
	values []float64
	buffer []float32
}

func newMeter(samplesASecond float64) *meter {
	return &meter{rate: samplesASecond, values: make([]float64, longest), buffer: make([]float32, longest)}
}

// measure tells how what h remembers moves. The newest samples are those of its
// tap. The quickest repetition that makes up most of the movement is told: that
// of the newest 85 ms, of the newest 5.5 s, or of the last one and a half minutes
// (at 48 kHz).
func (m *meter) measure(h *history, t *engine.Tap) rate {
	if h.count == 0 {
		return rate{}
	}
	e, ok := h.extent(min(seriesKept, max(h.mid.count, 1)))
	if !ok || h.mid.count == 0 {
		return rate{}
	}
	if stands(e) {
		return rate{manner: still}
	}
	all := h.mid.power()
	if hz, ok := m.quick(t, all); ok {
		return rate{manner: periodic, hz: hz}
	}
	slow := h.slow.power()
	if h.slow.count < fewest {
		slow = 0
	}
	if means := h.mid.newest(m.values); all >= mostOf*slow && variance(means) >= mostOf*all {
		if values, ok := m.finder.period(means); ok {
			return rate{manner: periodic, hz: m.rate / columnSamples / values}
		}
	}
	if means := h.slow.newest(m.values); variance(means) >= mostOf*slow {
		if values, ok := m.finder.period(means); ok {
			return rate{manner: periodic, hz: m.rate / columnSamples / slowColumns / values}
		}
	}
	if beat, ok := h.jumps.beat(); ok {
		if beat == 0 {
			return rate{manner: stepping}
		}
		return rate{manner: stepping, hz: m.rate / beat}
	}
	seconds := float64(h.mid.count*columnSamples) / m.rate
	if seconds < settled {
		return rate{}
	}
	return rate{manner: free, young: seconds < slowly}
}

func stands(c column) bool {
	size := max(c.most, -c.least)
	return c.most-c.least <= stillPart*size
}

// quick looks for a period in the newest samples, if most of the movement is
// there, and makes it exact in as many as the tap remembers.
func (m *meter) quick(t *engine.Tap, all float64) (hz float64, ok bool) {
	if t == nil {
		return 0, false
	}
	end, ok := t.Read(m.buffer[:newest])
	if !ok || end < newest {
		return 0, false
	}
	x := m.wide(newest)
	if variance(x) < mostOf*all {
		return 0, false
	}
	values, ok := m.finder.period(x)
	if !ok {
		return 0, false
	}
	if end >= longest && t.ReadAt(end, m.buffer[:longest]) {
		values = exact(m.wide(longest), values)
	}
	return m.rate / values, true
}

func (m *meter) wide(n int) []float64 {
	for i, v := range m.buffer[:n] {
		m.values[i] = float64(v)
	}
	return m.values[:n]
}

func variance(x []float64) float64 {
	if len(x) == 0 {
		return 0
	}
	mean, sum := 0.0, 0.0
	for _, v := range x {
		mean += v
	}
	mean /= float64(len(x))
	for _, v := range x {
		sum += (v - mean) * (v - mean)
	}
	return sum / float64(len(x))
}
