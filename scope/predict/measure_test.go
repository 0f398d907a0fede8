package predict

import (
	"fmt"
	"math"
	"math/cmplx"
	"slices"

	"gonum.org/v1/gonum/dsp/fourier"

	"lampblack/patch"
	"lampblack/patch/engine"
	"lampblack/patch/kind"
	"lampblack/patch/memory"
)

type tester interface {
	Helper()
	Fatal(...any)
	Fatalf(string, ...any)
}

func build() *patch.Patch { return &patch.Patch{Name: "test", Seed: 1} }

// with adds a module; settings are pairs of control and text.
func with(t tester, p *patch.Patch, name, of string, settings ...string) {
	t.Helper()
	k, ok := kind.Catalogue.Kind(of)
	if !ok {
		t.Fatalf("no kind %q", of)
	}
	m := patch.Module{Name: name, Kind: of, Settings: map[string]patch.Setting{}}
	for i := 0; i < len(settings); i += 2 {
		s, err := patch.ParseSetting(settings[i+1], k.Control(settings[i]))
		if err != nil {
			t.Fatal(err)
		}
		m.Settings[settings[i]] = s
	}
	p.Modules = append(p.Modules, m)
}

// join adds a cord; depth is empty into an input.
func join(t tester, p *patch.Patch, from, output, to, socket, depth string) {
	t.Helper()
	c := patch.Cord{From: patch.Socket{Module: from, Name: output}, To: patch.Socket{Module: to, Name: socket}}
	if depth != "" {
		k, _ := kind.Catalogue.Kind(p.Module(to).Kind)
		control := *k.Control(socket)
		if s, ok := p.Module(to).Settings[socket]; ok {
			if i := control.Scale(s.Unit); i > 0 {
				control.Scales = control.Scales[i : i+1]
			}
		}
		d, err := patch.ParseDepth(depth, &control)
		if err != nil {
			t.Fatal(err)
		}
		c.Depth = d
	}
	p.Cords = append(p.Cords, c)
}

// listen puts an output of 0 dB behind a socket.
func listen(t tester, p *patch.Patch, from, output string) {
	t.Helper()
	with(t, p, "out", "output", "level", "0 dB")
	join(t, p, from, output, "out", "left", "")
}

var heard = patch.Socket{Module: "out", Name: "left"}

// render gives the left side of a patch while a note is held.
func render(t tester, p patch.Patch, c Conditions, seconds float64) []float64 {
	t.Helper()
	m := memory.Memory{}
	if c.Pitch != 0 || c.Velocity != 1 {
		m = memory.Memory{Length: seconds + 1, Notes: []memory.Note{{For: seconds + 1, Pitch: c.Pitch, Velocity: c.Velocity}}}
	}
	r, err := engine.Render(p, m, engine.RenderOptions{Rate: int(c.Rate), Seconds: seconds})
	if err != nil {
		t.Fatal(err)
	}
	return r.Left
}

var usual = Conditions{Rate: 48000, Velocity: 1, Held: true}

// kaiser is a window whose side lobes lie below -190 dB.
func kaiser(n int) []float64 {
	w := make([]float64, n)
	sum := 0.0
	for i := range w {
		r := 2*(float64(i)+0.5)/float64(n) - 1
		w[i] = bessel0(24 * math.Sqrt(1-r*r))
		sum += w[i]
	}
	for i := range w {
		w[i] /= sum
	}
	return w
}

func bessel0(x float64) float64 {
	sum, term := 1.0, 1.0
	for k := 1.0; term > 1e-17*sum; k++ {
		term *= x * x / 4 / k / k
		sum += term
	}
	return sum
}

// lineAt measures the line of x at hz through a window: amplitude and phase at
// sample 0 of the sound, x beginning at sample from.
func lineAt(x, window []float64, from int, hz, rate float64) complex128 {
	var sum complex128
	step := cmplx.Exp(complex(0, -2*math.Pi*hz/rate))
	var z complex128
	for i, v := range x {
		if i%256 == 0 {
			turns := math.Mod(hz*float64(from+i)/rate, 1)
			z = cmplx.Exp(complex(0, -2*math.Pi*turns))
		}
		sum += complex(v*window[i], 0) * z
		z *= step
	}
	if hz < same {
		return sum
	}
	return 2 * sum
}

