package shelf

import (
	"errors"
	"os"

	"golang.org/x/sys/unix"
)

// exchange swaps two names of the folder dir in one step; errNoExchange where the
// file system cannot.
func exchange(dir *os.File, a, b string) error {
	fd := int(dir.Fd())
	err := unix.Renameat2(fd, a, fd, b, unix.RENAME_EXCHANGE)
	if errors.Is(err, unix.EINVAL) || errors.Is(err, unix.ENOSYS) || errors.Is(err, unix.ENOTSUP) {
		return errNoExchange
	}
	if err != nil {
		return &os.LinkError{Op: "exchange", Old: a, New: b, Err: err}
	}
	return nil
}
