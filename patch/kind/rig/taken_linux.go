package rig

import (
	"runtime"
	"syscall"
	"time"
	"unsafe"
)

// Taken returns how long f keeps a processor busy: on a machine that does other
// things as well, that is not the time that passes.
func Taken(f func()) time.Duration {
	runtime.LockOSThread()
	defer runtime.UnlockOSThread()
	begun := busy()
	f()
	return time.Duration(busy() - begun)
}

// busy reads the processor time of this thread, in ns.
func busy() int64 {
	const threadCPU = 3 // CLOCK_THREAD_CPUTIME_ID of Linux's time.h (from memory)
	var t syscall.Timespec
	if _, _, e := syscall.Syscall(syscall.SYS_CLOCK_GETTIME, threadCPU, uintptr(unsafe.Pointer(&t)), 0); e != 0 {
		panic(e)
	}
	return t.Nano()
}
