package meter

import (
	"fmt"
	"math"
	"testing"
)

// rates are those that the published signals are tried at; the standards name 48
// kHz, and a meter must read the same at others.
var rates = []float64{48000, 44100, 96000, 8000}

// part is a stretch of a 1 kHz sine at a level for each channel.
type part struct {
	dB      float64 // dBFS of a sine's peak; silent is no sound
	seconds float64
}

const silent = -999

// program is a 1 kHz sine whose level changes as the parts say, going on in phase.
func program(rate float64, parts ...part) []float64 {
	cycle := tone(rate, 1, 1, 1000, 0) // a whole number of cycles, at any whole rate
	var samples []float64
	at, end := 0, 0.0
	for _, p := range parts {
		end += p.seconds
		amplitude := math.Pow(10, p.dB/20)
		for ; at < int(math.Round(end*rate)); at++ {
			samples = append(samples, amplitude*cycle[at%len(cycle)])
		}
	}
	return samples
}

func times(n int, parts ...part) (all []part) {
	for range n {
		all = append(all, parts...)
	}
	return all
}

func stereo(samples []float64) [][]float64 { return [][]float64{samples, samples} }

// EBU Tech 3341, version 4, table 1: cases 1 to 6 (7 and 8 are real programmes).
func TestIntegratedLoudness(t *testing.T) {
	for _, test := range []struct {
		name  string
		parts []part
		want  float64 // LUFS, +-0.1
	}{
		{"case 1", []part{{-23, 20}}, -23},
		{"case 2", []part{{-33, 20}}, -33},
		{"case 3", []part{{-36, 10}, {-23, 60}, {-36, 10}}, -23},
		{"case 4", []part{{-72, 10}, {-36, 10}, {-23, 60}, {-36, 10}, {-72, 10}}, -23},
		{"case 5", []part{{-26, 20}, {-20, 20.1}, {-26, 20}}, -23},
	} {
		for _, rate := range rates {
			l := NewLoudness(rate, Weights(2))
			l.Write(stereo(program(rate, test.parts...)))
			r := l.Reading()
			within(t, fmt.Sprintf("%s at %g Hz, I", test.name, rate), r.Integrated, test.want, 0.1)
			if len(test.parts) == 1 {
				within(t, test.name+", M", r.Momentary, test.want, 0.1)
				within(t, test.name+", S", r.ShortTerm, test.want, 0.1)
				within(t, test.name+", max M", r.MaxMomentary, test.want, 0.1)
				within(t, test.name+", max S", r.MaxShortTerm, test.want, 0.1)
			}
		}
	}
}

// Tech 3341, case 6: five channels. BS.1770-5, table 3: a low-frequency channel
// does not count.
func TestFiveChannels(t *testing.T) {
	for _, rate := range rates {
		side, centre, back := program(rate, part{-28, 20}), program(rate, part{-24, 20}), program(rate, part{-30, 20})
		l := NewLoudness(rate, Weights(5))
		l.Write([][]float64{side, side, centre, back, back})
		within(t, fmt.Sprintf("case 6 at %g Hz", rate), l.Reading().Integrated, -23, 0.1)
		l = NewLoudness(rate, Weights(6))
		l.Write([][]float64{side, side, centre, program(rate, part{0, 20}), back, back})
		within(t, fmt.Sprintf("case 6 with a loud low-frequency channel at %g Hz", rate), l.Reading().Integrated, -23, 0.1)
	}
}

// Tech 3341, case 9: short-term loudness is -23 from 3 s on, all the time. Case 12:
// momentary loudness from 1 s on.
func TestSteadyReadings(t *testing.T) {
	for _, rate := range rates {
		l := NewLoudness(rate, Weights(2))
		follow(l, program(rate, times(5, part{-20, 1.34}, part{-30, 1.66})...), rate, func(second float64) {
			if second >= 3 {
				within(t, fmt.Sprintf("case 9 at %g Hz, S after %.2f s", rate, second), l.Reading().ShortTerm, -23, 0.1)
			}
		})
		l = NewLoudness(rate, Weights(2))
		follow(l, program(rate, times(25, part{-20, 0.18}, part{-30, 0.22})...), rate, func(second float64) {
			if second >= 1 {
				within(t, fmt.Sprintf("case 12 at %g Hz, M after %.2f s", rate, second), l.Reading().Momentary, -23, 0.1)
			}
		})
	}
}

// follow writes samples in pieces of 10 ms and calls look after each.
func follow(l *Loudness, samples []float64, rate float64, look func(second float64)) {
	for at, n := 0, int(rate/100); at < len(samples); at += n {
		l.Write(stereo(samples[at:min(at+n, len(samples))]))
		look(float64(at+n) / rate)
	}
}

// Tech 3341, cases 10, 11, 13, 14 (lengths of the silences from memory).
func TestHighestReadings(t *testing.T) {
	for _, rate := range rates[:3] {
		for i := range 20 {
			shift := float64(i)
			file := func(parts ...part) LoudnessReading {
				l := NewLoudness(rate, Weights(2))
				l.Write(stereo(program(rate, parts...)))
				return l.Reading()
			}
			r := file(part{silent, 0.15 * shift}, part{-23, 3}, part{silent, 1})
			within(t, fmt.Sprintf("case 10, file %d at %g Hz", i+1, rate), r.MaxShortTerm, -23, 0.1)
			r = file(part{silent, 0.02 * shift}, part{-23, 0.4}, part{silent, 1})
			within(t, fmt.Sprintf("case 13, file %d at %g Hz", i+1, rate), r.MaxMomentary, -23, 0.1)
		}
	}
	for _, rate := range rates[:2] {
		l, m := NewLoudness(rate, Weights(2)), NewLoudness(rate, Weights(2))
		for i := range 20 {
			shift, level := float64(i), float64(i)-38
			l.Write(stereo(program(rate, part{silent, 0.15 * shift}, part{level, 3}, part{silent, 3 - 0.15*shift})))
			within(t, fmt.Sprintf("case 11, step %d at %g Hz", i+1, rate), l.Reading().MaxShortTerm, level, 0.1)
			m.Write(stereo(program(rate, part{silent, 0.02 * shift}, part{level, 0.4}, part{silent, 0.4 - 0.02*shift})))
			within(t, fmt.Sprintf("case 14, step %d at %g Hz", i+1, rate), m.Reading().MaxMomentary, level, 0.1)
		}
	}
}

