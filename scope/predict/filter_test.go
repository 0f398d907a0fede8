package predict

import (
	"fmt"
	"testing"
)

// filters are modules behind a saw, held against their sound line by line.
var filters = []struct {
	name, kind, out string
	level           string // of the saw
	settings        []string
}{
	{"low, width in Hz", "filter", "low", "0 dB", []string{"cutoff", "900 Hz", "width", "300 Hz"}},
	{"band, width in octaves, high up", "filter", "band", "0 dB", []string{"cutoff", "9 kHz", "width", "1.5 oct", "peak", "6 dB"}},
	{"high", "filter", "high", "0 dB", []string{"cutoff", "3 kHz", "width", "Q 3"}},
	{"notch", "filter", "notch", "0 dB", []string{"cutoff", "3 kHz", "width", "0.7 oct"}},
	{"bell", "filter", "bell", "0 dB", []string{"cutoff", "3 kHz", "width", "Q 3", "boost", "-9 dB"}},
	{"ladder", "ladder", "out", "-60 dB", []string{"cutoff", "3 kHz", "resonance", "60 %", "bass", "50 %"}},
	{"all-pass", "allpass", "out", "0 dB", []string{"centre", "1 kHz", "stages", "6", "feedback", "40 %"}},
	{"all-pass of the second order", "allpass", "out", "0 dB", []string{"centre", "1 kHz", "order", "second", "width", "Q 2", "feedback", "-40 %", "mix", "70 %"}},
	{"tilt", "tilt", "out", "0 dB", []string{"pivot", "1 kHz", "tilt", "9 dB"}},
	{"one pole", "dcblock", "out", "0 dB", []string{"cutoff", "80 Hz"}},
	{"two poles", "dcblock", "out", "0 dB", []string{"cutoff", "80 Hz", "poles", "two"}},
	{"echo", "delay", "echo", "-20 dB", []string{"time", "7.77 ms", "feedback", "60 %", "high cut", "5 kHz", "low cut", "15 Hz"}},
	{"delay", "delay", "out", "-24 dB", []string{"time", "1 ms", "feedback", "-70 %", "mix", "60 %"}},
	{"resonator, decay in s", "resonator", "out", "-30 dB", []string{"frequency", "441.3 Hz", "decay", "80 ms", "damping", "8", "kept", "strike"}},
	{"resonator, odd, in %", "resonator", "out", "-30 dB", []string{"frequency", "300 Hz", "decay", "-70 %", "harmonics", "odd", "kept", "peak", "mix", "80 %"}},
	{"bands", "bands", "out", "0 dB", []string{"tilt", "-2 dB", "1 kHz", "-12 dB", "8 kHz", "6 dB"}},
	{"bands, every other", "bands", "even", "0 dB", []string{"shift", "1.3 oct", "250 Hz", "-96 dB"}},
	{"width", "width", "side", "0 dB", []string{"width", "150 %", "mono below", "400 Hz"}},
}

func TestFiltersAreWhatTheirFormulasSay(t *testing.T) {
	for i := range 3 * len(filters) {
		c, conditions := filters[i/3], usual
		conditions.Rate = []float64{44100, 48000, 96000}[i%3]
		t.Run(fmt.Sprintf("%s at %g Hz", c.name, conditions.Rate), func(t *testing.T) {
			d := &desk{t, build()}
			d.put("a", "oscillator", "frequency", "220 Hz", "shape", "saw", "phase", "33 deg")
			d.put("quiet", "mixer", "level 1", c.level)
			d.put("f", c.kind, c.settings...)
			d.cord("a/out", "quiet/1", "")
			if c.kind == "width" {
				d.put("other", "oscillator", "frequency", "330 Hz", "shape", "triangle")
				d.cord("other/out", "f/right", "")
				d.cord("quiet/out", "f/left", "")
			} else {
				d.cord("quiet/out", "f/in", "")
			}
			d.hear("f/" + c.out)
			o := compareDown(t, *d.p, conditions, 3, 1, 18000, 100)
			t.Log(o)
			if o.lines < 10 || o.worst > o.within {
				t.Error(o)
			}
		})
	}
}
