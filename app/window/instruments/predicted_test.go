package instruments

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"lampblack/app/window/instruments/expect"
)

// bessel are values of Abramowitz and Stegun: tables 9.1 (orders 0 to 2), 9.2
// (orders 3 to 9) and 9.4. At 2.405, beside the zero 2.4048255577 of table 9.5,
// where J1 is 0.5191474973 (same table), eq. 9.1.28 gives J0 = -(index -
// 2.4048255577) x 0.5191474973; the index there is that of a sum of samples, whose
// gain is x/sin x of the integral's, x = pi 70/48000 (geometric series).
// Elsewhere that changes nothing.
var bessel = []struct {
	index float64
	n     int
	j     float64
}{
	{0.5, 0, 0.9384698072}, {0.5, 1, 0.2422684577}, {0.5, 2, 0.0306040235},
	{1, 0, 0.7651976866}, {1, 1, 0.4400505857}, {1, 2, 0.1149034849}, {1, 3, 0.0195633540},
	{2, 0, 0.2238907791}, {2, 1, 0.5767248078}, {2, 2, 0.3528340286}, {2, 3, 0.1289432495},
	{2.405, 0, -(2.405*(1+3.49837e-6) - 2.4048255577) * 0.5191474973},
	{5, 0, -0.1775967713}, {5, 1, -0.3275791376}, {5, 2, 0.0465651163}, {5, 3, 0.3648312306}, {5, 4, 0.3912323605}, {5, 5, 0.2611405461},
	{8, 0, 0.1716508071}, {8, 1, 0.2346363469}, {8, 2, -0.1129917204}, {8, 3, -0.2911322071}, {8, 8, 0.2234549864},
}

func TestFrequencyModulationReadsTheBesselTables(t *testing.T) {
	const carrier, modulator = 1000, 70
	for _, index := range []float64{0.5, 1, 2, 2.405, 5, 8} {
		th := newTheory(t, "soot")
		th.put("clapper", "oscillator", "frequency", fmt.Sprintf("%d Hz", modulator))
		th.put("bronze", "oscillator", "frequency", fmt.Sprintf("%d Hz", carrier))
		th.cord("clapper/out", "bronze/shift", fmt.Sprintf("%g Hz", index*modulator))
		th.show("bronze/out")
		th.settle()
		th.holds(fmt.Sprintf("index %g", index), -90, 0.01)
		for _, c := range bessel {
			if c.index != index {
				continue
			}
			want := 20 * math.Log10(math.Abs(c.j))
			for _, hz := range []float64{carrier + float64(c.n)*modulator, math.Abs(carrier - float64(c.n)*modulator)} {
				r := th.row(hz)
				if math.Abs(r.Level-want) > 0.01 || math.Abs(r.Found-want) > 0.01 || math.Abs(r.FoundHz-hz) > 0.01 {
					t.Errorf("J%d(%g): expected %.4f dB, found %.4f dB at %.4f Hz; the table says %.4f dB at %g Hz", c.n, index, r.Level, r.Found, r.FoundHz, want, hz)
				}
			}
		}
	}
}

func TestTheFormulaHasTheNumbersInIt(t *testing.T) {
	th := newTheory(t, "soot")
	th.put("clapper", "oscillator", "frequency", "70 Hz")
	th.put("bronze", "oscillator", "frequency", "1000 Hz")
	th.cord("clapper/out", "bronze/phase", fmt.Sprintf("%.6f deg", 1.2*180/math.Pi))
	th.show("bronze/out")
	th.settle()
	r := th.row(1070)
	// Abramowitz and Stegun, table 9.1: J1(1.2) = 0.4982890576.
	if r.Name != "bronze + clapper" || !strings.Contains(r.Formula, "J1(1.2) = 0.4983") {
		t.Errorf("the first sideband is %q, %q", r.Name, r.Formula)
	}
}

