package picture

import (
	"fmt"
	"image/color"
	"io"
	"math"
	"strings"
	"testing"
)

// The trace spans the axis from its first to its last column, so a frequency has
// its place by the definition of a logarithmic axis: log f. The lines are centred
// in a bin of 16,384 samples, so that the window takes nothing off (a full-scale
// sine is 0 dBFS); the picture reaches from -120 to 0.
func TestSpectrumLinesStandWhereTheyBelong(t *testing.T) {
	for _, ink := range []Ink{Soot, Paper} {
		for _, line := range []struct{ bin, dB float64 }{{34, 0}, {341, -20}, {341, -60}, {3413, -6}, {6000, -100}} {
			hz := line.bin * 48000 / 16384
			s := asSVG(t, spectrumOf(tone(48000, math.Pow(10, line.dB/20), hz)), Options{Ink: &ink})
			trace := s.trace(t, ink.Left)
			first, last := trace[0], trace[len(trace)-1]
			column := (last[0] - first[0]) / float64(len(trace)-1)
			left, width := first[0]-column/2, last[0]-first[0]+column
			top := highest(trace)
			if want := left + width*math.Log(hz/20)/math.Log(1000); math.Abs(top[0]-want) > column {
				t.Errorf("%s: %.1f Hz stands at %.2f pt, want %.2f within %.2f", ink.Name, hz, top[0], want, column)
			}
			floor := lowestOf(trace)
			height := (highest(asSVG(t, spectrumOf(tone(48000, 1, 34*48000./16384)), Options{Ink: &ink}).trace(t, ink.Left))[1] - floor) / 120
			if want := floor + height*(line.dB+120); math.Abs(top[1]-want) > 0.5*height {
				t.Errorf("%s: %g dB at %.1f Hz stands at %.2f pt, want %.2f", ink.Name, line.dB, hz, top[1], want)
			}
			if want := hertz(hz) + "  " + number(line.dB, 1); !s.says(want) {
				t.Errorf("%s: no label says %q: %q", ink.Name, want, s.texts)
			}
		}
	}
}

func lowestOf(points [][2]float64) float64 {
	low := math.Inf(1)
	for _, p := range points {
		low = min(low, p[1])
	}
	return low
}

// A tone of 1 kHz from 1 to 2 s of 4 s is dark there and only there: in the row of
// 1 kHz on a logarithmic axis from 20 to 20,000 Hz.
func TestSpectrogramShowsATonesTimeAndFrequency(t *testing.T) {
	samples := make([]float64, 4*48000)
	copy(samples[48000:], tone(48000, 0.5, 1000))
	s := asSVG(t, func(w io.Writer, o Options) error { return Spectrogram(w, mono(samples), nil, o) }, Options{})
	img := s.images[0].image
	size := img.Bounds().Size()
	dark := func(second, hz float64) float64 {
		x := int(second / 4 * float64(size.X))
		y := int((1 - math.Log(hz/20)/math.Log(1000)) * float64(size.Y))
		return lightness(img.At(x, y))
	}
	ground, ink := lightness(Paper.Ground), lightness(Paper.Drawn)
	// The tone has -6.02 dBFS; the darkest shade is that of -5, rounded up, and 90 dB
	// lie between the two ends: the tone is 1/90 of the way from the darkest.
	if want := ink + (ground-ink)*1.02/90; math.Abs(dark(1.5, 1000)-want) > 2 {
		t.Errorf("the tone has a lightness of %.1f, want %.1f", dark(1.5, 1000), want)
	}
	for _, silent := range [][2]float64{{0.5, 1000}, {2.5, 1000}, {3.9, 1000}, {1.5, 300}, {1.5, 4000}} {
		if got := dark(silent[0], silent[1]); math.Abs(got-ground) > 1 {
			t.Errorf("at %g s and %g Hz the lightness is %.1f, want that of the ground, %.1f", silent[0], silent[1], got, ground)
		}
	}
	darkest, row := 255.0, 0
	for y := range size.Y {
		if l := lightness(img.At(size.X*3/8, y)); l < darkest {
			darkest, row = l, y
		}
	}
	// A bin of 4096 samples is 11.7 Hz wide: the row may be off by half of it.
	if hz := 20 * math.Pow(1000, 1-(float64(row)+0.5)/float64(size.Y)); math.Abs(hz-1000) > 6+1000*math.Log(1000)/float64(size.Y) {
		t.Errorf("the darkest row is that of %.1f Hz", hz)
	}
	// Half of the window before and after the tone its edge is 6 dB down.
	for x := range size.X {
		second := (float64(x) + 0.5) / float64(size.X) * 4
		if loud := dark(second, 1000) < ink+(ground-ink)*8/90; loud != (second > 1 && second < 2) && math.Abs(second-1) > 0.01 && math.Abs(second-2) > 0.01 {
			t.Fatalf("at %.3f s the tone is %v", second, loud)
		}
	}
}

func lightness(c color.Color) float64 {
	r, g, b, _ := c.RGBA()
	return float64(r+g+b) / 3 / 257
}

