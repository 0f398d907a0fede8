package meter

import (
	"fmt"
	"math"
	"testing"
)

// ramped fades 10 ms at both ends, as the published signals do.
func ramped(rate float64, s []float64) []float64 {
	n := int(rate / 100)
	for i := range n {
		s[i] *= float64(i) / float64(n)
		s[len(s)-1-i] *= float64(i) / float64(n)
	}
	return s
}

func channelOf(rate float64, samples []float64) ChannelReading {
	c := NewChannel(rate)
	c.Write(samples)
	return c.Reading()
}

// EBU Tech 3341, version 4, cases 15 to 19: +0.2, -0.4 dB. The frequencies are parts
// of the rate, so every rate must read the same.
func TestTruePeak(t *testing.T) {
	for _, test := range []struct {
		name                        string
		peak, part, degrees, sample float64 // amplitude; rate over frequency; dBFS of the highest sample
		want                        float64 // dBTP
	}{
		{"case 15", 0.50, 4, 0, -6.02, -6},
		{"case 16", 0.50, 4, 45, -9.03, -6},
		{"case 17", 0.50, 6, 60, -7.27, -6},
		{"case 18", 0.50, 8, 67.5, -6.71, -6},
		{"case 19", 1.41, 4, 45, -0.03, 3},
	} {
		for _, rate := range append([]float64{192000, 384000, 22050}, rates...) {
			r := channelOf(rate, ramped(rate, tone(rate, 1, test.peak, rate/test.part, test.degrees)))
			name := fmt.Sprintf("%s at %g Hz", test.name, rate)
			within(t, name+", true peak", r.TruePeak, test.want-0.1, 0.3)
			within(t, name+", sample peak", r.Peak, test.sample, 0.01)
			// Theory: the sine's own peak, less what the last step leaves.
			within(t, name+", against theory", r.TruePeak, db(test.peak), 0.02)
		}
	}
}

// Tech 3341, cases 20 to 23: at four times the rate a sine of a sixth of the rate and
// 0.5 with one period of a quarter and 1.0; low-passed, every fourth sample from 0,
// 1, 2 and 3 on (construction from memory). The true peak is 0 dBTP.
func TestTruePeakBetweenSamples(t *testing.T) {
	const n, bend = 4 * 9600, 4 * 4800
	long := make([]float64, n)
	for i := range long {
		long[i] = 0.5 * math.Sin(2*math.Pi*float64(i-bend)/24)
		if i >= bend && i < bend+16 {
			long[i] = math.Sin(2 * math.Pi * float64(i-bend) / 16)
		}
	}
	smooth := lowPass(long, 0.11, 400)
	highest := 0.0
	for _, x := range smooth {
		highest = max(highest, math.Abs(x))
	}
	for first := range 4 {
		var s []float64
		for i := first; i < n; i += 4 {
			s = append(s, smooth[i]/highest) // so that the peak is 0 dBTP whatever the low-pass does
		}
		r := channelOf(48000, ramped(48000, s))
		within(t, fmt.Sprintf("case %d", 20+first), r.TruePeak, -0.1, 0.3)
	}
}

// lowPass is a sinc in a Hann window, cut off at that part of the rate.
func lowPass(x []float64, cutoff float64, reach int) []float64 {
	out := make([]float64, len(x))
	for i := range out {
		for k := max(-reach, i-len(x)+1); k <= min(reach, i); k++ {
			w := 2 * cutoff
			if k != 0 {
				w = math.Sin(2*math.Pi*cutoff*float64(k)) / (math.Pi * float64(k))
			}
			out[i] += w * (0.5 + 0.5*math.Cos(math.Pi*float64(k)/float64(reach+1))) * x[i-k]
		}
	}
	return out
}

