package window

import (
	"context"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"time"
)

// textScale returns how much larger than usual the desktop wants text, 0.5 to
// 3; 1 where it says nothing. The scale of the whole screen is the toolkit's
// business; this is the setting for people who want larger letters alone.
//
// It is asked of GDK_DPI_SCALE, the variable that GTK programs follow, then of
// the desktop's own setting where the gsettings program is there.
func textScale(env func(string) string, ask func(name string, args ...string) string) float32 {
	for _, answer := range []func() string{
		func() string { return env("GDK_DPI_SCALE") },
		func() string { return ask("gsettings", "get", "org.gnome.desktop.interface", "text-scaling-factor") },
	} {
		scale, err := strconv.ParseFloat(strings.TrimSpace(answer()), 32)
		if err == nil && scale >= 0.5 && scale <= 3 {
			return float32(scale)
		}
	}
	return 1
}

// askedFor is how long the desktop may take to answer: the window waits for it.
const askedFor = 200 * time.Millisecond

// askProgram returns what a program prints, "" if it is not there, fails or
// takes too long.
func askProgram(name string, args ...string) string {
	ctx, cancel := context.WithTimeout(context.Background(), askedFor)
	defer cancel()
	out, err := exec.CommandContext(ctx, name, args...).Output()
	if err != nil {
		return ""
	}
	return string(out)
}

// desktopText is the text scale in force, asked once.
func desktopText() float32 { return textScale(os.Getenv, askProgram) }
