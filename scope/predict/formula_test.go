package predict

import (
	"testing"

	"lampblack/patch"
)

// What is told of a line can be followed with a table of Bessel functions and a
// pocket calculator.
func TestFormulasHaveTheirNumbersInThem(t *testing.T) {
	d := &desk{t, build()}
	d.put("carrier", "oscillator", "frequency", "1000 Hz")
	d.put("modulator", "oscillator", "frequency", "100 Hz")
	d.put("horn", "oscillator", "frequency", "100 Hz", "shape", "saw")
	d.put("reed", "oscillator", "frequency", "100 Hz", "shape", "pulse", "width", "25 %")
	d.put("bore", "filter", "cutoff", "300 Hz", "width", "Q 5")
	d.put("half", "amplifier", "level", "-6.0206 dB")
	d.put("trembling", "amplifier", "depth", "50 %")
	d.cord("modulator/out", "carrier/phase", "68.754935416 deg")
	d.cord("horn/out", "bore/in", "")
	d.cord("carrier/out", "half/in", "")
	d.cord("horn/out", "trembling/in", "")
	d.cord("modulator/out", "trembling/modulation", "")
	for _, c := range []struct {
		at            patch.Socket
		hz            float64
		name, formula string
	}{
		{patch.Socket{Module: "carrier", Name: "out"}, 1200, "carrier + 2 x modulator", "J2(1.2) = 0.1593"},
		{patch.Socket{Module: "carrier", Name: "out"}, 900, "carrier - modulator", "J1(1.2) = 0.4983"},
		{patch.Socket{Module: "half", Name: "out"}, 900, "carrier - modulator", "J1(1.2) x 0.5 = 0.2491"},
		{patch.Socket{Module: "horn", Name: "out"}, 300, "3 x horn", "2/(pi 3) = 0.2122"},
		{patch.Socket{Module: "reed", Name: "out"}, 300, "3 x reed", "4/(pi 3) |sin(pi 3 x 0.25)| = 0.3001"},
		{patch.Socket{Module: "reed", Name: "out"}, 0, "steady", "2 x 0.25 - 1 = -0.5"},
		{patch.Socket{Module: "bore", Name: "low"}, 300, "3 x horn", "2/(pi 3) = 0.2122 x 5 (bore / low at 300 Hz: 13.98 dB, -90.0 deg)"},
		{patch.Socket{Module: "trembling", Name: "out"}, 0, "horn - modulator", "2/(pi 1) x 0.5 / 2 = 0.1592"},
	} {
		l := lineOf(Predict(*d.p, c.at, usual), c.hz)
		if l.Name != c.name || l.Formula != c.formula {
			t.Errorf("%s at %g Hz: %q, %q; want %q, %q", c.at, c.hz, l.Name, l.Formula, c.name, c.formula)
		}
	}
}

func BenchmarkPredict(b *testing.B) {
	for _, name := range []string{"patches/brass.json", "patches/hiss.json", "demo/drip-1.json", "demo/humming.json", "demo/vent-1.json"} {
		p := load(b, name)
		left, _ := Heard(p)
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				Predict(p, left[0], usual)
			}
		})
	}
}
