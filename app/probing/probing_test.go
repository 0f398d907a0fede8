package probing

import (
	"fmt"
	"math"
	"math/cmplx"
	"strings"
	"testing"

	"lampblack/patch"
	"lampblack/patch/kind"
	"lampblack/scope/scipy"
	"lampblack/scope/sounding"
)

const rate = 48000

// made is a module of a kind with settings as they are typed.
func made(t testing.TB, name, kindName string, settings ...string) patch.Module {
	t.Helper()
	k, ok := kind.Catalogue.Kind(kindName)
	if !ok {
		t.Fatalf("there is no kind %q", kindName)
	}
	m := patch.Module{Name: name, Kind: kindName, Settings: map[string]patch.Setting{}}
	for i := 0; i < len(settings); i += 2 {
		s, err := patch.ParseSetting(settings[i+1], k.Control(settings[i]))
		if err != nil {
			t.Fatal(err)
		}
		m.Settings[settings[i]] = s
	}
	return m
}

func alone(t testing.TB, in, out, kindName string, settings ...string) Way {
	t.Helper()
	p := patch.Patch{Modules: []patch.Module{made(t, "it", kindName, settings...)}}
	w, err := Alone(&p, "it", in, out, rate)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

func cord(from, to string) patch.Cord {
	a, b := strings.Split(from, "/"), strings.Split(to, "/")
	return patch.Cord{From: patch.Socket{Module: a[0], Name: a[1]}, To: patch.Socket{Module: b[0], Name: b[1]}}
}

// The kinds whose formulas are the handbooks', against scipy's own bilinear
// transform of the analogue prototype, with the corner in its exact place.
func TestFiltersMeasureWhatScipyComputes(t *testing.T) {
	hz := sounding.Steps(20, 18000, 60)
	for _, c := range []struct {
		name, kind, out string
		settings        []string
		b, a            string // over s, of a corner of 1
		corner          float64
	}{
		{"low-pass, Q 0.7071", "filter", "low", []string{"cutoff", "900 Hz", "width", "Q 0.7071"}, "[1]", "[1, 1/0.7071, 1]", 900},
		{"high-pass, Q 8", "filter", "high", []string{"cutoff", "3 kHz", "width", "Q 8"}, "[1, 0, 0]", "[1, 1/8, 1]", 3000},
		{"band-pass, Q 20", "filter", "band", []string{"cutoff", "9 kHz", "width", "Q 20"}, "[1/20, 0]", "[1, 1/20, 1]", 9000},
		{"one pole", "dcblock", "out", []string{"cutoff", "80 Hz", "poles", "one"}, "[1, 0]", "[1, 1]", 80},
	} {
		var want struct{ Re, Im []float64 }
		scipy.Ask(t, fmt.Sprintf("g = 2*48000*np.tan(np.pi*%g/48000)\nb, a = s.lp2lp(%s, %s, g)\nb, a = s.bilinear(b, a, 48000)\n"+
			"_, h = s.freqz(b, a, np.geomspace(20, 18000, 60), fs=48000)\nprint(json.dumps({'Re': list(h.real), 'Im': list(h.imag)}))", c.corner, c.b, c.a), nil, &want)
		answer, err := alone(t, "in", c.out, c.kind, c.settings...).Impulse()
		if err != nil {
			t.Fatal(err)
		}
		wants := make([]complex128, len(hz))
		for i := range hz {
			wants[i] = complex(want.Re[i], want.Im[i])
		}
		got := answer.Gains(hz)
		db, at := sounding.Worst(wants, got, 100)
		phase := 0.0
		for i := range got {
			phase = math.Max(phase, math.Abs(cmplx.Phase(got[i]/wants[i])))
		}
		t.Logf("%s: worst %.7f dB at %.0f Hz, %.7f degrees", c.name, db, hz[at], phase*180/math.Pi)
		if !(db < 1e-4) || phase > 1e-4 {
			t.Errorf("%s: off by %.5f dB at %.0f Hz, %.5f rad", c.name, db, hz[at], phase)
		}
	}
}

// linear are modules that package predict has formulas of.
var linear = []struct {
	kind, in, out string
	settings      []string
}{
	{"filter", "in", "low", []string{"cutoff", "900 Hz", "width", "300 Hz"}},
	{"filter", "in", "band", []string{"cutoff", "9 kHz", "width", "1.5 oct", "peak", "6 dB"}},
	{"filter", "in", "notch", []string{"cutoff", "3 kHz", "width", "0.7 oct"}},
	{"filter", "in", "bell", []string{"cutoff", "3 kHz", "width", "Q 3", "boost", "-9 dB"}},
	{"ladder", "in", "out", []string{"cutoff", "3 kHz", "resonance", "60 %", "bass", "50 %"}},
	{"ladder", "in", "out", []string{"cutoff", "300 Hz", "resonance", "95 %", "drive", "36 dB"}},
	{"allpass", "in", "out", []string{"centre", "1 kHz", "stages", "6", "feedback", "40 %"}},
	{"tilt", "in", "out", []string{"pivot", "1 kHz", "tilt", "9 dB"}},
	{"dcblock", "in", "out", []string{"cutoff", "80 Hz", "poles", "two"}},
	{"delay", "in", "echo", []string{"time", "7.75 ms", "feedback", "60 %", "high cut", "5 kHz", "low cut", "15 Hz"}},
	{"delay", "in", "echo", []string{"time", "2 s", "feedback", "40 %"}},
	{"resonator", "in", "out", []string{"frequency", "441.3 Hz", "decay", "80 ms", "damping", "8", "kept", "strike"}},
	{"bands", "in", "out", []string{"tilt", "-2 dB", "1 kHz", "-12 dB", "8 kHz", "6 dB"}},
	{"width", "left", "side", []string{"width", "150 %", "mono below", "400 Hz"}},
	{"amplifier", "in", "out", []string{"level", "-6 dB"}},
	{"pan", "in", "left", nil},
}

func TestWhatIsMeasuredIsWhatIsComputed(t *testing.T) {
	hz := sounding.Steps(20, 18000, 61)
	for _, c := range linear {
		w := alone(t, c.in, c.out, c.kind, c.settings...)
		computed, err := w.Computed(hz)
		if err != nil {
			t.Fatal(err)
		}
		answer, err := w.Impulse()
		if err != nil {
			t.Fatal(err)
		}
		db, at := sounding.Worst(computed, answer.Gains(hz), 80)
		t.Logf("%s/%s %v: impulse, worst %.6f dB at %.0f Hz (%.2f s)", c.kind, c.out, c.settings, db, hz[max(at, 0)], float64(len(answer.Samples))/rate)
		if at < 0 || !(db < 0.01) {
			t.Errorf("%s/%s %v: off by %.4f dB at %.0f Hz", c.kind, c.out, c.settings, db, hz[max(at, 0)])
		}
	}
}

func TestASweepMeasuresTheSame(t *testing.T) {
	hz := sounding.Steps(20, 18000, 61)
	for _, c := range []int{0, 3, 4, 7} {
		c := linear[c]
		w := alone(t, c.in, c.out, c.kind, c.settings...)
		computed, err := w.Computed(hz)
		if err != nil {
			t.Fatal(err)
		}
		answers, err := w.Sweep(-60, 3)
		if err != nil {
			t.Fatal(err)
		}
		db, at := sounding.Worst(computed, answers[0].Gains(hz), 60)
		t.Logf("%s/%s %v: sweep, worst %.6f dB at %.0f Hz", c.kind, c.out, c.settings, db, hz[at])
		if !(db < 0.01) {
			t.Errorf("%s/%s %v: the sweep is off by %.4f dB at %.0f Hz", c.kind, c.out, c.settings, db, hz[at])
		}
	}
}

// tanh x = x - x^3/3 + ...: a sine of amplitude A has a third harmonic of A^2/12 of
// it while A is small (Abramowitz & Stegun 4.5.64 and 4.3.28).
func TestASweepTellsTheHarmonicsOfASaturation(t *testing.T) {
	w := alone(t, "in", "out", "saturation", "drive", "0 dB", "curve", "soft")
	answers, err := w.Sweep(-20, 3)
	if err != nil {
		t.Fatal(err)
	}
	for _, hz := range []float64{100, 500, 2000} {
		g, _ := answers[2].At(3 * hz)
		want := 20 * math.Log10(0.01/12*(1-0.01*0.3)) // the next term of the series takes 5/16 x 2/15 A^4 x 12
		if math.Abs(sounding.DB(g)-want) > 0.1 {
			t.Errorf("the third harmonic of %g Hz reads %.2f dB, want %.2f dB", hz, sounding.DB(g), want)
		}
		if g, _ := answers[1].At(2 * hz); sounding.DB(g) > -100 {
			t.Errorf("an odd curve has a second harmonic of %.1f dB at %g Hz", sounding.DB(g), hz)
		}
	}
}

// Other sounds that come in on the way are taken away, and cords into controls
// do not move them.
func TestTheWholePathIsMeasuredAmongOtherSounds(t *testing.T) {
	p := patch.Patch{Seed: 7, Modules: []patch.Module{
		made(t, "reed", "oscillator", "frequency", "220 Hz"), made(t, "wind", "noise"),
		made(t, "sway", "slow", "rate", "3 Hz"), made(t, "mouth", "filter", "cutoff", "800 Hz", "width", "Q 4"),
		made(t, "hall", "delay", "time", "20 ms", "feedback", "30 %", "mix", "40 %"), made(t, "sum", "mixer"),
	}, Cords: []patch.Cord{cord("reed/out", "sum/1"), cord("wind/out", "sum/2"), cord("sum/out", "mouth/in"), cord("mouth/band", "hall/in"),
		{From: patch.Socket{Module: "sway", Name: "out"}, To: patch.Socket{Module: "mouth", Name: "cutoff"}, Depth: patch.Setting{Value: 1, Unit: "oct"}}}}
	to := patch.Socket{Module: "hall", Name: "out"}
	sources := Sources(&p, to)
	if len(sources) != 2 || sources[0].Module != "reed" {
		t.Fatalf("the sources are %v", sources)
	}
	for _, at := range []float64{800, 1600} {
		still := Still(&p, func(m, c string) (float64, bool) { return at, m == "mouth" && c == "cutoff" })
		w, err := Through(&still, sources[0], to, rate)
		if err != nil {
			t.Fatal(err)
		}
		// mouth alone in a delay of 20 ms: at 1/20 ms multiples all repeats are in step.
		answer, err := w.Impulse()
		if err != nil {
			t.Fatal(err)
		}
		hz := sounding.Steps(20, 18000, 100)
		computed, err := w.Computed(hz)
		if err != nil {
			t.Fatal(err)
		}
		if db, k := sounding.Worst(computed, answer.Gains(hz), 80); k < 0 || !(db < 0.01) {
			t.Errorf("cutoff at %g Hz: off by %.5f dB at %.0f Hz", at, db, hz[max(k, 0)])
		}
		if f := sounding.Read(sounding.Trace(20, 18000, nil, func(hz []float64) []float64 { return levels(answer.Gains(hz)) })); math.Abs(f.Highest.X/at-1) > 0.02 {
			t.Errorf("held at %g Hz the peak lies at %.1f Hz", at, f.Highest.X)
		}
	}
}

func levels(gains []complex128) []float64 {
	all := make([]float64, len(gains))
	for i, g := range gains {
		all[i] = sounding.DB(g)
	}
	return all
}

func TestWhatSingsHasNoResponse(t *testing.T) {
	w := alone(t, "in", "out", "ladder", "resonance", "110 %")
	if _, err := w.Computed([]float64{1000}); err == nil || !strings.Contains(err.Error(), "sings") {
		t.Errorf("of a ladder that sings it computes %v", err)
	}
	if a, err := w.Impulse(); err == nil {
		t.Errorf("and measures %d samples", len(a.Samples))
	}
}

// A source that is heard comes before one that only moves an amplifier, however
// near that is.
func TestWhatIsHeardComesBeforeWhatModulates(t *testing.T) {
	p := patch.Patch{Modules: []patch.Module{made(t, "reed", "oscillator"), made(t, "beat", "oscillator"), made(t, "mouth", "filter"), made(t, "wings", "amplifier")},
		Cords: []patch.Cord{cord("beat/out", "wings/modulation"), cord("mouth/low", "wings/in"), cord("reed/out", "mouth/in")}}
	all := Sources(&p, patch.Socket{Module: "wings", Name: "out"})
	if len(all) != 2 || all[0].Module != "reed" || all[1].Module != "beat" {
		t.Errorf("the sources are %v", all)
	}
	// What swings the amplifier stands still: the way is that of the filter alone.
	w, err := Through(&p, all[0], patch.Socket{Module: "wings", Name: "out"}, rate)
	if err != nil {
		t.Fatal(err)
	}
	answer, err := w.Impulse()
	if err != nil {
		t.Fatal(err)
	}
	hz := sounding.Steps(20, 18000, 40)
	computed, err := alone(t, "in", "low", "filter").Computed(hz)
	if err != nil {
		t.Fatal(err)
	}
	if db, at := sounding.Worst(computed, answer.Gains(hz), 80); at < 0 || !(db < 0.01) {
		t.Errorf("off by %.4f dB", db)
	}
	if _, err := Through(&p, all[1], patch.Socket{Module: "wings", Name: "out"}, rate); err != nil {
		t.Errorf("by the modulation input no way leads: %v", err)
	}
}
