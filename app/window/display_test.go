package window

import (
	"errors"
	"net"
	"path/filepath"
	"runtime"
	"slices"
	"testing"
)

func TestADisplayIsNamedAsXDoes(t *testing.T) {
	for _, c := range []struct {
		name, network string
		addresses     []string
		why           string
	}{
		{":0", "unix", []string{"/tmp/.X11-unix/X0", "@/tmp/.X11-unix/X0"}, "X(7): no host is this machine"},
		{":99.0", "unix", []string{"/tmp/.X11-unix/X99", "@/tmp/.X11-unix/X99"}, "X(7): a screen number may follow"},
		{"unix:1", "unix", []string{"/tmp/.X11-unix/X1", "@/tmp/.X11-unix/X1"}, "X(7)"},
		{"bench:10.0", "tcp", []string{"bench:6010"}, "X(7): TCP port 6000 and the number"},
		{"[::1]:2", "tcp", []string{"[::1]:6002"}, "an IPv6 host stands in brackets"},
	} {
		network, addresses, err := server(c.name)
		if err != nil || network != c.network || !slices.Equal(addresses, c.addresses) {
			t.Errorf("%s: %s %v %v, want %s %v (%s)", c.name, network, addresses, err, c.network, c.addresses, c.why)
		}
	}
	for _, bad := range []string{"", "0", ":", ":x", ":-1", ":123456", "host:"} {
		if _, _, err := server(bad); err == nil {
			t.Errorf("%q is taken for a display", bad)
		}
	}
}

func TestWithoutADisplayTheReasonIsTold(t *testing.T) {
	if runtime.GOOS == "windows" || runtime.GOOS == "darwin" {
		t.Skip("the display is always there")
	}
	for _, name := range []string{"", "nonsense", ":54321"} {
		t.Setenv("DISPLAY", name)
		if err := Open(t.Context(), Options{Notebook: filepath.Join(t.TempDir(), "x.lampblack")}); !errors.Is(err, ErrNoDisplay) {
			t.Errorf("DISPLAY %q: %v", name, err)
		}
	}
	l, err := net.Listen("tcp", "127.0.0.1:6093")
	if err != nil {
		t.Skip("no port to listen on: ", err)
	}
	defer l.Close()
	t.Setenv("DISPLAY", "127.0.0.1:93")
	if err := display(); err != nil {
		t.Errorf("somebody answers at the display, and still: %v", err)
	}
}
