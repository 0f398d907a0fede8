// Lampblack is a bench and a notebook for people who make sounds
// electronically for pictures, exhibits and broadcasts.
//
//	lampblack            open the window
//	lampblack --help     what can be done without one
package main

import (
	"context"
	"os"
	"runtime/debug"

	_ "lampblack/app/locale" // first: the toolkit reads the locale while it is loaded

	"lampblack/app/command"
	"lampblack/app/window"
)

func main() {
	os.Exit(command.Execute(command.Program{Version: version(), OpenWindow: openWindow}))
}

func openWindow(ctx context.Context, w command.Window) error {
	return window.Open(ctx, window.Options{Notebook: w.Notebook, Buffer: w.Buffer, Timings: w.Timings, Program: version()})
}

// version is what the Go tool wrote into the program: the module's version, or
// the commit that it was built from.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok || info.Main.Version == "" {
		return "(unknown version)"
	}
	return info.Main.Version
}
