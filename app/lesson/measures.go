package lesson

import (
	"math"

	"lampblack/scope"
	"lampblack/scope/meter"
)

func frequency(s stretch) (float64, error) { return frequencyOf(s.samples) }

func frequencyOf(samples []float64) (float64, error) {
	hz, ok := scope.Frequency(samples, Rate, scope.View{Length: float64(len(samples))})
	if !ok {
		return 0, errNoTone
	}
	return hz, nil
}

func ratio(s stretch) (float64, error) {
	a, err := frequencyOf(s.samples)
	if err != nil {
		return 0, err
	}
	b, err := frequencyOf(s.beside)
	if err != nil {
		return 0, err
	}
	return a / b, nil
}

func level(s stretch) (float64, error) {
	rms := scope.Measure(s.samples).RMS
	if rms == 0 {
		return 0, errSilent
	}
	return scope.DB(rms), nil
}

func gain(s stretch) (float64, error) {
	a, b := scope.Measure(s.samples).RMS, scope.Measure(s.beside).RMS
	if a == 0 || b == 0 {
		return 0, errSilent
	}
	return scope.DB(a) - scope.DB(b), nil
}

func line(s stretch) (float64, error) {
	db := scope.DB(lineOfSound(s.samples, s.line))
	if s.re != 0 {
		db -= scope.DB(lineOfSound(s.samples, s.re))
	}
	if db < scope.Floor/2 || db > -scope.Floor/2 {
		return 0, errSilent
	}
	return db, nil
}

// lineOfSound returns the amplitude of the sine of frequency hz, seen through a
// window whose side lobes are 92 dB down, so that lines that do not fit into
// samples do not leak into each other from 4/seconds Hz on.
// Source: Harris, Proc. IEEE 66(1), 1978, table I: 4-sample Blackman-Harris.
func lineOfSound(samples []float64, hz float64) float64 {
	var re, im, sum float64
	n := float64(len(samples))
	for i, x := range samples {
		t := 2 * math.Pi * (float64(i) + 0.5) / n
		w := 0.35875 - 0.48829*math.Cos(t) + 0.14128*math.Cos(2*t) - 0.01168*math.Cos(3*t)
		sin, cos := math.Sincos(2 * math.Pi * math.Mod(hz*float64(i)/Rate, 1))
		re, im, sum = re+w*x*cos, im+w*x*sin, sum+w
	}
	a := math.Hypot(re, im) / sum
	if hz != 0 {
		a *= 2
	}
	return a
}

// lines counts the peaks of one spectrum over the whole stretch.
func lines(s stretch) (float64, error) {
	n := 1
	for n*2 <= len(s.samples) && n < 1<<17 {
		n *= 2
	}
	spectrum := scope.NewSpectrum(n, scope.BlackmanHarris)
	spectrum.Transform(s.samples[:n])
	peaks := spectrum.Peaks(make([]scope.Peak, 2000), Rate, -120)
	count := 0
	for _, p := range peaks {
		if p.DB >= peaks[0].DB-s.Down && p.Hz <= s.Below {
			count++
		}
	}
	if count == 0 {
		return 0, errSilent
	}
	return float64(count), nil
}

func beats(s stretch) (float64, error) {
	e := meter.NewEnvelope(Rate, 1)
	e.Write([][]float64{s.samples})
	r := e.Reading()
	m := r.Fluctuation
	if r.Roughness.Depth > m.Depth {
		m = r.Roughness
	}
	if m.Hz == 0 {
		return 0, errNoMove
	}
	return m.Hz, nil
}

// swing looks at the single cycles, from one way up through 0 to the next.
func swing(s stretch) (float64, error) {
	last, least, most := math.NaN(), math.Inf(1), 0.0
	for i := 1; i < len(s.samples); i++ {
		a, b := s.samples[i-1], s.samples[i]
		if a >= 0 || b < 0 {
			continue
		}
		at := float64(i) - b/(b-a)
		if period := at - last; !math.IsNaN(period) {
			least, most = min(least, period), max(most, period)
		}
		last = at
	}
	if most == 0 {
		return 0, errNoTone
	}
	return 1200 * math.Log2(most/least), nil
}

