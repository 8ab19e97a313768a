//go:build unix

package store

import (
	"errors"
	"os"
	"syscall"
)

// lock keeps other programs from a file until it is closed, or this program ends however
// it ends. SQLite's own locks are of another kind.
func lock(f *os.File) error {
	err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
	if errors.Is(err, syscall.EWOULDBLOCK) {
		return ErrInUse
	}
	return err
}
