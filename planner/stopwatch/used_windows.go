package stopwatch

import (
	"syscall"
	"time"
)

// Used returns the processor time that the program has used so far, 0 where the
// system does not say (GetProcessTimes).
func Used() time.Duration {
	self, err := syscall.GetCurrentProcess()
	if err != nil {
		return 0
	}
	var made, ended, kernel, user syscall.Filetime
	if syscall.GetProcessTimes(self, &made, &ended, &kernel, &user) != nil {
		return 0
	}
	ticks := func(t syscall.Filetime) int64 { return int64(t.HighDateTime)<<32 | int64(t.LowDateTime) } // of 100 ns
	return time.Duration(ticks(kernel)+ticks(user)) * 100
}
