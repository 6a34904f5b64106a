//go:build unix

package input

import (
	"os"
	"time"

	"golang.org/x/sys/unix"
)

// ready reports whether there is something to read, at the latest after wait.
func ready(f *os.File, wait time.Duration) bool {
	fds := []unix.PollFd{{Fd: int32(f.Fd()), Events: unix.POLLIN}}
	n, err := unix.Poll(fds, int(wait.Milliseconds()))
	return err == nil && n > 0
}