// widthLength is the length of the spectra of width: lines 0.73 Hz apart.
const widthLength = 1 << 16

// width divides the spectrum at the end of the way by that at its beginning, so
// that the chances of a noise cancel, and looks for the half powers around the
// highest place.
func width(s stretch) (float64, error) {
	way := spectrumOf(s.samples)
	for i, db := range spectrumOf(s.beside) {
		way[i] -= db
	}
	top := 0
	for i := range way {
		hz := float64(i) * Rate / widthLength
		if hz >= 20 && hz <= 20_000 && way[i] > way[top] {
			top = i
		}
	}
	half := way[top] - 10*math.Log10(2)
	edge := func(step int) (float64, bool) {
		for i := top; i > 0 && i < len(way)-1; i += step {
			if a, b := way[i], way[i+step]; b <= half {
				return float64(i) + float64(step)*(a-half)/(a-b), true
			}
		}
		return 0, false
	}
	low, okLow := edge(-1)
	high, okHigh := edge(+1)
	if top == 0 || !okLow || !okHigh {
		return 0, errNoHalf
	}
	return (high - low) * Rate / widthLength, nil
}

func spectrumOf(samples []float64) []float64 {
	spectrum := scope.NewSpectrum(widthLength, scope.Hann)
	n := max(1, (len(samples)-widthLength)/(widthLength/2)+1)
	spectrum.AverageEvenly(n)
	padded := append(samples[:len(samples):len(samples)], make([]float64, max(0, widthLength-len(samples)))...)
	for i := range n {
		spectrum.Transform(padded[i*widthLength/2:][:widthLength])
	}
	return spectrum.Levels()
}

func rise(s stretch) (float64, error) {
	most := scope.Measure(s.samples).Peak
	if most == 0 {
		return 0, errSilent
	}
	place := func(part float64) float64 {
		for i, x := range s.samples {
			if now := math.Abs(x); now >= part*most {
				if i == 0 {
					return 0
				}
				before := math.Abs(s.samples[i-1])
				return float64(i) - (now-part*most)/(now-before)
			}
		}
		return 0
	}
	return 1000 * (place(0.9) - place(0.1)) / Rate, nil
}

// t60 fits a straight line to the level between 5 and 35 dB under the first, as
// for T30. Source: ISO 3382-1:2009, which is about rooms.
func t60(s stretch) (float64, error) {
	window := max(len(s.samples)/400, Rate/200)
	var n, x, y, xx, xy float64
	var first float64
	ended := false
	for i := 0; i+window <= len(s.samples) && !ended; i += window {
		db := scope.DB(scope.Measure(s.samples[i:][:window]).RMS)
		if i == 0 {
			first = db
		}
		ended = db < first-35
		if t := float64(i) / Rate; !ended && db <= first-5 {
			n, x, y, xx, xy = n+1, x+t, y+db, xx+t*t, xy+t*db
		}
	}
	if !ended || n < 3 {
		return 0, errNoFall
	}
	slope := (n*xy - x*y) / (n*xx - x*x)
	return -60 / slope, nil
}

func duty(s stretch) (float64, error) {
	least, most := math.Inf(1), math.Inf(-1)
	for _, x := range s.samples {
		least, most = min(least, x), max(most, x)
	}
	if most-least < 1e-6 {
		return 0, errSilent
	}
	above := 0
	for _, x := range s.samples {
		if x > (least+most)/2 {
			above++
		}
	}
	return 100 * float64(above) / float64(len(s.samples)), nil
}

// jumps counts from the first to the last, so that it does not matter where the
// stretch begins.
func jumps(s stretch) (float64, error) {
	n, first, last := -1, 0, 0
	for i := 1; i < len(s.samples); i++ {
		if s.samples[i] == s.samples[i-1] {
			continue
		}
		if n++; n == 0 {
			first = i
		}
		last = i
	}
	if n < 1 {
		return 0, errNoJumps
	}
	return float64(n) * Rate / float64(last-first), nil
}
