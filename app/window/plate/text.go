package plate

import (
	"fmt"
	"math"
	"strconv"

	"lampblack/app/window/look"
)

// Time writes a time: "200 µs", "20 ms", "1 s".
func Time(seconds float64) string {
	switch {
	case seconds < 0.9999e-3:
		return Number(seconds*1e6) + " µs"
	case seconds < 0.9999:
		return Number(seconds*1e3) + " ms"
	}
	return Number(seconds) + " s"
}

// SignedTime writes a time from a zero: "−20 ms", "0", "500 µs".
func SignedTime(seconds float64) string {
	switch {
	case seconds == 0:
		return "0"
	case seconds < 0:
		return "−" + Time(-seconds)
	}
	return Time(seconds)
}

// ExactTime writes a time with four figures behind the point of its unit.
func ExactTime(seconds float64) string {
	switch s := math.Abs(seconds); {
	case s < 1e-3:
		return look.Shown(fmt.Sprintf("%.3f µs", seconds*1e6))
	case s < 1:
		return look.Shown(fmt.Sprintf("%.4f ms", seconds*1e3))
	}
	return look.Shown(fmt.Sprintf("%.4f s", seconds))
}

// Hertz writes a frequency with three figures: "45.0 Hz", "2.10 kHz".
func Hertz(hz float64) string {
	switch {
	case hz < 99.95:
		return strconv.FormatFloat(hz, 'f', 1, 64) + " Hz"
	case hz < 999.5:
		return strconv.FormatFloat(hz, 'f', 0, 64) + " Hz"
	case hz < 9995:
		return strconv.FormatFloat(hz/1000, 'f', 2, 64) + " kHz"
	}
	return strconv.FormatFloat(hz/1000, 'f', 1, 64) + " kHz"
}

// ExactHertz writes a frequency to a hundredth of a hertz.
func ExactHertz(hz float64) string { return fmt.Sprintf("%.2f Hz", hz) }

// Level writes a level with a true minus sign; silence is "−∞ dB".
func Level(db float64) string {
	if math.IsInf(db, -1) || db < -200 {
		return "−∞ dB"
	}
	text := strconv.FormatFloat(math.Abs(db), 'f', 1, 64) + " dB"
	if db <= -0.05 {
		return "−" + text
	}
	return text
}

// Number writes a value without trailing zeros: "0.2", "20".
func Number(v float64) string {
	return strconv.FormatFloat(math.Round(v*1e6)/1e6, 'f', -1, 64)
}
