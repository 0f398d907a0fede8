package meter

// Hops of a loudness meter, in blocks of 10 ms. EBU Tech 3341 lets the momentary
// loudness move every 100 ms; then case 13, and every maximum, depends on where the
// sound starts. BS.1770 gates blocks of 400 ms, one every 100 ms.
const (
	hopsEachSecond = 100
	momentaryHops  = 40
	shortHops      = 300
	gateHops       = 10
)

// Weights returns how much each channel counts, by their number and in the order of
// a WAV file: 1 mono; 2 left, right; 3 and a centre; 4 and two surrounds, without a
// centre; 5 left, right, centre and two surrounds (5.0); 6 the same with a
// low-frequency channel in fourth place, which does not count (5.1). Surrounds
// count 1.41. For other numbers it returns nil.
//
// Source: ITU-R BS.1770-5, table 3.
func Weights(channels int) []float64 {
	switch channels {
	case 1, 2, 3:
		return []float64{1, 1, 1}[:channels:channels]
	case 4:
		return []float64{1, 1, 1.41, 1.41}
	case 5:
		return []float64{1, 1, 1, 1.41, 1.41}
	case 6:
		return []float64{1, 1, 1, 0, 1.41, 1.41}
	}
	return nil
}

// Loudness measures how loud a programme is. Make it with NewLoudness.
//
// Sources: ITU-R BS.1770-5; EBU Tech 3341 and 3342, version 4.
type Loudness struct {
	clean   cleaner
	weights []float64
	filters []weighting
	rate    float64
	frame   int64     // samples so far
	hop     int64     // hops that ended
	ends    int64     // frame at which this one ends
	sums    []float64 // of this hop, for each channel
	count   int       // of samples in it

	powers [shortHops]float64 // of the last hops
	counts [shortHops]int     // samples in each

	momentary, short       float64 // mean powers, now
	maxMomentary, maxShort float64
	gated, ranged          histogram
	feeding                func([][]float64)
}

// LoudnessReading is what a Loudness shows: LUFS, -Inf for silence.
type LoudnessReading struct {
	Momentary    float64 // of the last 0.4 s; what is not there yet counts as silence
	ShortTerm    float64 // of the last 3 s; likewise
	Integrated   float64 // of all, gated; -Inf also before the first 0.4 s are complete
	Range        float64 // LU; 0 until there are two seconds beyond the first 3 s
	Low, High    float64 // the ends of the range, LUFS; 0 as long as it is
	MaxMomentary float64
	MaxShortTerm float64 // -Inf before the first 3 s are complete
}

// NewLoudness returns a meter for channels that count as the weights say, at 8,000
// to 384,000 Hz; see Weights.
func NewLoudness(rate float64, weights []float64) *Loudness {
	mustRate(rate)
	if len(weights) == 0 {
		panic("meter: loudness needs a channel")
	}
	l := &Loudness{clean: newCleaner(len(weights)), weights: weights, rate: rate, sums: make([]float64, len(weights))}
	for range weights {
		l.filters = append(l.filters, newWeighting(rate))
	}
	l.feeding = l.take
	l.ends = l.hopEnd()
	return l
}

// hopEnd returns where hop number l.hop ends: hops have a whole number of samples,
// and drift away from 10 ms at no rate.
func (l *Loudness) hopEnd() int64 { return int64(float64(l.hop+1) * l.rate / hopsEachSecond) }

// Write feeds the next samples of all channels, equally many of each.
func (l *Loudness) Write(channels [][]float64) { feed(&l.clean, channels, l.feeding) }

// Write32 is Write for the samples of taps.
func (l *Loudness) Write32(channels [][]float32) { feed(&l.clean, channels, l.feeding) }

func (l *Loudness) take(channels [][]float64) {
	for at, n := 0, len(channels[0]); at < n; {
		end := min(n, at+int(l.ends-l.frame))
		for c := range channels {
			if l.weights[c] != 0 {
				l.sums[c] = l.filters[c].power(l.sums[c], channels[c][at:end])
			}
		}
		l.count += end - at
		l.frame += int64(end - at)
		at = end
		if l.frame == l.ends {
			l.endHop()
		}
	}
}

func (l *Loudness) endHop() {
	slot := l.hop % shortHops
	l.powers[slot], l.counts[slot] = 0, l.count
	for c, w := range l.weights {
		l.powers[slot] += float64(w * l.sums[c])
		l.sums[c] = 0
	}
	l.count = 0
	l.hop++
	l.ends = l.hopEnd()
	l.momentary, l.short = l.mean(momentaryHops), l.mean(shortHops)
	l.maxMomentary = max(l.maxMomentary, l.momentary)
	if l.hop >= shortHops {
		l.maxShort = max(l.maxShort, l.short)
	}
	if l.hop%gateHops != 0 {
		return
	}
	if l.hop >= momentaryHops {
		l.gated.add(l.momentary)
	}
	if l.hop >= shortHops {
		l.ranged.add(l.short)
	}
}

// mean returns the mean power of the last hops. It is summed anew each time: no
// error piles up.
func (l *Loudness) mean(hops int64) float64 {
	sum, n := 0.0, 0
	for k := range min(hops, l.hop) {
		slot := (l.hop - 1 - k) % shortHops
		sum += l.powers[slot]
		n += l.counts[slot]
	}
	return sum / max(float64(n), float64(float64(hops)*l.rate/hopsEachSecond))
}

// lufs turns the mean power of K-weighted samples into loudness.
func lufs(power float64) float64 { return powerDB(power) - 0.691 }

// Reading returns what the meter shows.
func (l *Loudness) Reading() LoudnessReading {
	low, high := l.ranged.spread()
	return LoudnessReading{
		Momentary: lufs(l.momentary), ShortTerm: lufs(l.short),
		Integrated: lufs(l.gated.mean()), Range: high - low, Low: low, High: high,
		MaxMomentary: lufs(l.maxMomentary), MaxShortTerm: lufs(l.maxShort),
	}
}
