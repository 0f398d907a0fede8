package instruments

import "lampblack/scope"

// stripColumns is how fine a rolling picture is.
const stripColumns = 1000

// settleStrips makes the strip charts that long time bases need, or lets go of
// them.
func (m *measure) settleStrips() {
	step := m.switches.time * 10 * m.rate / stripColumns
	for i := range m.strips {
		switch {
		case !m.switches.rolls():
			m.strips[i] = nil
		case m.strips[i] == nil || m.stripStep != step:
			m.strips[i] = scope.NewStrip(stripColumns, step)
		}
	}
	m.stripStep = step
	if m.stripNow == nil {
		m.stripNow = make([]scope.Column, stripColumns)
	}
}

// stripLine fills dst with a channel of the strip chart, in its own unit.
func (m *measure) stripLine(dst []scope.Column, i int) {
	m.strips[i].Columns(m.stripNow)
	for c := range dst {
		from := c * stripColumns / len(dst)
		to := max((c+1)*stripColumns/len(dst), from+1)
		dst[c] = m.stripNow[from]
		for _, more := range m.stripNow[from+1 : to] {
			dst[c].Min, dst[c].Max = min(dst[c].Min, more.Min), max(dst[c].Max, more.Max)
		}
	}
}
