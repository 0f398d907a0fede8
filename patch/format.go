package patch

import (
	"math"
	"strconv"
	"strings"
)

// FormatValue writes v, which is in unit, with three significant digits as it
// is written on a sheet: "2.10 kHz", "45 Hz", "180 ms", "2.4 s", "-6.0 dB",
// "80 %", "Q 20", "0.8 oct". Whole digits are never rounded away. What is
// written can be read by ParseSetting.
func FormatValue(v float64, unit string) string {
	switch {
	case math.IsNaN(v) || math.IsInf(v, 0):
		return join(strconv.FormatFloat(v, 'g', -1, 64), unit)
	case unit == "dB":
		return join(noMinusZero(strconv.FormatFloat(v, 'f', 1, 64)), unit)
	case unit == "Hz" && rounded(v) >= 1000:
		return threeDigits(v/1000) + " kHz"
	case unit == "s" && v != 0 && rounded(v*1000) < 1000:
		return trim(threeDigits(v*1000)) + " ms"
	}
	return join(trim(threeDigits(v)), unit)
}

// join puts a unit where it is written: Q before the number, others behind.
func join(digits, unit string) string {
	switch unit {
	case "":
		return digits
	case "Q":
		return "Q " + digits
	}
	return digits + " " + unit
}

// rounded returns the size of v after rounding to three digits: 999.7 is 1000
// and therefore written as 1.00 kHz.
func rounded(v float64) float64 {
	r, _ := strconv.ParseFloat(strconv.FormatFloat(math.Abs(v), 'e', 2, 64), 64)
	return r
}

func threeDigits(v float64) string {
	size := rounded(v)
	if size != 0 && (size < 1e-4 || size >= 1e9) {
		return strconv.FormatFloat(v, 'g', 3, 64)
	}
	decimals := 2
	for ; size >= 10 && decimals > 0; size /= 10 {
		decimals--
	}
	for ; size != 0 && size < 0.9999; size *= 10 {
		decimals++
	}
	return noMinusZero(strconv.FormatFloat(v, 'f', decimals, 64))
}

func trim(digits string) string {
	if !strings.Contains(digits, ".") || strings.Contains(digits, "e") {
		return digits
	}
	return strings.TrimSuffix(strings.TrimRight(digits, "0"), ".")
}

func noMinusZero(digits string) string {
	if strings.Trim(digits, "-0.") == "" {
		return strings.TrimPrefix(digits, "-")
	}
	return digits
}

// exactly writes v with all the digits that it has.
func exactly(v float64, unit string) string {
	format := byte('f')
	if size := math.Abs(v); size != 0 && (size < 1e-6 || size >= 1e15) {
		format = 'g'
	}
	return join(strconv.FormatFloat(v, format, -1, 64), unit)
}
