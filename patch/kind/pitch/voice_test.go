package pitch

import (
	"math"
	"math/rand"
)

// voice is a synthetic voice that glides from one pitch to another.
//
// Source and filter (Fant, Acoustic Theory of Speech Production, 1960): pulses
// of Rosenberg's form (JASA 49(2), 1971, his type B: a half cosine up, a
// quarter cosine down), differentiated by the lips, through three formants of
// one of five vowels (Peterson and Barney, JASA 24(2), 1952, the men's means,
// from memory).
type voice struct {
	from, to float64 // Hz; the glide is even in octaves
	jitter   float64 // rms of the change of length from period to period, as a share
	shimmer  float64 // the same of the amplitude
	breath   float64 // rms of the noise over that of the voice
	open     float64 // share of the period in which the glottis is open
	vowel    [3]float64
}

var vowels = [][3]float64{
	{270, 2290, 3010}, {530, 1840, 2480}, {730, 1090, 2440}, {570, 840, 2410}, {300, 870, 2240},
}

// anyVoice draws a voice: 80 to 800 Hz, gliding up to an octave either way;
// jitter to 1 % and shimmer to 4 % (where clinics begin to call a voice rough),
// breath at -30 to -15 dB.
func anyVoice(r *rand.Rand) voice {
	even := func(a, b float64) float64 { return a + (b-a)*r.Float64() }
	v := voice{
		from: 80 * math.Pow(10, r.Float64()), jitter: even(0.002, 0.01), shimmer: even(0.01, 0.04),
		breath: math.Pow(10, even(-30, -15)/20), open: even(0.45, 0.75), vowel: vowels[r.Intn(len(vowels))],
	}
	v.to = min(max(v.from*math.Exp2(even(-1, 1)), 80), 800)
	return v
}

// sing returns n samples at 48 kHz, with an rms of 0.1, and the frequency in Hz
// at each of them (without the jitter, which no listener calls pitch).
func (v voice) sing(n int, r *rand.Rand) (x, hz []float64) {
	x, hz = make([]float64, n), make([]float64, n)
	phase, stretch, loud, before := 0.0, 1.0, 1.0, 0.0
	var noise []float64
	for i := range x {
		hz[i] = v.from * math.Pow(v.to/v.from, float64(i)/float64(n))
		if phase += hz[i] * stretch / 48000; phase >= 1 {
			phase--
			stretch = 1 / (1 + v.jitter*r.NormFloat64())
			loud = 1 + v.shimmer*r.NormFloat64()
		}
		g := loud * v.glottis(phase)
		x[i] = g - before
		before = g
		noise = append(noise, r.NormFloat64()*(0.3+0.7*v.glottis(phase)))
	}
	scale(x, 1)
	scale(noise, v.breath)
	for i := range x {
		x[i] += noise[i]
	}
	for k, f := range v.vowel {
		resonate(x, f, []float64{60, 90, 150}[k])
	}
	scale(x, 0.1)
	return x, hz
}

func (v voice) glottis(phase float64) float64 {
	up := 0.7 * v.open
	switch {
	case phase < up:
		return 0.5 - 0.5*math.Cos(math.Pi*phase/up)
	case phase < v.open:
		return math.Cos(math.Pi / 2 * (phase - up) / (v.open - up))
	}
	return 0
}

// resonate is Klatt's resonator (JASA 67(3), 1980): gain 1 at 0 Hz.
func resonate(x []float64, hz, width float64) {
	c := -math.Exp(-2 * math.Pi * width / 48000)
	b := 2 * math.Exp(-math.Pi*width/48000) * math.Cos(2*math.Pi*hz/48000)
	var y1, y2 float64
	for i := range x {
		y := (1-b-c)*x[i] + b*y1 + c*y2
		x[i], y1, y2 = y, y, y1
	}
}

func scale(x []float64, rms float64) {
	var sum float64
	for _, v := range x {
		sum += v * v
	}
	k := rms / math.Sqrt(sum/float64(len(x)))
	for i := range x {
		x[i] *= k
	}
}
