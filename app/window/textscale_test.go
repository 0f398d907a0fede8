package window

import "testing"

func TestTheDesktopSaysHowLargeTextIs(t *testing.T) {
	for _, c := range []struct {
		name, variable, setting string
		want                    float32
	}{
		{"nothing is said", "", "", 1},
		{"the variable of GTK programs", "1.5", "", 1.5},
		{"the desktop's own setting", "", "1.25\n", 1.25},
		{"the variable goes before the setting", "2", "1.25", 2},
		{"no number", "large", "'1.25'", 1},
		{"a size that nobody can read", "0.01", "", 1},
		{"a size that fills the screen", "100", "1.25", 1.25},
		{"not a number at all", "NaN", "", 1},
	} {
		got := textScale(func(string) string { return c.variable }, func(string, ...string) string { return c.setting })
		if got != c.want {
			t.Errorf("%s: %g, want %g", c.name, got, c.want)
		}
	}
}

func TestAProgramThatIsNotThereSaysNothing(t *testing.T) {
	if got := askProgram("lampblack-is-no-such-program"); got != "" {
		t.Errorf("it said %q", got)
	}
}
