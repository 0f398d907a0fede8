package window

import (
	"errors"
	"fmt"
	"net"
	"os"
	"runtime"
	"strings"
	"time"
)

// ErrNoDisplay is returned where no window can be opened.
var ErrNoDisplay = errors.New("there is no display to open a window on; commands need none: see lampblack --help")

// display tells why no window can be opened, or nil. The toolkit ends the whole
// program where it finds no display, so it is asked for beforehand.
func display() error {
	if runtime.GOOS == "windows" || runtime.GOOS == "darwin" {
		return nil
	}
	name := os.Getenv("DISPLAY")
	if name == "" {
		return fmt.Errorf("DISPLAY is not set: %w", ErrNoDisplay)
	}
	network, address, err := server(name)
	if err != nil {
		return fmt.Errorf("DISPLAY is %q: %w: %w", name, err, ErrNoDisplay)
	}
	for _, a := range address {
		c, err := net.DialTimeout(network, a, 2*time.Second)
		if err == nil {
			return c.Close()
		}
	}
	return fmt.Errorf("DISPLAY is %q and nobody answers there: %w", name, ErrNoDisplay)
}

// server returns where the X server of a display listens: a socket in the file
// system or its abstract twin, or a TCP port from 6000 on.
//
// Source: X(7), "Display names".
func server(display string) (network string, addresses []string, err error) {
	colon := strings.LastIndex(display, ":")
	if colon < 0 {
		return "", nil, errors.New("it has no colon; a display is named like :0 or host:0")
	}
	host := display[:colon]
	number, _, _ := strings.Cut(display[colon+1:], ".")
	if number == "" || strings.Trim(number, "0123456789") != "" || len(number) > 5 {
		return "", nil, errors.New("it has no number after its colon; a display is named like :0 or host:0")
	}
	if host == "" || host == "unix" {
		path := "/tmp/.X11-unix/X" + number
		return "unix", []string{path, "@" + path}, nil
	}
	n := 0
	fmt.Sscanf(number, "%d", &n)
	return "tcp", []string{net.JoinHostPort(strings.Trim(host, "[]"), fmt.Sprint(6000+n))}, nil
}
