//go:build !linux

package sound

import (
	"runtime"
	"time"
)

// raise ties the calling goroutine to its thread.
func raise() { runtime.LockOSThread() }

// sleep waits for d.
func sleep(d time.Duration) { time.Sleep(d) }
