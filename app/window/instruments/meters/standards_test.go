package meters

import (
	"fmt"
	"math"
	"testing"
)

// part is a stretch of a sine of 1 kHz.
type part struct{ dB, seconds float64 }

func programme(parts ...part) []float64 {
	var all []float64
	for _, p := range parts {
		if math.IsInf(p.dB, -1) {
			all = append(all, make([]float64, int(p.seconds*rate))...)
			continue
		}
		for range int(p.seconds*rate + 0.5) {
			all = append(all, math.Pow(10, p.dB/20)*math.Sin(2*math.Pi*math.Mod(1000*float64(len(all))/rate, 1)))
		}
	}
	return all
}

// times repeats parts.
func times(n int, parts ...part) (all []part) {
	for range n {
		all = append(all, parts...)
	}
	return all
}

// ramped fades 10 ms at both ends, as the published signals do.
func ramped(x []float64) []float64 {
	for i := range rate / 100 {
		x[i] *= float64(i) / (rate / 100)
		x[len(x)-1-i] *= float64(i) / (rate / 100)
	}
	return x
}

// EBU Tech 3341, version 4, table 1: +-0.1 LU.
func TestLoudnessOfTech3341(t *testing.T) {
	for _, c := range []struct {
		name                         string
		parts                        []part
		momentary, short, integrated float64 // LUFS; 0 is not asked for
	}{
		{"case 1", []part{{-23, 20}}, -23, -23, -23},
		{"case 2", []part{{-33, 20}}, -33, -33, -33},
		{"case 3", []part{{-36, 10}, {-23, 60}, {-36, 10}}, 0, 0, -23},
		{"case 5", []part{{-26, 20}, {-20, 20.1}, {-26, 20}}, 0, 0, -23},
		{"case 9", times(5, part{-20, 1.34}, part{-30, 1.66}), 0, -23, 0},
		{"case 12", times(25, part{-20, 0.18}, part{-30, 0.22}), -23, 0, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := newStand(t, "soot")
			x := programme(c.parts...)
			s.play(x, x)
			s.listen(float64(len(x))/rate - 0.1)
			for _, read := range []struct {
				name      string
				got, want float64
			}{
				{"M", s.p.shown.loud.Momentary, c.momentary}, {"S", s.p.shown.loud.ShortTerm, c.short}, {"I", s.p.shown.loud.Integrated, c.integrated},
			} {
				if read.want != 0 {
					s.near(read.name, read.got, read.want, 0.1)
				}
			}
		})
	}
}

// ITU-R BS.1770-5, annex 1: a sine of 997 Hz and 0 dBFS in one of left, right and
// centre reads -3.01 LKFS.
func TestLoudnessOfBS1770(t *testing.T) {
	s := newStand(t, "soot")
	s.p.set.target = 1
	s.play(sine(6, 0, 997, 0), make([]float64, 6*rate))
	s.listen(5)
	s.near("one channel", s.p.shown.loud.ShortTerm, -3.01, 0.01)
	if one, _ := s.p.Reading(); one[:len("integrated −3.0 LKFS")] != "integrated −3.0 LKFS" {
		t.Errorf("the plate says %q", one)
	}
}

// EBU Tech 3342, version 4, table 1: +-1 LU. The ends are the parts' own loudness.
func TestRangeOfTech3342(t *testing.T) {
	for _, c := range []struct {
		name            string
		parts           []part
		want, low, high float64
	}{
		{"case 1", []part{{-20, 20}, {-30, 20}}, 10, -30, -20},
		{"case 2", []part{{-20, 20}, {-15, 20}}, 5, -20, -15},
		{"case 3", []part{{-40, 20}, {-20, 20}}, 20, -40, -20},
	} {
		s := newStand(t, "soot")
		x := programme(c.parts...)
		s.play(x, x)
		s.listen(39.9)
		s.near(c.name+", range", s.p.shown.loud.Range, c.want, 1)
		s.near(c.name+", from", s.p.shown.loud.Low, c.low, 0.1)
		s.near(c.name+", to", s.p.shown.loud.High, c.high, 0.1)
	}
}

// IEC 60268-10:1991, type IIa: bursts of 5 kHz re a steady tone (values and
// tolerances from memory).
func TestBurstsOfTheProgrammeMeter(t *testing.T) {
	const dB = -10 // the permitted maximum: mark 6
	for _, c := range []struct{ ms, want, tolerance float64 }{
		{100, 0, 0.5}, {10, -2.2, 0.5}, {5, -4, 0.75}, {1.5, -9, 1},
	} {
		s := newStand(t, "soot")
		burst := sine(c.ms/1000, dB, 5000, 0)
		x := append(append(make([]float64, rate/2), burst...), make([]float64, rate)...)
		s.play(x, x)
		s.listen(1)
		s.near(fmt.Sprintf("%g ms", c.ms), s.p.shown.sides[0].ppmMost-dB, c.want, c.tolerance)
	}
}