// rest is x less all predicted lines.
func rest(x []float64, from int, lines []line, rate float64) []float64 {
	out := append([]float64(nil), x...)
	for _, l := range lines {
		step := cmplx.Exp(complex(0, 2*math.Pi*l.hz/rate))
		var z complex128
		for i := range out {
			if i%256 == 0 {
				z = l.a * cmplx.Exp(complex(0, 2*math.Pi*math.Mod(l.hz*float64(from+i)/rate, 1)))
			}
			out[i] -= real(z)
			z *= step
		}
	}
	return out
}

// loudestLine is the highest line of x, by FFT without a window.
func loudestLine(x []float64, rate float64) (hz, amplitude float64) {
	c := fourier.NewFFT(len(x)).Coefficients(nil, x)
	for i, v := range c {
		if a := 2 * cmplx.Abs(v) / float64(len(x)); a > amplitude {
			hz, amplitude = float64(i)*rate/float64(len(x)), a
		}
	}
	return hz, amplitude
}

func db(x float64) float64 { return 20 * math.Log10(math.Abs(x)) }

// off is how far a prediction lies from the sound.
type off struct {
	within, down float64 // what is claimed

	lines int     // that were held against the sound
	worst float64 // in dB
	hz    float64 // where
	rest  float64 // the highest line of what is left, in dBFS
	at    float64 // where
}

func (o off) String() string {
	return fmt.Sprintf("within %.2f dB down to -%.0f dB: %d lines, worst %.6f dB at %.3f Hz, left %.1f dB re the strongest at %.1f Hz", o.within, o.down, o.lines, o.worst, o.hz, o.rest, o.at)
}

// compare renders p and holds every predicted line that is claimed, up to top Hz, against the sound: by what of it is left when all
// lines are taken away, so that close neighbours are told apart.
func compare(t tester, p patch.Patch, c Conditions, settle, seconds, top float64) off {
	t.Helper()
	return compareDown(t, p, c, settle, seconds, top, 0)
}

// compareDown is compare for lines that lie deeper than is claimed.
func compareDown(t tester, p patch.Patch, c Conditions, settle, seconds, top, down float64) off {
	t.Helper()
	w := newWalk(p, c)
	s := w.output(heard)
	w.down = math.Max(w.down, down)
	if len(s.why) > 0 {
		t.Fatalf("not predicted: %q", s.why)
	}
	from := int(settle * c.Rate)
	x := render(t, p, c, settle+seconds)[from:]
	window := kaiser(len(x))
	strongest := 0.0
	for _, l := range s.lines {
		strongest = math.Max(strongest, cmplx.Abs(l.a))
	}
	left := rest(x, from, s.lines, c.Rate)
	o := off{within: w.claimed, down: w.down}
	tied := len(slices.DeleteFunc(slices.Clone(s.lines), func(l line) bool { return l.turn == 0 })) == 0
	for _, l := range w.report(s.lines) {
		if l.Amplitude == 0 || l.Level < db(strongest)-w.down || l.Hz > math.Min(top, w.up) {
			continue
		}
		o.lines++
		var d float64
		if tied {
			d = db(1 + cmplx.Abs(lineAt(left, window, from, l.Hz, c.Rate))/math.Abs(l.Amplitude))
		} else { // phases are not known: levels alone
			got := cmplx.Abs(lineAt(x, window, from, l.Hz, c.Rate))
			d = db(math.Max(1, math.Max(got/l.Most, l.Least/got)))
		}
		if d > o.worst {
			o.worst, o.hz = d, l.Hz
		}
	}
	hz, a := loudestLine(left, c.Rate)
	o.rest, o.at = db(a/math.Max(strongest, 1e-9)), hz
	return o
}
