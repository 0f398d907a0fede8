package command

import (
	"testing"
	"time"
)

func TestReadBuffer(t *testing.T) {
	for _, c := range []struct {
		text string
		want time.Duration // 0: refused
		why  string
	}{
		{"80ms", 80 * time.Millisecond, "as the help writes it"},
		{"80 ms", 80 * time.Millisecond, "as the page writes times"},
		{"0.1s", 100 * time.Millisecond, "seconds"},
		{"1s", time.Second, "the most that is allowed"},
		{"21.4ms", 21400 * time.Microsecond, "1,024 frames at 48 kHz are 21.33 ms"},
		{"21.3ms", 0, "1,022 frames"},
		{"1.001s", 0, "more than a second"},
		{"-80ms", 0, "before the sound"},
		{"80", 0, "80 of what"},
		{"", 0, "nothing"},
	} {
		got, err := readBuffer(c.text)
		if got != c.want || (err == nil) != (c.want > 0) {
			t.Errorf("%q is %v, %v; want %v: %s", c.text, got, err, c.want, c.why)
		}
	}
}
