package meters

import (
	"math"
	"strconv"

	"lampblack/app/window/look"
	"lampblack/app/window/plate"
	"lampblack/scope/meter"
)

// mark is a line of a printed scale.
type mark struct {
	at    float64 // 0 at the left end to 1
	label string  // "" for a small one
	under string  // what it is in another unit
}

// within holds a place on a scale at its ends.
func within(at float64) float64 {
	if math.IsNaN(at) {
		return 0
	}
	return min(max(at, 0), 1)
}

// The scale of the PPM goes a little beyond its marks 1 to 7.
const ppmLeft, ppmRight = 0.6, 7.4

func ppmAt(ppmMark float64) float64 { return within((ppmMark - ppmLeft) / (ppmRight - ppmLeft)) }

// ppmOf returns the mark that a level in dBFS stands at if mark 4 is at alignment.
func ppmOf(dBFS, alignment float64) float64 {
	return meter.PPMMark(dBFS - alignment + meter.Alignment)
}

// ppmMarks are the marks of type IIa, in dBFS beneath: 4 dB apart, 6 dB between 1
// and 2. Source: IEC 60268-10:1991 (from memory).
func ppmMarks(alignment float64) []mark {
	var marks []mark
	for i, over := range []float64{-14, -8, -4, 0, 4, 8, 12} {
		marks = append(marks, mark{ppmAt(float64(i + 1)), strconv.Itoa(i + 1), look.Shown(plate.Number(alignment + over))})
	}
	return marks
}

// vuAt returns where the needle stands: it moves with the voltage, and +3 VU is the
// right end. Source: IEC 60268-17:1990 (0 VU at 71 % of the scale; from memory).
func vuAt(vu float64) float64 { return within(math.Pow(10, (vu-3)/20)) }

func vuMarks() []mark {
	var marks []mark
	for _, vu := range []float64{-20, -10, -7, -5, -4, -3, -2, -1, 0, 1, 2, 3} {
		m := mark{at: vuAt(vu), label: signed(vu)}
		if vu == -4 || vu == 1 || vu == -2 {
			m.label = ""
		}
		marks = append(marks, m)
	}
	return marks
}

// The scale of true peak, in dBTP.
const peakLeft, peakRight = -60.0, 3.0

// permitted is the highest true peak of a programme, in dBTP. Source: EBU R 128.
const permitted = -1.0

func peakAt(dB float64) float64 { return within((dB - peakLeft) / (peakRight - peakLeft)) }

func peakMarks() []mark {
	var marks []mark
	for dB := peakLeft; dB <= peakRight; dB += 3 {
		m := mark{at: peakAt(dB)}
		if math.Mod(dB, 12) == 0 && dB < 0 || dB == 3 {
			m.label = signed(dB)
		}
		marks = append(marks, m)
		if dB == -3 {
			marks = append(marks, mark{at: peakAt(permitted), label: signed(permitted)})
		}
	}
	return marks
}

func correlationAt(v float64) float64 { return within((v + 1) / 2) }

func correlationMarks() []mark {
	var marks []mark
	for i := -10; i <= 10; i++ {
		m := mark{at: correlationAt(float64(i) / 10)}
		if i%5 == 0 {
			m.label = signed(float64(i) / 10)
		}
		marks = append(marks, m)
	}
	return marks
}

// centsAt places the tuner's needle: -50 to +50 cents.
func centsAt(cents float64) float64 { return within((cents + 50) / 100) }

func centsMarks() []mark {
	var marks []mark
	for c := -50.0; c <= 50; c += 5 {
		m := mark{at: centsAt(c)}
		if math.Mod(c, 25) == 0 || math.Abs(c) == 10 {
			m.label = signed(c)
		}
		marks = append(marks, m)
	}
	return marks
}

// rateAt places a rate of modulation: octaves equally wide.
func rateAt(hz float64) float64 {
	return within(math.Log(hz/meter.FluctuationLow) / math.Log(meter.RoughnessHigh/meter.FluctuationLow))
}

// Rates at which modulation is heard the strongest, in Hz. Source: Fastl and
// Zwicker, Psychoacoustics, 3rd edition, chapters 10 and 11.
const strongestFluctuation, strongestRoughness = 4.0, 70.0

func rateMarks() []mark {
	var marks []mark
	for _, hz := range []float64{0.5, 1, 2, 3, 5, 10, 20, 30, 50, 100, 200, 300} {
		m := mark{at: rateAt(hz), label: plate.Number(hz)}
		if hz == 3 || hz == 30 || hz == 50 {
			m.label = ""
		}
		marks = append(marks, m)
	}
	for _, hz := range []float64{strongestFluctuation, strongestRoughness} {
		marks = append(marks, mark{at: rateAt(hz), under: plate.Number(hz)})
	}
	return marks
}

// The ruler of loudness: the EBU's wide scale, -36 to +18 LU about the target of -23
// LUFS. Source: EBU Tech 3341.
const loudLow, loudHigh = -59.0, -5.0

// loudAt places a loudness in LUFS, 0 at the foot.
func loudAt(lufs float64) float64 { return within((lufs - loudLow) / (loudHigh - loudLow)) }

func loudMarks() []mark {
	var marks []mark
	for lufs := -55.0; lufs <= loudHigh; lufs += 5 {
		m := mark{at: loudAt(lufs)}
		if math.Mod(lufs, 10) == 0 {
			m.label = signed(lufs)
		}
		marks = append(marks, m)
	}
	return marks
}

// signed writes a figure of a scale with its sign: "−20", "0", "+3".
func signed(v float64) string {
	text := plate.Number(v)
	if v > 0 {
		text = "+" + text
	}
	return look.Shown(text)
}
