package predict

import (
	"fmt"
	"math"
	"math/cmplx"
	"strconv"
	"strings"
)

// number writes a value with four digits that count.
func number(v float64) string {
	s := strconv.FormatFloat(v, 'g', 4, 64)
	if strings.Contains(s, "e") && math.Abs(v) >= 1 {
		s = strconv.FormatFloat(v, 'f', 0, 64)
	}
	return s
}

// short returns a formula without its result.
func short(h how, a complex128) string {
	if h == nil {
		return number(cmplx.Abs(a))
	}
	text := h()
	if at := strings.LastIndex(text, " = "); at >= 0 {
		text = text[:at]
	}
	if strings.Contains(text, " + ") {
		return "(" + text + ")"
	}
	return text
}

// multiplied is the formula of the product of two lines.
func multiplied(x, y line) string {
	v := cmplx.Abs(x.a) * cmplx.Abs(y.a)
	text := factors(short(x.how, x.a), short(y.how, y.a))
	if x.hz >= same && y.hz >= same {
		return fmt.Sprintf("%s / 2 = %s", text, number(v/2))
	}
	return fmt.Sprintf("%s = %s", text, number(v))
}

// factors writes a product; what counts as 1 is left out.
func factors(a, b string) string {
	switch {
	case a == "1" || a == "sine" && b != "sine" && b != "1":
		return b
	case b == "1" || b == "sine" && a != "sine":
		return a
	}
	return a + " x " + b
}

// passing is the formula of a line behind a response.
func passing(was how, gain complex128, name string, hz float64) string {
	return fmt.Sprintf("%s x %s (%s at %s Hz: %.2f dB, %.1f deg)", was(), number(cmplx.Abs(gain)), name, number(hz), 20*math.Log10(cmplx.Abs(gain)), cmplx.Phase(gain)*180/math.Pi)
}

// meeting is the formula of two lines that meet.
func meeting(a, b line) string {
	first, second := short(a.how, a.a), short(b.how, b.a)
	if len(first)+len(second) > 200 {
		first, second = number(cmplx.Abs(a.a)), number(cmplx.Abs(b.a))
	}
	apart := math.Remainder(cmplx.Phase(b.a)-cmplx.Phase(a.a), 2*math.Pi)
	sum := number(cmplx.Abs(a.a + b.a))
	switch {
	case math.Abs(apart) < 1e-6:
		return fmt.Sprintf("%s + %s = %s", first, second, sum)
	case math.Abs(math.Abs(apart)-math.Pi) < 1e-6:
		return fmt.Sprintf("%s - %s = %s", first, second, sum)
	}
	return fmt.Sprintf("%s + %s turned by %.1f deg = %s", first, second, apart*180/math.Pi, sum)
}
