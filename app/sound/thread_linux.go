package sound

import (
	"runtime"
	"time"

	"golang.org/x/sys/unix"
)

// soundPriority is where the sound thread stands among the threads that come
// before all others, 1 to 99: low, and yet before every ordinary one. soundNice
// is how far it is put before the ordinary ones where that is not allowed.
const soundPriority, soundNice = 5, -11

// raise ties the calling goroutine to its thread and asks the system to run it
// before whatever else wants to run: a block of sound takes a twentieth of the
// time that it lasts, and can't wait until a page is drawn. Where the system does
// not allow it (limits of RTPRIO and NICE), the thread stays an ordinary one.
func raise() {
	runtime.LockOSThread()
	err := unix.SchedSetAttr(0, &unix.SchedAttr{
		Size: unix.SizeofSchedAttr, Policy: unix.SCHED_RR, Flags: unix.SCHED_FLAG_RESET_ON_FORK, Priority: soundPriority,
	}, 0)
	if err != nil {
		_ = unix.Setpriority(unix.PRIO_PROCESS, unix.Gettid(), soundNice)
	}
}

// sleep waits for d. The system itself wakes the thread, within 0.1 ms; the timers
// of the language count in whole milliseconds while the program is idle.
func sleep(d time.Duration) {
	if d > 0 {
		t := unix.NsecToTimespec(int64(d))
		_ = unix.Nanosleep(&t, nil) // cut short by a signal, the next turn sleeps on
	}
}
