//go:build unix

package sqlite

import (
	"errors"
	"os"
	"syscall"
	"time"
)

// errHeld is returned for a lock that another open file holds.
var errHeld = errors.New("lock is held")

// fileLock is an advisory lock on a file; it ends with the process that holds
// it, however that ends.
type fileLock struct{ f *os.File }

// takeLock takes the lock of a file and makes the file. It tries again for a
// moment, because isHeld touches the lock for an instant.
func takeLock(path string) (*fileLock, error) {
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o644)
	if err != nil {
		return nil, err
	}
	for range 10 {
		err = flock(f, syscall.LOCK_EX)
		if !errors.Is(err, errHeld) {
			break
		}
		time.Sleep(2 * time.Millisecond)
	}
	if err != nil {
		f.Close()
		return nil, err
	}
	return &fileLock{f}, nil
}

// flock locks without waiting.
func flock(f *os.File, how int) error {
	for {
		err := syscall.Flock(int(f.Fd()), how|syscall.LOCK_NB)
		switch {
		case errors.Is(err, syscall.EINTR):
			continue
		case errors.Is(err, syscall.EWOULDBLOCK):
			return errHeld
		}
		return err
	}
}

// isHeld reports whether somebody holds the lock of a file.
func isHeld(path string) bool {
	f, err := os.Open(path)
	if err != nil {
		return false
	}
	defer f.Close() // gives the shared lock back
	return errors.Is(flock(f, syscall.LOCK_SH), errHeld)
}

// release gives the lock back; a second call does nothing.
func (l *fileLock) release() {
	if l != nil && l.f != nil {
		l.f.Close()
		l.f = nil
	}
}