func TestMovesStandOnTheFrequencyAxis(t *testing.T) {
	moves := []Move{
		{Name: "reed / centre", Unit: "Hz", Points: []Point{{-1, 200}, {1, 2000}, {2, math.NaN()}, {3, 200}, {5, 200}}},
		{Name: "wings / level", Unit: "dB", Low: -40, High: 0, Points: []Point{{0, -20}, {4, -20}}},
	}
	s := asSVG(t, func(w io.Writer, o Options) error {
		return Spectrogram(w, mono(make([]float64, 4*48000)), moves, o)
	}, Options{})
	i := s.images[0]
	place := func(second, part float64) [2]float64 {
		return [2]float64{i.x + second/4*i.width, i.y + part*i.height}
	}
	decade := func(hz float64) float64 { return math.Log(hz/20) / math.Log(1000) }
	want := [][][2]float64{
		{place(0, decade(1100)), place(1, decade(2000))}, // cut at the edge
		{place(3, decade(200)), place(4, decade(200))},
		{place(0, 0.5), place(4, 0.5)},
	}
	found := 0
	for _, p := range s.paths {
		if !strings.Contains(p.style, "#8A620F") || p.points[0][1] > i.y+i.height {
			continue // the names over the field have samples of their lines
		}
		for k, w := range want[found] {
			if math.Hypot(p.points[k][0]-w[0], p.points[k][1]-w[1]) > 0.2 {
				t.Errorf("part %d: point %d at %.1f, want %.1f", found, k, p.points[k], w)
			}
		}
		found++
	}
	if found != len(want) || !s.says("wings / level (−40.0 to 0.0 dB)") {
		t.Errorf("%d parts are drawn; %q", found, s.texts)
	}
}

// A square of amplitude 0.5 from 1.5 s on has an RMS of 0.5: -6.02 dBFS, of 80 dB
// from edge to edge.
func TestEnvelopeStandsWhereItBelongs(t *testing.T) {
	samples := make([]float64, 2*48000)
	for i := 72000; i < len(samples); i++ {
		samples[i] = math.Copysign(0.5, math.Sin(float64(i)/3))
	}
	s := asSVG(t, func(w io.Writer, o Options) error { return Envelope(w, mono(samples), o) }, Options{})
	trace := s.trace(t, Paper.Left)
	floor, top := trace[0][1], trace[len(trace)-1]
	ruled := 0.0
	for _, p := range s.paths { // the uppermost rule is that of 0 dBFS
		if strings.Contains(p.style, "#DDD3BF") && len(p.points) == 2 && p.points[0][1] == p.points[1][1] {
			ruled = max(ruled, p.points[0][1])
		}
	}
	if want := floor + (ruled-floor)*(80-6.0206)/80; math.Abs(top[1]-want) > 0.05 {
		t.Errorf("the level stands at %.2f pt, want %.2f", top[1], want)
	}
	for i, p := range trace {
		second := (float64(i%len(trace)) + 0.5) / float64(len(trace)) * 2
		if up := p[1] > floor; up != (second > 1.475) && math.Abs(second-1.475) > 0.002 {
			t.Fatalf("at %.4f s the level is up: %v; it must rise at 1.475 s, 25 ms before the square", second, up)
		}
	}
}

// Full scale spans the ruled height, half of it half; a burst in the last quarter
// stands there.
func TestWaveformStandsWhereItBelongs(t *testing.T) {
	burst := func(amplitude float64) (height, from float64) {
		samples := make([]float64, 48000)
		for i := 36000; i < len(samples); i++ {
			samples[i] = math.Copysign(amplitude, math.Sin(float64(i)/3))
		}
		s := asSVG(t, func(w io.Writer, o Options) error { return Waveform(w, mono(samples), o) }, Options{})
		trace := s.trace(t, Paper.Left)
		for _, p := range trace[:len(trace)/2] {
			if p[1]-trace[0][1] > 5 {
				from = (p[0] - trace[0][0]) / (trace[len(trace)/2-1][0] - trace[0][0])
				break
			}
		}
		return highest(trace)[1] - lowestOf(trace), from
	}
	full, at := burst(1)
	half, _ := burst(0.5)
	if math.Abs(half/full-0.5) > 0.002 || math.Abs(at-0.75) > 0.001 {
		t.Errorf("half of full scale is %.4f of its height; the burst begins at %.4f of the width", half/full, at)
	}
}

