package numbers

import (
	"syscall"
	"time"
	"unsafe"
)

// spent is the processor time of the calling thread so far: on a machine that
// others use too, the time on the wall says little.
func spent() time.Duration {
	const thread = 3 // CLOCK_THREAD_CPUTIME_ID
	var at syscall.Timespec
	if _, _, errno := syscall.Syscall(syscall.SYS_CLOCK_GETTIME, thread, uintptr(unsafe.Pointer(&at)), 0); errno != 0 {
		panic(errno)
	}
	return time.Duration(at.Nano())
}
