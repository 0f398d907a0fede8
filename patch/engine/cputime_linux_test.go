package engine

import (
	"runtime"
	"syscall"
	"time"
	"unsafe"
)

// taken returns how long f keeps a processor busy: on a machine that does other
// things as well, that is not the time that passes.
func taken(f func()) time.Duration {
	runtime.LockOSThread()
	defer runtime.UnlockOSThread()
	begun := busy64()
	f()
	return time.Duration(busy64() - begun)
}

// busy64 reads the processor time of this thread, in ns.
func busy64() int64 {
	const clockThreadCPU = 3 // CLOCK_THREAD_CPUTIME_ID, Linux's time.h (from memory)
	var t syscall.Timespec
	if _, _, e := syscall.Syscall(syscall.SYS_CLOCK_GETTIME, clockThreadCPU, uintptr(unsafe.Pointer(&t)), 0); e != 0 {
		panic(e)
	}
	return t.Nano()
}
