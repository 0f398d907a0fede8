package scope

import "math"

// How a Meter moves. The fall is that of a peak programme meter, 24 dB in 2.8 s
// (IEC 60268-10:1991, type IIa; value from memory); its rise is not: it shows
// every single sample. Averaging and hold are our own choice.
const (
	meterFall    = 24 / 2.8 // dB a second
	meterAverage = 0.3      // s, time constant of the mean square
	meterHold    = 2.0      // s that the highest peak stands
)

// Meter follows the level of a signal that comes block by block. How long the
// blocks are makes no difference. A Meter is used by one goroutine.
type Meter struct {
	fall, average float64 // each sample
	hold          int     // samples

	peak, held float64
	heldFor    int
	square     float64
	clipped    int64
}

// Reading is what a meter shows.
type Reading struct {
	Peak    float64 // dBFS: up at once, down 8.57 dB a second; -Inf for silence
	Hold    float64 // dBFS: the highest peak of the last 2 s
	RMS     float64 // dBFS, averaged with a time constant of 0.3 s; -3.01 for a full-scale sine
	Clipped int64   // samples beyond full scale, or no numbers, since the start or Reset
}

// NewMeter returns a meter for a rate in samples a second.
func NewMeter(rate float64) *Meter {
	if !(rate > 0) {
		panic("scope: a meter's rate must be positive")
	}
	return &Meter{
		fall:    math.Pow(10, -meterFall/20/rate),
		average: 1 - math.Exp(-1/(meterAverage*rate)),
		hold:    int(meterHold * rate),
	}
}

// Write feeds the next samples of the signal.
func (m *Meter) Write(samples []float64) { feed(m, samples) }

// Write32 is Write for the samples of a tap.
func (m *Meter) Write32(samples []float32) { feed(m, samples) }

func feed[S Sample](m *Meter, samples []S) {
	for _, s := range samples {
		x := math.Abs(float64(s))
		if !(x <= 1) {
			m.clipped++
			if math.IsNaN(x) {
				x = 0
			}
			x = min(x, math.MaxFloat32) // its square must stay a number
		}
		m.peak = max(x, float64(m.peak*m.fall))
		m.heldFor++
		if x >= m.held || m.heldFor > m.hold {
			m.held, m.heldFor = m.peak, 0
		}
		m.square += float64(m.average * (float64(x*x) - m.square))
	}
}

// Reading returns what the meter shows now.
func (m *Meter) Reading() Reading {
	return Reading{DB(m.peak), DB(m.held), DB(math.Sqrt(m.square)), m.clipped}
}

// Reset returns the meter to silence and forgets what clipped.
func (m *Meter) Reset() {
	*m = Meter{fall: m.fall, average: m.average, hold: m.hold}
}
