package predict

import (
	"strings"
	"testing"

	"lampblack/patch"
)

// desk builds patches in few words.
type desk struct {
	t tester
	p *patch.Patch
}

func (d *desk) put(name, kind string, settings ...string) {
	d.t.Helper()
	with(d.t, d.p, name, kind, settings...)
}

func (d *desk) cord(from, to, depth string) {
	d.t.Helper()
	a, b := strings.Split(from, "/"), strings.Split(to, "/")
	join(d.t, d.p, a[0], a[1], b[0], b[1], depth)
}

func (d *desk) hear(from string) {
	d.t.Helper()
	a := strings.Split(from, "/")
	listen(d.t, d.p, a[0], a[1])
}

// claims are patches whose lines are held against the sound: within what is claimed,
// up to 18 kHz, and nothing else above -100 dB.
var claims = []struct {
	name  string
	build func(d *desk)
}{
	{"a sine", func(d *desk) { d.put("a", "oscillator", "frequency", "441 Hz", "phase", "33 deg"); d.hear("a/out") }},
	{"a triangle", func(d *desk) { d.put("a", "oscillator", "frequency", "441 Hz", "shape", "triangle"); d.hear("a/out") }},
	{"a saw", func(d *desk) {
		d.put("a", "oscillator", "frequency", "441 Hz", "shape", "saw", "phase", "33 deg")
		d.hear("a/out")
	}},
	{"a pulse with its mean", func(d *desk) {
		d.put("a", "oscillator", "frequency", "441 Hz", "shape", "pulse", "width", "30 %")
		d.hear("a/out")
	}},
	{"a sine through zero", func(d *desk) {
		d.put("a", "oscillator", "frequency", "200 Hz")
		d.put("b", "oscillator", "frequency", "280 Hz", "phase", "20 deg")
		d.cord("b/out", "a/shift", "1400 Hz")
		d.hear("a/out")
	}},
	{"a sine that runs backwards", func(d *desk) {
		d.put("a", "oscillator", "frequency", "100 Hz", "shift", "-350 Hz")
		d.put("b", "oscillator", "frequency", "70 Hz")
		d.cord("b/out", "a/shift", "150 Hz")
		d.hear("a/out")
	}},
	{"linear modulation of a saw", func(d *desk) {
		d.put("a", "oscillator", "frequency", "220 Hz", "shape", "saw")
		d.put("b", "oscillator", "frequency", "110 Hz")
		d.cord("b/out", "a/shift", "150 Hz")
		d.hear("a/out")
	}},
	{"exponential frequency modulation", func(d *desk) {
		d.put("a", "oscillator", "frequency", "440 Hz")
		d.put("b", "oscillator", "frequency", "150 Hz")
		d.cord("b/out", "a/frequency", "0.6 oct")
		d.hear("a/out")
	}},
	{"phase modulation that folds at half the rate", func(d *desk) {
		d.put("a", "oscillator", "frequency", "15000 Hz")
		d.put("b", "oscillator", "frequency", "3100 Hz")
		d.cord("b/out", "a/phase", "180 deg")
		d.hear("a/out")
	}},
	{"phase modulation by a saw", func(d *desk) {
		d.put("a", "oscillator", "frequency", "600 Hz")
		d.put("b", "oscillator", "frequency", "200 Hz", "shape", "saw")
		d.cord("b/out", "a/phase", "90 deg")
		d.hear("a/out")
	}},
	{"two modulators in a row", func(d *desk) {
		d.put("a", "oscillator", "frequency", "700 Hz")
		d.put("b", "oscillator", "frequency", "300 Hz")
		d.put("c", "oscillator", "frequency", "110 Hz")
		d.cord("c/out", "b/phase", "60 deg")
		d.cord("b/out", "a/phase", "100 deg")
		d.hear("a/out")
	}},
	{"two modulators side by side", func(d *desk) {
		d.put("a", "oscillator", "frequency", "2000 Hz", "shape", "saw")
		d.put("b", "oscillator", "frequency", "130 Hz")
		d.put("c", "oscillator", "frequency", "47 Hz")
		d.cord("c/out", "a/shift", "60 Hz")
		d.cord("b/out", "a/phase", "50 deg")
		d.hear("a/out")
	}},
	{"a width that moves", func(d *desk) {
		d.put("a", "oscillator", "frequency", "440 Hz", "shape", "pulse", "width", "45 %")
		d.put("b", "oscillator", "frequency", "100 Hz")
		d.cord("b/out", "a/width", "30 %")
		d.hear("a/out")
	}},
	{"vibrato of a saw", func(d *desk) {
		d.put("a", "oscillator", "frequency", "440 Hz", "shape", "saw")
		d.put("b", "slow", "rate", "6 Hz", "phase", "90 deg")
		d.cord("b/out", "a/frequency", "0.02 oct")
		d.hear("a/out")
	}},
	{"tremolo in dB", func(d *desk) {
		d.put("a", "oscillator", "frequency", "440 Hz", "shape", "triangle")
		d.put("b", "slow", "rate", "5 Hz", "shape", "triangle")
		d.put("c", "amplifier", "level", "-12 dB")
		d.cord("a/out", "c/in", "")
		d.cord("b/out", "c/level", "6 dB")
		d.hear("c/out")
	}},
	{"a level that is driven to nothing", func(d *desk) {
		d.put("a", "oscillator", "frequency", "440 Hz")
		d.put("b", "oscillator", "frequency", "60 Hz")
		d.put("c", "amplifier", "level", "-6 dB")
		d.cord("a/out", "c/in", "")
		d.cord("b/out", "c/level", "1 x")
		d.hear("c/out")
	}},
	{"a saw in a ring with a pulse", func(d *desk) {
		d.put("a", "oscillator", "frequency", "1200 Hz", "shape", "saw")
		d.put("b", "oscillator", "frequency", "700 Hz", "shape", "pulse", "width", "20 %")
		d.put("c", "ring", "leak", "40 %")
		d.cord("a/out", "c/carrier", "")
		d.cord("b/out", "c/signal", "")
		d.hear("c/out")
	}},
	{"partials with a stiff string's ratios", func(d *desk) {
		d.put("a", "partials", "frequency", "220 Hz", "stiffness", "0.05 %", "tilt", "-3 dB", "contrast", "120 %", "balance", "20 %", "reach", "80 %")
		d.put("b", "slow", "rate", "5 Hz")
		d.cord("b/out", "a/frequency", "0.01 oct")
		d.hear("a/out")
	}},
	{"two ways that meet", func(d *desk) {
		d.put("a", "oscillator", "frequency", "440 Hz", "shape", "saw")
		d.put("f", "filter", "cutoff", "900 Hz", "width", "Q 4")
		d.put("d", "delay", "time", "3.21 ms", "feedback", "-50 %", "low cut", "60 Hz", "high cut", "6 kHz", "mix", "50 %", "ceiling", "24 dB")
		d.put("m", "mixer", "level 2", "-3 dB", "level 3", "-9 dB")
		d.cord("a/out", "f/in", "")
		d.cord("a/out", "d/in", "")
		d.cord("a/out", "m/1", "")
		d.cord("f/bell", "m/2", "")
		d.cord("d/out", "m/3", "")
		d.hear("m/out")
	}},
	{"a place that sways", func(d *desk) {
		d.put("a", "oscillator", "frequency", "440 Hz")
		d.put("b", "slow", "rate", "3 Hz")
		d.put("c", "pan", "position", "10 %")
		d.cord("a/out", "c/in", "")
		d.cord("b/out", "c/position", "70 %")
		d.hear("c/left")
	}},
	{"a voltage cut off", func(d *desk) {
		d.put("a", "oscillator", "frequency", "440 Hz")
		d.put("b", "oscillator", "frequency", "100 Hz")
		d.put("c", "scale", "factor", "2", "limits", "on")
		d.cord("b/out", "c/in", "")
		d.cord("c/out", "a/shift", "100 Hz")
		d.hear("a/out")
	}},
}

func TestTheSoundIsWhatWasPredicted(t *testing.T) {
	for _, c := range claims {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			d := &desk{t, build()}
			c.build(d)
			o := compare(t, *d.p, usual, 1, 1, 18000)
			t.Log(o)
			if o.lines == 0 || o.worst > o.within || o.rest > -100 {
				t.Errorf("%s; want -100 dB", o)
			}
		})
	}
}