// The same standard: mark 6 is 8 dB over mark 4, and the needle falls 24 dB in 2.8 s,
// +-0.3 s. Line-up: EBU R 68, mark 4 at -18 dBFS.
func TestMarksAndFallOfTheProgrammeMeter(t *testing.T) {
	s := newStand(t, "soot")
	x := programme(part{-18, 3}, part{-10, 3}, part{math.Inf(-1), 4})
	s.play(x, x)
	s.listen(2.5)
	s.near("mark", ppmOf(s.p.shown.sides[1].ppm, s.p.set.alignment), 4, 0.05)
	if text := s.p.ppmText(s.p.shown.sides[0].ppm); text != "4.0" {
		t.Errorf("line-up tone reads %q", text)
	}
	s.listen(3)
	s.near("mark", ppmOf(s.p.shown.sides[0].ppm, s.p.set.alignment), 6, 0.05)
	fell, before := 0.0, s.p.shown.sides[0].ppm
	s.listen10(4, func(at float64) {
		now := s.p.shown.sides[0].ppm
		switch {
		case now >= before-0.02:
			fell = at
		case now <= before-24 && fell >= 0:
			s.near("fall of 24 dB, s", at-fell, 2.8, 0.3)
			fell = -1
		}
	})
	if fell >= 0 {
		t.Error("the needle does not fall")
	}
}

// IEC 60268-17:1990: a tone of 1 kHz at 0 VU brings the needle to 99 % in 300 ms,
// +-10 %, and 1 to 1.5 % too far.
func TestNeedleOfTheVolumeIndicator(t *testing.T) {
	s := newStand(t, "soot")
	x := programme(part{math.Inf(-1), 1}, part{-18, 4})
	s.play(x, x)
	began, reached, most := math.NaN(), math.NaN(), 0.0
	s.listen10(3, func(at float64) {
		now := math.Pow(10, (s.p.shown.sides[0].vu+18)/20)
		if now == 0 {
			began = at
		}
		if math.IsNaN(reached) && now >= 0.99 {
			reached = at
		}
		most = max(most, now)
	})
	s.near("99 %, ms", 1000*(reached-began), 300, 30)
	s.near("overshoot, %", 100*(most-1), 1.25, 0.25)
	s.near("0 VU", s.p.shown.sides[0].vu-s.p.set.alignment, 0, 0.05)
}

// EBU Tech 3341, version 4, cases 15 to 19: +0.2, -0.4 dB.
func TestTruePeakOfTech3341(t *testing.T) {
	for _, c := range []struct {
		name                string
		peak, part, degrees float64
		want                float64 // dBTP
	}{
		{"case 15", 0.50, 4, 0, -6},
		{"case 16", 0.50, 4, 45, -6},
		{"case 17", 0.50, 6, 60, -6},
		{"case 18", 0.50, 8, 67.5, -6},
		{"case 19", 1.41, 4, 45, 3},
	} {
		s := newStand(t, "soot")
		x := ramped(sine(1, 20*math.Log10(c.peak), rate/c.part, c.degrees))
		s.play(x, x)
		s.listen(0.8)
		s.near(c.name+", now", s.p.shown.sides[0].peak, c.want-0.1, 0.3)
		s.near(c.name+", highest", s.p.shown.sides[1].peakMost, c.want-0.1, 0.3)
		if text := overText(&s.p.shown); (text == "over −1, dBTP") != (c.want > permitted) {
			t.Errorf("%s: it says %q", c.name, text)
		}
	}
}

// The correlation of sines a phase apart is the cosine of that phase.
func TestCorrelationOfPhases(t *testing.T) {
	for _, c := range []struct {
		degrees, want float64
		text          string
	}{{0, 1, "+1.00"}, {90, 0, "0.00"}, {180, -1, "−1.00"}, {60, 0.5, "+0.50"}} {
		s := newStand(t, "soot")
		s.play(sine(4, -18, 1000, 0), sine(4, -18, 1000, c.degrees))
		s.listen(2)
		s.near("correlation", s.p.shown.correlation, c.want, 0.001)
		if text := s.p.correlationText(&s.p.shown); text[:len(c.text)] != c.text {
			t.Errorf("%g degrees: it says %q", c.degrees, text)
		}
	}
}

// Notes and cents of equal temperament, A4 = 440 Hz (ISO 16): 442 Hz is 1200
// log2(442/440) = 7.85 cents above.
func TestTuner(t *testing.T) {
	for _, c := range []struct {
		hz   float64
		text string
	}{{440, "A4 0.0 ct  440.00 Hz  100 %"}, {442, "A4 +7.9 ct  442.00 Hz  100 %"}, {261.6256, "C4 0.0 ct  261.63 Hz  100 %"}} {
		s := newStand(t, "soot")
		x := sine(4, -12, c.hz, 0)
		s.play(x, x)
		s.listen(2)
		if text := toneText(&s.p.shown); text != c.text {
			t.Errorf("%g Hz reads %q, not %q", c.hz, text, c.text)
		}
	}
}

// A modulated tone reads the rate and depth that it was made with (the definition
// of the depth).
func TestFluctuationAndRoughness(t *testing.T) {
	for _, c := range []struct {
		hz, depth float64
		text      string
	}{{4, 0.5, "fluctuation 4.00 Hz 50 %"}, {70, 0.5, "roughness 70.0 Hz 50 %"}, {1, 0.2, "fluctuation 1.00 Hz 20 %"}} {
		s := newStand(t, "soot")
		x := sine(16, -18, 1000, 0)
		for i := range x {
			x[i] *= 1 + c.depth*math.Cos(2*math.Pi*c.hz*float64(i)/rate)
		}
		s.play(x, x)
		s.listen(14) // what was before the tone is forgotten by then
		if text := envelopeText(&s.p.shown, true); text != c.text {
			t.Errorf("%g Hz reads %q, not %q", c.hz, text, c.text)
		}
	}
}