// EBU Tech 3342, version 4, table 1 (5 and 6 are real programmes).
func TestLoudnessRange(t *testing.T) {
	for _, test := range []struct {
		name  string
		parts []part
		want  float64 // LU, +-1
	}{
		{"case 1", []part{{-20, 20}, {-30, 20}}, 10},
		{"case 2", []part{{-20, 20}, {-15, 20}}, 5},
		{"case 3", []part{{-40, 20}, {-20, 20}}, 20},
		{"case 4", []part{{-50, 20}, {-35, 20}, {-20, 20}, {-35, 20}, {-50, 20}}, 15},
	} {
		for _, rate := range rates {
			l := NewLoudness(rate, Weights(2))
			l.Write(stereo(program(rate, test.parts...)))
			// The standard allows 1 LU; a step between steady levels is met much closer.
			within(t, fmt.Sprintf("%s at %g Hz", test.name, rate), l.Reading().Range, test.want, 0.1)
		}
	}
}

// BS.1770-5, annex 1: the constant -0.691 makes a full-scale sine of 997 Hz in one
// channel -3.01 LUFS.
func TestLoudnessOfFullScale(t *testing.T) {
	for _, rate := range rates {
		sine := tone(rate, 4, 1, 997, 0)
		l := NewLoudness(rate, Weights(1))
		l.Write([][]float64{sine})
		within(t, fmt.Sprintf("one channel at %g Hz", rate), l.Reading().Integrated, -3.01, 0.01)
		l = NewLoudness(rate, Weights(2))
		l.Write(stereo(sine))
		within(t, fmt.Sprintf("two channels at %g Hz", rate), l.Reading().Integrated, 0, 0.01)
	}
}

// BS.1770-5, tables 1 and 2: the coefficients at 48 kHz.
func TestWeightingAt48kHz(t *testing.T) {
	w := newWeighting(48000)
	for _, test := range []struct {
		name      string
		got, want float64
	}{
		{"shelf b0", w.shelf.b0, 1.53512485958697}, {"shelf b1", w.shelf.b1, -2.69169618940638},
		{"shelf b2", w.shelf.b2, 1.19839281085285}, {"shelf a1", w.shelf.a1, -1.69065929318241},
		{"shelf a2", w.shelf.a2, 0.73248077421585}, {"high-pass a1", w.high.a1, -1.99004745483398},
		{"high-pass a2", w.high.a2, 0.99007225036621},
	} {
		within(t, test.name, test.got, test.want, 1e-12)
	}
}

// The weighting's response, from the coefficients of BS.1770-5 at 48 kHz, computed
// with scipy 1.10; at other rates the bilinear transform bends the top.
func TestWeightingResponse(t *testing.T) {
	for _, rate := range []float64{48000, 44100, 96000, 384000} {
		for _, at := range []struct{ hz, dB, within float64 }{
			{20, -13.275, 0.01}, {50, -3.934, 0.01}, {100, -1.134, 0.01}, {500, 0.043, 0.01},
			{1000, 0.698, 0.01}, {2000, 3.071, 0.03}, {4000, 3.968, 0.03}, {10000, 4.042, 0.05},
		} {
			w := newWeighting(rate)
			sine := tone(rate, 1, 1, at.hz, 0)
			half := len(sine) / 2
			w.power(0, sine[:half])
			got := powerDB(2 * w.power(0, sine[half:]) / float64(len(sine)-half))
			within(t, fmt.Sprintf("%g Hz at a rate of %g Hz", at.hz, rate), got, at.dB, at.within)
		}
	}
}

func TestLoudnessOfLittle(t *testing.T) {
	l := NewLoudness(48000, Weights(1))
	for name, samples := range map[string][]float64{"nothing": nil, "0.39 s": tone(48000, 0.39, 1, 1000, 0)} {
		l.Write([][]float64{samples})
		if r := l.Reading(); !math.IsInf(r.Integrated, -1) || r.Range != 0 || !math.IsInf(r.MaxShortTerm, -1) {
			t.Errorf("%s reads %+v; there is no integrated loudness yet", name, r)
		}
	}
	l.Write([][]float64{make([]float64, 48000*4)})
	if r := l.Reading(); !math.IsInf(r.Momentary, -1) && r.Momentary > -200 {
		t.Errorf("after 4 s of silence the momentary loudness is %g", r.Momentary)
	}
}

func within(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %.4f, want %g within %g", what, got, want, tolerance)
	}
}

// tone returns a sine of that peak, frequency and phase in degrees.
func tone(rate, seconds, peak, hz, degrees float64) []float64 {
	s := make([]float64, int(math.Round(rate*seconds)))
	for i := range s {
		s[i] = peak * math.Sin(2*math.Pi*(math.Mod(hz/rate*float64(i), 1)+degrees/360))
	}
	return s
}
