package look

import "testing"

func TestShownValues(t *testing.T) {
	for _, c := range []struct{ written, want, reason string }{
		{"-6.0 dB", "−6.0 dB", "a true minus sign, U+2212"},
		{"0.72 x", "0.72 ×", "a multiplication sign"},
		{"x", "×", "a unit that stands alone"},
		{"0.5 x -0.25", "0.5 × −0.25", "both"},
		{"low-pass", "low-pass", "a hyphen stays a hyphen"},
		{"D4 -12 c", "D4 −12 c", "cents below"},
		{"-inf", "-inf", "no figure follows"},
		{"max", "max", "an x within a word"},
		{"The tone, +-1.", "The tone, ±1.", "plus or minus"},
		{"", "", "nothing"},
	} {
		if got := Shown(c.written); got != c.want {
			t.Errorf("%q is shown as %q, want %q: %s", c.written, got, c.want, c.reason)
		}
	}
	if got := Typed(Shown("-0.5 x")); got != "-0.5 x" {
		t.Errorf("what is shown reads back as %q", got)
	}
}