// A sine's true peak is its amplitude: at any phase, up to 0.43 of the rate, within
// what half a step leaves (BS.1770, annex 2, appendix: 20 log10 cos(pi f/(fs r))) and
// 0.02 dB for the filter.
func TestTruePeakOfSines(t *testing.T) {
	for _, rate := range []float64{8000, 48000, 96000, 384000} {
		steps := float64(timesFor(rate))
		for _, part := range []float64{0.01, 0.1, 0.237, 0.25, 1. / 3, 0.4, 0.43} {
			for _, degrees := range []float64{0, 11, 30, 45, 77} {
				s := tone(rate, 4000/rate, 0.5, rate*part, degrees)
				for i := range s { // a slow fade: at the corners of a short one there is more than a sine
					s[i] *= math.Pow(math.Sin(math.Pi*float64(i)/float64(len(s))), 0.25)
				}
				r := channelOf(rate, s)
				lowest := -6.0206 + 20*math.Log10(math.Cos(math.Pi*part/steps))
				if r.TruePeak < lowest-0.02 || r.TruePeak > -6.0206+0.02 {
					t.Errorf("%g of %g Hz at %g degrees: %.3f dBTP, want %.3f to -6.021", part, rate, degrees, r.TruePeak, lowest)
				}
			}
		}
	}
}

// A single sample at the very end has its true peak too.
func TestTruePeakAtTheEnd(t *testing.T) {
	s := make([]float64, 1000)
	s[998], s[999] = 0.7, 0.7
	r := channelOf(48000, s)
	if r.TruePeak < r.Peak+1 {
		t.Errorf("two equal last samples: %.2f dBTP over a sample peak of %.2f dBFS; between them lies more", r.TruePeak, r.Peak)
	}
}

// IEC 60268-10:1991, type IIa: bursts of 5 kHz at the level of the steady tone (from
// memory; for 10 ms two memories, -2.2 and -2.5 dB, both +-0.5).
func TestPPMBursts(t *testing.T) {
	for _, test := range []struct{ ms, want, within float64 }{
		{100, 0, 0.5}, {10, -2.35, 0.35}, {5, -4, 0.75}, {1.5, -9, 1},
	} {
		for _, rate := range []float64{48000, 44100, 96000, 32000} {
			burst := append(tone(rate, test.ms/1000, 1, 5000, 0), make([]float64, int(rate/10))...)
			got := channelOf(rate, burst).PPMMax
			within(t, fmt.Sprintf("burst of %g ms at %g Hz", test.ms, rate), got, test.want, test.within)
		}
	}
}

// A steady tone reads its own level at any frequency; the standard allows 0.3 dB from
// 40 Hz to 10 kHz or so (limits from memory). At a quarter and a third of the rate the
// samples themselves would read up to 3 dB less.
func TestPPMOfSteadyTones(t *testing.T) {
	for _, rate := range rates[:3] {
		for _, hz := range []float64{40, 100, 997, 3000, rate / 4, rate / 3} {
			if hz > 20000 {
				continue
			}
			for _, degrees := range []float64{0, 45} {
				got := channelOf(rate, tone(rate, 3, 0.1, hz, degrees)).PPMMax
				within(t, fmt.Sprintf("%g Hz at a rate of %g Hz", hz, rate), got, -20, 0.3)
			}
		}
	}
}

// IEC 60268-10: 24 dB in 2.8 s +- 0.3 s. The marks: 4 dB apart, 6 dB from 1 to 2.
func TestPPMFallAndMarks(t *testing.T) {
	c := NewChannel(48000)
	c.Write(tone(48000, 1, 1, 1000, 0))
	before := c.Reading().PPM
	c.Write(make([]float64, 48000*28/10))
	within(t, "fall in 2.8 s", before-c.Reading().PPM, 24, 0.1)
	for _, m := range []struct{ dBFS, mark float64 }{{-18, 4}, {-10, 6}, {-6, 7}, {-14, 5}, {-22, 3}, {-26, 2}, {-32, 1}} {
		within(t, fmt.Sprintf("mark at %g dBFS", m.dBFS), PPMMark(m.dBFS), m.mark, 1e-9)
	}
}

// IEC 60268-17:1990: 99 % in 300 ms +- 10 %, 1 to 1.5 % too far.
func TestVUNeedle(t *testing.T) {
	for _, rate := range rates {
		c := NewChannel(rate)
		samples := tone(rate, 3, 1, 997, 0)
		reached, highest := 0.0, 0.0
		for at, n := 0, int(rate/1000); at+n <= len(samples); at += n {
			c.Write(samples[at : at+n])
			place := math.Pow(10, c.Reading().VU/20)
			if place >= 0.99 && reached == 0 {
				reached = float64(at+n) / rate
			}
			highest = max(highest, place)
		}
		within(t, fmt.Sprintf("time to 99 %% at %g Hz", rate), reached, 0.3, 0.03)
		within(t, fmt.Sprintf("overshoot at %g Hz", rate), 100*(highest-1), 1.25, 0.25)
		within(t, fmt.Sprintf("steady at %g Hz", rate), c.Reading().VU, 0, 0.01)
	}
	// 0 VU is alignment level, R 68.
	within(t, "0 VU", VU(-18), 0, 0)
}

