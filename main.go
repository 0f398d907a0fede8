// Lampblack is a bench and a notebook for people who make sounds
// electronically for pictures, exhibits and broadcasts.
//
//	lampblack            open the window
//	lampblack --help     what can be done without one
package main

import (
	"context"
	"errors"
	"os"
	"runtime/debug"

	_ "lampblack/app/locale" // first: the toolkit reads the locale while it is loaded

	"lampblack/app/command"
)

func main() {
	os.Exit(command.Execute(command.Program{Version: version(), OpenWindow: openWindow}))
}

func openWindow(context.Context, command.Window) error {
	return errors.New("this build has no window; lampblack --help tells what can be done without one")
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
