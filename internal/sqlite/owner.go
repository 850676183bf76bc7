package sqlite

import (
	"errors"
	"os"
	"path/filepath"
	"strings"

	"crossbin/internal/app"
)

// Files in the book's folder through which processes find one another.
const (
	ownerLockName  = "owner.lock"
	importLockName = "import.lock"
	addressName    = "server.address"
)

// Owner is the process that owns the index and all that is kept in memory.
type Owner struct {
	dir  string
	lock *fileLock
}

// AcquireOwner makes this process the owner of the book in a folder, which it
// makes when it is missing; CodeInUse when another process is.
func AcquireOwner(dir string) (*Owner, error) {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return nil, explain("opening the folder "+dir, err)
	}
	lock, err := takeLock(filepath.Join(dir, ownerLockName))
	if errors.Is(err, errHeld) {
		return nil, problem(app.CodeInUse, "another crossbin owns the book in "+dir, "ask that one, or end it first")
	}
	if err != nil {
		return nil, explain("locking the book in "+dir, err)
	}
	os.Remove(filepath.Join(dir, addressName)) // of a server that was killed
	return &Owner{dir, lock}, nil
}

// Publish writes the address on which the owner can be asked.
func (o *Owner) Publish(address string) error {
	err := writeFile(filepath.Join(o.dir, addressName), []byte(address+"\n"))
	return explain("publishing the server's address", err)
}

// Release removes the address and gives the book free. It may be called twice.
func (o *Owner) Release() error {
	if o == nil || o.lock.f == nil {
		return nil
	}
	err := os.Remove(filepath.Join(o.dir, addressName))
	o.lock.release()
	if errors.Is(err, os.ErrNotExist) {
		return nil
	}
	return explain("giving the book free", err)
}

// ServerAddress gives the address of the server of a book. What stands in the
// folder is believed only while somebody owns the book.
func ServerAddress(dir string) (string, bool) {
	text, err := os.ReadFile(filepath.Join(dir, addressName))
	address := strings.TrimSpace(string(text))
	if err != nil || address == "" || !isHeld(filepath.Join(dir, ownerLockName)) {
		return "", false
	}
	return address, true
}

// writeFile writes a file beside its place, syncs it and renames it there, so
// that a reader sees the old text or the new one.
func writeFile(path string, text []byte) error {
	f, err := os.CreateTemp(filepath.Dir(path), filepath.Base(path)+".*")
	if err != nil {
		return err
	}
	_, err = f.Write(text)
	err = errors.Join(err, f.Sync(), f.Close())
	if err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		os.Remove(f.Name())
		return err
	}
	return syncDir(filepath.Dir(path))
}

func syncDir(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	return errors.Join(d.Sync(), d.Close())
}
