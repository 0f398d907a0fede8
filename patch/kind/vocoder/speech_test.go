package vocoder

import (
	"encoding/binary"
	"math"
	"math/cmplx"
	"os"
	"testing"

	"gonum.org/v1/gonum/dsp/fourier"
	"gonum.org/v1/gonum/stat"

	"lampblack/patch/kind/rig"
)

// levels are the levels in dB of six octaves, 125 Hz to 8 kHz, in frames of 1024
// samples (21 ms), with Hann's window.
func levels(x []float64) [6][]float64 {
	var out [6][]float64
	fft, frame := fourier.NewFFT(1024), make([]float64, 1024)
	for at := 0; at+1024 <= len(x); at += 1024 {
		for i := range frame {
			frame[i] = x[at+i] * (0.5 - 0.5*math.Cos(2*math.Pi*float64(i)/1024))
		}
		lines := fft.Coefficients(nil, frame)
		for k := range out {
			sum := 1e-9
			for l := int(125 * math.Exp2(float64(k)) / 46.875); l < int(250*math.Exp2(float64(k))/46.875); l++ {
				sum += math.Pow(cmplx.Abs(lines[l]), 2)
			}
			out[k] = append(out[k], 10*math.Log10(sum))
		}
	}
	return out
}

// What carries words is how the levels of a few bands move (Shannon and others,
// 1995). Those of noise that speaks must move as the speaker's do, measured by
// other means than the vocoder's own: octaves of a Fourier transform.
func TestNoiseSpeaksAsTheSpeakerDoes(t *testing.T) {
	data, err := os.ReadFile("/usr/share/sounds/alsa/Front_Center.wav") // of Debian's package alsa-utils
	if err != nil {
		t.Skip("alsa-utils is not installed")
	}
	data = data[44:]
	x := make([]float64, len(data)/2)
	for i := range x {
		x[i] = float64(int16(binary.LittleEndian.Uint16(data[2*i:]))) / 32768
	}
	for _, c := range []struct{ bands, least float64 }{
		{8, 0.85}, {16, 0.85}, {32, 0.7}, // narrow bands of noise waver by themselves
	} {
		y := rig.New(Kind()).Set("bands", c.bands, "").Feed("voice", func(i int) float64 { return x[i] }).Out("out", len(x))
		voice, out := levels(x), levels(y)
		worst := 1.0
		for k := range voice {
			r := stat.Correlation(voice[k], out[k], nil)
			worst = min(worst, r)
		}
		t.Logf("%2.0f bands: rms %.1f dB for %.1f dB; the levels of six octaves correlate by %.3f and more", c.bands, rig.DB(rig.RMS(y)), rig.DB(rig.RMS(x)), worst)
		if worst < c.least {
			t.Errorf("%g bands: a correlation of %.3f; want %g", c.bands, worst, c.least)
		}
	}
}
