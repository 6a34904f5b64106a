//go:build unix

package stopwatch

import (
	"syscall"
	"time"
)

// Used returns the processor time that the program has used so far, 0 where the
// system does not say (getrusage, POSIX.1-2017).
func Used() time.Duration {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