func TestStillSoundsAreWhatTheoryExpects(t *testing.T) {
	for _, c := range []struct {
		name  string
		at    string
		build func(th *theory)
		hz    float64
		db    float64
		why   string // where the level comes from
	}{
		{"amplitude modulation", "lamp/out", func(th *theory) {
			th.put("tone", "oscillator", "frequency", "1000 Hz")
			th.put("shutter", "oscillator", "frequency", "90 Hz")
			th.put("lamp", "amplifier", "level", "0 dB")
			th.cord("tone/out", "lamp/in", "")
			th.cord("shutter/out", "lamp/level", "0.4 x")
		}, 1090, 20 * math.Log10(0.2), "(0.6 + 0.4 sin b) sin a: sidebands of 0.4/2 (common practice of radio)"},
		{"ring modulation", "ring/out", func(th *theory) {
			th.put("tone", "oscillator", "frequency", "1000 Hz")
			th.put("voice", "oscillator", "frequency", "170 Hz")
			th.put("ring", "ring")
			th.cord("tone/out", "ring/carrier", "")
			th.cord("voice/out", "ring/signal", "")
		}, 1170, 20 * math.Log10(0.5), "cos a cos b = (cos(a-b) + cos(a+b))/2"},
		{"pulse of 30 %", "reed/out", func(th *theory) {
			th.put("reed", "oscillator", "frequency", "441 Hz", "shape", "pulse", "width", "30 %")
		}, 441 * 3, 20 * math.Log10(4/(3*math.Pi)*math.Sin(0.9*math.Pi)), "Fourier: 4/(n pi) sin(n pi d)"},
		{"saw through a still band-pass", "band/band", func(th *theory) {
			th.put("reed", "oscillator", "frequency", "220 Hz", "shape", "saw")
			th.put("band", "filter", "cutoff", "1100 Hz", "width", "Q 5")
			th.cord("reed/out", "band/in", "")
		}, 1100, 20 * math.Log10(2/(5*math.Pi)), "Fourier: 2/(n pi), and a band-pass of 0 dB in its middle"},
	} {
		th := newTheory(t, "soot")
		c.build(th)
		if th.Kind(socketOf(c.at).Module).Output(socketOf(c.at).Name) < 0 {
			t.Fatalf("%s: there is no %s; there are %v", c.name, c.at, th.Kind(socketOf(c.at).Module).Outputs)
		}
		th.show(c.at)
		th.settle()
		th.holds(c.name, -90, 0.01)
		r := th.row(c.hz)
		if math.Abs(r.Level-c.db) > 0.01 || math.Abs(r.Found-c.db) > 0.01 {
			t.Errorf("%s: %.4f dB expected, %.4f dB found at %g Hz; want %.4f: %s", c.name, r.Level, r.Found, c.hz, c.db, c.why)
		}
	}
}

// Sidebands of a filter that sways once in two seconds stand 0.5 Hz apart: they are
// told apart as soon as the sound has stood still for four seconds.
func TestAMovingFilterIsWithinATenthOfADecibel(t *testing.T) {
	th := newTheory(t, "soot")
	th.put("sway", "slow", "rate", "0.5 Hz")
	th.put("reed", "oscillator", "frequency", "220 Hz", "shape", "saw")
	th.put("band", "filter", "cutoff", "1000 Hz", "width", "Q 4")
	th.cord("reed/out", "band/in", "")
	th.cord("sway/out", "band/cutoff", "0.2 oct")
	th.show("band/band")
	th.settle()
	if th.e.sound.want == 0 {
		t.Error("nothing is too near")
	}
	th.measured(5.5)
	// The weakest of the lines are not measured but left in the sound, where they lie
	// beside the others: what lies 40 dB under a line bends it by 0.09 dB at most.
	floor := max(th.e.rows[0].Level-th.e.is.Down, th.e.sound.rest.Level+40)
	db, _, lines := expect.Worst(th.e.rows, floor)
	t.Logf("%d lines down to %.1f dB under the strongest within %.4f dB, over %.2f s; left %.1f dB", lines, th.e.rows[0].Level-floor, db, th.e.sound.seconds, th.e.sound.rest.Level)
	if len(th.e.is.Why) > 0 || th.e.is.Down < 60 || th.e.rows[0].Level-floor < 40 || lines < 30 || db > th.e.is.Within || th.e.is.Within > 0.1 {
		t.Errorf("why %q, %d lines down to %.0f dB, within %.3f dB; want 30, 60 dB and 0.1 dB", th.e.is.Why, lines, th.e.is.Down, db)
	}
}

func TestNoiseStandsAtItsDensity(t *testing.T) {
	th := newTheory(t, "soot")
	th.put("hiss", "noise")
	th.show("hiss/out")
	th.p.set(func(w *switches) { w.average = 64 })
	th.measured(6)
	bands, worst := 0, 0.0
	for i := range th.e.rows {
		// Below 250 Hz a few seconds hold too little noise to tell a dB.
		if r := &th.e.rows[i]; r.Band && r.Hz > 250 && r.Told == expect.Read {
			bands++
			worst = max(worst, math.Abs(r.OffLevel()))
			if math.Abs(r.OffLevel()) > 4*r.Stray {
				t.Errorf("%s: %.2f dB expected, %.2f found; it strays by %.2f", r.Name, r.Level, r.Found, r.Stray)
			}
		}
	}
	t.Logf("%d thirds of an octave within %.2f dB", bands, worst)
	if bands < 15 {
		t.Errorf("%d bands were read", bands)
	}
	// The dashed line and what the bins show: both as scope.Density counts.
	m := th.p.measure
	floor := m.spectra[0].Density(m.spectra[0].NoiseFloor(500, 15000, m.rate), m.rate)
	want := 10 * math.Log10(th.e.is.Density(5000))
	t.Logf("density %.2f dB in 1 Hz expected, %.2f read as the noise floor", want, floor)
	if math.Abs(floor-want) > 0.5 {
		t.Errorf("the noise floor reads %.2f dB in 1 Hz, expected %.2f", floor, want)
	}
	if text := th.p.large.plates[ofSpectrum].(*spectrumPlate).floorText(0); !strings.Contains(text, "in 1 Hz") {
		t.Errorf("the reading says %q", text)
	}
}
