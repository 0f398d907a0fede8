package window

import (
	"os"
	"runtime"
	"runtime/debug"
)

// spare makes room for the sound thread within the program. What the environment
// says (GOMAXPROCS, GOGC, GOMEMLIMIT) goes before.
//
//   - More goroutines may run than there are processors, so that the sound thread
//     never waits within the program until another has done its turn: the system
//     itself puts it before the others.
//   - Garbage is collected a quarter as often: each collection stops all threads
//     for a moment, the sound thread too, and the longer the busier the machine is.
//     Playing leaves about 20 MB of it a second.
func spare() {
	if os.Getenv("GOMAXPROCS") == "" {
		runtime.GOMAXPROCS(runtime.NumCPU() + 2)
	}
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(400)
	}
	if os.Getenv("GOMEMLIMIT") == "" {
		debug.SetMemoryLimit(1 << 30)
	}
}