// The oscilloscope's screen: 1 kHz at 0.2 ms a division has a period of five
// divisions, and 0.5 at 0.25 a division stands two divisions up.
func TestScopeShowsDivisionsAndReadsItsCursors(t *testing.T) {
	g := Oscillogram{A: tone(4800, 0.5, 1000), NameA: "reed / out", Rate: 48000, First: 480, PerDivision: 0.0002, Cursors: []float64{0.00025, 0.00075}}
	s := asSVG(t, func(w io.Writer, o Options) error { return Scope(w, g, o) }, Options{})
	trace := s.trace(t, Paper.Left)
	width, height := trace[len(trace)-1][0]-trace[0][0], highest(trace)[1]-lowestOf(trace)
	half := len(trace) / 2
	for i, part := range [][][2]float64{trace[:half], trace[half:]} {
		at := (highest(part)[0] - trace[0][0]) / width
		if want := 0.125 + 0.5*float64(i); math.Abs(at-want) > 0.003 {
			t.Errorf("a peak stands at %.4f of the width, want %g", at, want)
		}
	}
	ruled := highest(s.pathsIn("#DDD3BF"))[1] - lowestOf(s.pathsIn("#DDD3BF"))
	if math.Abs(height/ruled-0.5) > 0.002 {
		t.Errorf("1 from peak to peak at 0.25 a division spans %.4f of the eight divisions, want 0.5", height/ruled)
	}
	for _, want := range []string{"A  0.5000", "A  −0.5000", "0.500 ms", "A  −1.0000", "1/t  2.000 kHz"} {
		if !s.says(want) {
			t.Errorf("the readings lack %q: %q", want, s.texts)
		}
	}
}

// pathsIn returns all points of the paths in a colour.
func (s svgFile) pathsIn(colour string) (all [][2]float64) {
	for _, p := range s.paths {
		if strings.Contains(p.style, colour) {
			all = append(all, p.points...)
		}
	}
	return all
}

// Equal signals make a line that rises by 45 degrees, opposite ones one that
// falls; a quarter of a period between them makes a circle of correlation 0.
func TestXYOfKnownPairs(t *testing.T) {
	a, opposite, quarter := tone(4800, 0.7, 100), tone(4800, -0.7, 100), make([]float64, 4800)
	for i := range quarter {
		quarter[i] = 0.7 * math.Cos(2*math.Pi*100*float64(i)/48000)
	}
	for _, c := range []struct {
		b           []float64
		correlation string
		on          func(x, y float64) float64 // 0 on the figure
	}{
		{a, "1.00", func(x, y float64) float64 { return x - y }},
		{opposite, "−1.00", func(x, y float64) float64 { return x + y }},
		{quarter, "0.00", func(x, y float64) float64 { return math.Hypot(x, y) - 0.7 }},
	} {
		s := asSVG(t, func(w io.Writer, o Options) error { return XY(w, a, c.b, "A", "B", o) }, Options{})
		rules := s.pathsIn("#DDD3BF")
		left, bottom := math.Inf(1), lowestOf(rules)
		for _, r := range rules {
			left = min(left, r[0])
		}
		side := highest(rules)[1] - bottom
		for _, p := range s.pathsIn("#B8341C") {
			x, y := 2*(p[0]-left)/side-1, 2*(p[1]-bottom)/side-1
			if math.Abs(c.on(x, y)) > 0.003 {
				t.Fatalf("correlation %s: a point at %.4f, %.4f", c.correlation, x, y)
			}
		}
		if !s.says("correlation " + c.correlation) {
			t.Errorf("want a correlation of %s: %q", c.correlation, s.texts)
		}
	}
}

func TestLevelsStandOnTheirAxis(t *testing.T) {
	l := Levels{Name: "Loudness", Unit: "LUFS", To: 10, Low: -40, High: -10, Curves: []Curve{{"short-term", []Point{{0, -40}, {5, -25}, {10, -10}}}}, Marks: []Mark{{"integrated", -23.04}}}
	s := asSVG(t, func(w io.Writer, o Options) error { return LevelsOverTime(w, l, o) }, Options{})
	p := s.trace(t, Paper.Left)
	if math.Abs(p[1][0]-(p[0][0]+p[2][0])/2) > 0.02 || math.Abs(p[1][1]-(p[0][1]+p[2][1])/2) > 0.02 || p[2][1] < p[0][1]+100 {
		t.Errorf("the curve goes through %v", p)
	}
	for _, want := range []string{"Loudness", "LUFS", "short-term", "integrated", "−23.0"} {
		if !s.says(want) {
			t.Errorf("the picture lacks %q: %q", want, s.texts)
		}
	}
}

func TestMarksHaveRoundNumbers(t *testing.T) {
	for _, test := range []struct {
		low, high float64
		n         evenly
		want      string
	}{
		{-1, 1, 4, "\u22121.0 \u22120.5 0.0 0.5 1.0"},
		{-120, 0, 6, "\u2212120 \u2212100 \u221280 \u221260 \u221240 \u221220 0"},
		{0, 3.4, 8, "0.0 0.5 1.0 1.5 2.0 2.5 3.0"},
		{0, 0.001, 8, "0.0000 0.0002 0.0004 0.0006 0.0008 0.0010"},
	} {
		var got []string
		for _, tick := range test.n.Ticks(test.low, test.high) {
			got = append(got, tick.Label)
		}
		if strings.Join(got, " ") != test.want {
			t.Errorf("%g to %g: %s; want %s", test.low, test.high, strings.Join(got, " "), test.want)
		}
	}
}

func ExampleThirdOctaves() {
	for _, b := range ThirdOctaves(tone(96000, 0.5, 1000), 48000)[17:18] {
		fmt.Printf("%s Hz: %.1f dBFS\n", b.Name, 20*math.Log10(b.RMS))
	}
	// Output: 1k Hz: -9.0 dBFS
}
