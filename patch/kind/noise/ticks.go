package noise

import (
	"lampblack/patch/dsp/approx"
	"lampblack/patch/dsp/hash"
)

const (
	ringLength = 64 // samples: longer than a tick at the highest rate

	// Seconds and samples that a tick lasts at least: its spectrum ends at three
	// over its length, which is 20 kHz, or 0.4535 of the rate if that is lower.
	tickSeconds = 150e-6
	tickSamples = 3 / 0.4535

	// quietest is how far the quietest tick lies below the loudest, in octaves: 40 dB.
	quietest = 6.643856189774724
)

// ticks is crackle: at any sample, with a chance of density/rate, a tick begins.
type ticks struct {
	key    uint64
	rate   float64
	length int
	tick   [ringLength]float64
	ring   [ringLength]float64 // what is still to come of ticks that have begun, by sample number
}

func newTicks(rate float64) ticks {
	t := ticks{rate: rate}
	span := max(float64(tickSeconds*rate), tickSamples)
	middle := int(span / 2)
	for ; ; t.length++ {
		p := 0.5 + float64(float64(t.length-middle)/span)
		if p >= 1 {
			return t
		}
		t.tick[t.length] = blackman(p)
	}
}

// blackman is Blackman's window at p, 0 to 1 (Harris, Proc. IEEE 66(1), 1978).
func blackman(p float64) float64 {
	return 0.42 - float64(0.5*cosine(p)) + float64(0.08*cosine(2*p))
}

func cosine(p float64) float64 {
	p += 0.25
	return approx.Sine(p - float64(int(p)))
}

func (t *ticks) clear() { clear(t.ring[:]) }

// run gives the samples from number first on. Whether a tick begins at a sample,
// and how loud it is, depends on the key and the number alone.
func (t *ticks) run(out []float64, first uint64, density func(int) float64) {
	perSecond := 1 / t.rate
	for i := range out {
		n := first + uint64(i)
		if chance(hash.Bits(t.key, 2*n)) < float64(density(i)*perSecond) {
			t.add(n)
		}
		at := &t.ring[n%ringLength]
		out[i], *at = *at, 0
	}
}

// chance turns 64 random bits into a number even over 0 to 1.
func chance(bits uint64) float64 { return float64(float64(bits>>11) * (1.0 / (1 << 53))) }

// add begins a tick at sample n: up or down, and at a level that is even in dB.
func (t *ticks) add(n uint64) {
	bits := hash.Bits(t.key, 2*n+1)
	a := approx.Exp2(-float64(quietest * chance(bits)))
	if bits&1 != 0 {
		a = -a
	}
	for i, y := range t.tick[:t.length] {
		t.ring[(n+uint64(i))%ringLength] += float64(a * y)
	}
}
