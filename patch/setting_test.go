package patch_test

import (
	"math"
	"strings"
	"testing"

	"lampblack/patch"
	"pgregory.net/rapid"
)

func TestASettingIsReadAsASoundMakerTypesIt(t *testing.T) {
	for _, c := range []struct {
		text    string
		control patch.Control
		value   float64
		unit    string
		written string
	}{
		{"2.10 kHz", centre, 2100, "Hz", "2.10 kHz"},
		{"2.1k", centre, 2100, "Hz", "2.1 kHz"},
		{"2,1 kHz", centre, 2100, "Hz", "2.1 kHz"},
		{"0,125", rate, 0.125, "Hz", "0.125 Hz"},
		{" 440 ", centre, 440, "Hz", "440 Hz"},
		{"1.2e3 Hz", centre, 1200, "Hz", "1.2e3 Hz"},
		{"310 mhz", rate, 0.31, "Hz", "310 mHz"},
		{"45", width, 45, "Hz", "45 Hz"},
		{"Q 20", width, 20, "Q", "Q 20"},
		{"20 Q", width, 20, "Q", "Q 20"},
		{"q=0.707", width, 0.707, "Q", "Q 0.707"},
		{"\u22126 dB", level, -6, "dB", "-6 dB"},
		{"180 ms", attack, 0.18, "s", "180 ms"},
		{"180ms", attack, 0.18, "s", "180 ms"},
		{"250 \u00b5s", attack, 0.00025, "s", "250 us"},
		{"80 %", sustain, 80, "%", "80 %"},
		{"80%", sustain, 80, "%", "80 %"},
		{"90\u00b0", phase, 90, "deg", "90 deg"},
		{"Triangle", shape, 1, "", "triangle"},
		{"2", shape, 2, "", "saw"},
		{"16", parts, 16, "", "16"},
	} {
		s, err := patch.ParseSetting(c.text, &c.control)
		if err != nil || s.Value != c.value || s.Unit != c.unit || s.String() != c.written {
			t.Errorf("%q is read as %g %q, written %q (%v); want %g %q, %q", c.text, s.Value, s.Unit, s, err, c.value, c.unit, c.written)
		}
	}
}

func TestASettingThatCannotBeIsRefusedWithWhatIsAllowed(t *testing.T) {
	for _, c := range []struct {
		text    string
		control patch.Control
		says    string
	}{
		{"0 Hz", width, "allowed is 1 Hz to 2.00 kHz, or Q 0.5 to Q 100"},
		{"Q 200", width, "out of range"},
		{"3 s", width, "wrong unit"},
		{"NaN", width, "finite"},
		{"-inf Hz", width, "finite"},
		{"1e999 Hz", width, "too large"},
		{"1e99999999999999999999", width, "too large"},
		{"2,100 Hz", width, "may mean"},
		{"2 MHz", width, "mega"},
		{"", width, "not a number"},
		{"wide", width, "not a number"},
		{"12 mm", width, "not a number"},
		{"sinus", shape, "sine, triangle or saw"},
		{"3", shape, "sine, triangle or saw"},
		{"1.5", parts, "whole numbers"},
		{"2 k%", sustain, "not a number"},
		{"2k", sustain, "takes no prefix"},
		{strings.Repeat("1", 70), width, "at most 64"},
	} {
		_, err := patch.ParseSetting(c.text, &c.control)
		if err == nil || !strings.Contains(err.Error(), c.says) || !strings.HasPrefix(err.Error(), c.control.Name) {
			t.Errorf("%q for %s: %v; want it refused saying %q", c.text, c.control.Name, err, c.says)
		}
	}
}

func TestANumberWithoutAUnitIsInTheUnitTheControlStandsIn(t *testing.T) {
	if s, err := patch.ParseSettingIn("20", &width, "Q"); err != nil || s.Unit != "Q" || s.String() != "Q 20" {
		t.Errorf("20 typed over Q 5 is %v (%v), want Q 20", s, err)
	}
}

func TestADepthAlwaysBearsItsSign(t *testing.T) {
	for _, c := range []struct {
		text    string
		control patch.Control
		value   float64
		unit    string
		written string
	}{
		{"0.8", centre, 0.8, "oct", "+0.8 oct"},
		{"+0.8 oct", centre, 0.8, "oct", "+0.8 oct"},
		{"-1.25 octaves", centre, -1.25, "oct", "-1.25 oct"},
		{"30 cents", centre, 0.025, "oct", "+30 cent"},
		{"2k Hz", centre, 0, "", ""},
		{"200 Hz", centre, 200, "Hz", "+200 Hz"},
		{"Q 5", width, 5, "Q", "Q +5"},
		{"6 dB", level, 6, "dB", "+6 dB"},
		{"80 %", level, 0.8, "x", "+0.8 x"},
		{"\u00d7 0.5", level, 0.5, "x", "+0.5 x"},
		{"20 %", sustain, 20, "%", "+20 %"},
	} {
		d, err := patch.ParseDepth(c.text, &c.control)
		if c.written == "" {
			if err == nil {
				t.Errorf("depth %q is read as %v, want it refused", c.text, d)
			}
			continue
		}
		if err != nil || d.Value != c.value || d.Unit != c.unit || d.Signed() != c.written {
			t.Errorf("depth %q is %g %q, written %q (%v); want %g %q, %q", c.text, d.Value, d.Unit, d.Signed(), err, c.value, c.unit, c.written)
		}
	}
}