// RMS, crest and offset of shapes: Fourier series and integrals.
func TestLevels(t *testing.T) {
	square := tone(48000, 1, 1, 1000, 1)
	for i, x := range square {
		square[i] = math.Copysign(0.5, x)
	}
	shifted := tone(48000, 1, 0.25, 1000, 0)
	for i := range shifted {
		shifted[i] += 0.125
	}
	for _, test := range []struct {
		name              string
		samples           []float64
		peak, rms, offset float64
	}{
		{"full-scale sine", tone(48000, 1, 1, 1000, 0), 0, -3.0103, 0},
		{"square of 0.5", square, -6.0206, -6.0206, 0},
		{"sine of 0.25 on 0.125", shifted, 20 * math.Log10(0.375), 10 * math.Log10(0.125*0.125+0.03125), 0.125},
	} {
		r := channelOf(48000, test.samples)
		within(t, test.name+", peak", r.Peak, test.peak, 0.001)
		within(t, test.name+", RMS", r.RMS, test.rms, 0.001)
		within(t, test.name+", crest", r.Crest, test.peak-test.rms, 0.001)
		within(t, test.name+", offset", r.Offset, test.offset, 1e-6)
	}
	within(t, "full-scale samples of a square", float64(channelOf(48000, []float64{1, -1, 0.5, 2}).Full), 3, 0)
}

func TestSilenceAtBothEnds(t *testing.T) {
	s := append(make([]float64, 1000), 0.0009, 0.5, 0, -0.0011, 0.0009)
	s = append(s, make([]float64, 500)...)
	r := channelOf(48000, s)
	if r.First != 1001 || r.After != 1004 || r.Frames != 1505 {
		t.Errorf("sound from %d to %d of %d; want 1001 to 1004 of 1505", r.First, r.After, r.Frames)
	}
	if r = channelOf(48000, s[:1000]); r.First != 1000 || r.After != 0 || !math.IsInf(r.TruePeak, -1) || !math.IsInf(r.PPMMax, -1) || !math.IsInf(r.VUMax, -1) {
		t.Errorf("silence reads %+v", r)
	}
}

// Beside the fast sum stands the slow one.
func TestSlideGivesTheSameBits(t *testing.T) {
	x, w := make([]float32, 200), make([]float32, taps)
	for i := range x {
		x[i] = float32(math.Sin(float64(i * i)))
	}
	for i := range w {
		w[i] = float32(math.Cos(float64(i * 7)))
	}
	for n := 0; n < 160; n++ {
		fast, slow := make([]float32, n), make([]float32, n)
		a, b := slide(fast, x, w), slideOnes(slow, x, w)
		for i := range fast {
			if fast[i] != slow[i] || a != b {
				t.Fatalf("%d results: number %d is %g and %g, the largest %g and %g", n, i, fast[i], slow[i], a, b)
			}
		}
	}
}

// What a needle of true peak follows is forgotten once it was read: after silence
// it is silence, while the highest of all stays.
func TestRecentPeaks(t *testing.T) {
	c := NewChannel(48000)
	c.Write(ramped(48000, tone(48000, 1, 0.5, 12000, 45))) // Tech 3341, case 16
	within(t, "after the tone", c.Recent(), -6.1, 0.3)
	c.Write(make([]float64, 480))
	c.Recent() // the last 16 samples of the tone
	c.Write(make([]float64, 480))
	if r := c.Recent(); !math.IsInf(r, -1) {
		t.Errorf("after silence %g dBTP", r)
	}
	c.Write(ramped(48000, tone(48000, 1, 0.25, 12000, 45))) // half as high
	within(t, "after half of it", c.Recent(), -12.1, 0.3)
	within(t, "of all", c.Reading().TruePeak, -6.1, 0.3)
}