func TestADepthThatCannotBeIsRefusedWithWhatIsAllowed(t *testing.T) {
	for _, c := range []struct {
		text    string
		control patch.Control
		says    string
	}{
		{"11 oct", centre, "allowed is -10 oct to +10 oct, or -20.0 kHz to +20.0 kHz"},
		{"6 dB", centre, "not offered"},
		{"1", shape, "no cord may end in shape"},
		{"deep", centre, "no depth"},
		{"Q 51", width, "out of range"},
	} {
		if _, err := patch.ParseDepth(c.text, &c.control); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("depth %q into %s: %v; want it refused saying %q", c.text, c.control.Name, err, c.says)
		}
	}
}

func TestValuesAreWrittenWithThreeDigits(t *testing.T) {
	for _, c := range []struct {
		v    float64
		unit string
		want string
	}{
		{2100, "Hz", "2.10 kHz"}, {45, "Hz", "45 Hz"}, {0.31, "Hz", "0.31 Hz"}, {999.7, "Hz", "1.00 kHz"}, {999.4, "Hz", "999 Hz"},
		{27.5, "Hz", "27.5 Hz"}, {12543.854, "Hz", "12.5 kHz"}, {0.18, "s", "180 ms"}, {2.4, "s", "2.4 s"}, {0.9997, "s", "1 s"}, {0.0005, "s", "0.5 ms"},
		{3599, "s", "3599 s"}, {0, "s", "0 s"}, {-6, "dB", "-6.0 dB"}, {-0.01, "dB", "0.0 dB"}, {80, "%", "80 %"}, {12.345, "%", "12.3 %"},
		{20, "Q", "Q 20"}, {math.Sqrt2 / 2, "Q", "Q 0.707"}, {0.8, "oct", "0.8 oct"}, {-1.0 / 3, "oct", "-0.333 oct"}, {16, "", "16"}, {1e-7, "Hz", "1e-07 Hz"},
	} {
		if got := patch.FormatValue(c.v, c.unit); got != c.want {
			t.Errorf("%g %s is written %q, want %q", c.v, c.unit, got, c.want)
		}
	}
}

func TestTextThatNoLongerSaysTheValueIsNotShown(t *testing.T) {
	s := patch.Setting{Value: 45, Unit: "Hz", Text: "310 Hz"}
	if s.String() != "45 Hz" || s.Exact() != "45 Hz" {
		t.Errorf("45 Hz with an old text is written %q and %q", s, s.Exact())
	}
}

// anySetting draws a value inside the range of one of the scales of a control.
func anySetting(t *rapid.T, c *patch.Control) patch.Setting {
	if names := c.Scales[0].Choices; names != nil {
		return c.Choice(rapid.IntRange(0, len(names)-1).Draw(t, "choice"))
	}
	s := rapid.SampledFrom(c.Scales).Draw(t, "scale")
	v := rapid.Float64Range(s.Min, s.Max).Draw(t, "value")
	if s.Taper == patch.Stepped {
		v = math.Round(v)
	}
	if rapid.Bool().Draw(t, "from a ruler") {
		r := patch.Rounded(v, s.Unit)
		r.Value = min(max(r.Value, s.Min), s.Max)
		return r
	}
	return patch.Setting{Value: v, Unit: s.Unit}
}

func TestWhatIsWrittenIsReadBack(t *testing.T) {
	all := []patch.Control{centre, width, level, shape, rate, attack, sustain, parts}
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.SampledFrom(all).Draw(t, "control")
		s := anySetting(t, &c)
		exact, err := patch.ParseSetting(s.Exact(), &c)
		if err != nil || exact.Value != s.Value || exact.Unit != s.Unit {
			t.Fatalf("%v, written in full as %q, is read as %v (%v)", s.Value, s.Exact(), exact.Value, err)
		}
		if again, err := patch.ParseSetting(exact.String(), &c); err != nil || again != exact {
			t.Fatalf("%q is read back as %#v (%v), want %#v", exact, again, err, exact)
		}
		shown, err := patch.ParseSettingIn(s.String(), &c, s.Unit)
		if err != nil && !strings.Contains(err.Error(), "out of range") { // rounding may step over the edge of a range
			t.Fatalf("%q can't be read: %v", s, err)
		}
		if d := math.Abs(shown.Value - s.Value); err == nil && d > math.Abs(s.Value)*0.005 && (s.Unit != "dB" || d > 0.0501) {
			t.Fatalf("%g is shown as %q, which is read as %g", s.Value, s, shown.Value)
		}
	})
}
