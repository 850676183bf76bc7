package fulltext

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// Names in the folder of an index.
const (
	currentFile   = "current" // holds the name of the current generation
	generation    = "gen-"    // and a running number
	setAside      = "bad-"    // a generation that could not be used, kept until the next open
	builderFolder = "scorch-offline-build"
)

// folder is the folder of an index.
type folder string

func (f folder) path(name string) string { return filepath.Join(string(f), name) }

// current names the current generation; fs.ErrNotExist where there is none.
func (f folder) current() (string, error) {
	text, err := os.ReadFile(f.path(currentFile))
	if err != nil {
		return "", err
	}
	name := strings.TrimSpace(string(text))
	if !strings.HasPrefix(name, generation) || name != filepath.Base(name) {
		return "", fmt.Errorf("%s names no generation: %q", f.path(currentFile), name)
	}
	return name, nil
}

// makeCurrent moves the name: beside, synced, renamed, folder synced.
func (f folder) makeCurrent(name string) error {
	tmp := f.path(currentFile + ".tmp")
	if err := writeSynced(tmp, name+"\n"); err != nil {
		return err
	}
	if err := os.Rename(tmp, f.path(currentFile)); err != nil {
		return err
	}
	return syncFolder(string(f))
}

// next gives a name that no generation has had, used or set aside.
func (f folder) next() (string, error) {
	entries, err := os.ReadDir(string(f))
	if err != nil {
		return "", err
	}
	last := 0
	for _, e := range entries {
		_, number, _ := strings.Cut(e.Name(), "-")
		if n, err := strconv.Atoi(number); err == nil {
			last = max(last, n)
		}
	}
	return fmt.Sprintf("%s%06d", generation, last+1), nil
}

// putAside renames a generation that cannot be used and gives its new name.
func (f folder) putAside(name string) (string, error) {
	aside := setAside + strings.TrimPrefix(name, generation)
	if err := os.RemoveAll(f.path(aside)); err != nil {
		return "", err
	}
	err := os.Rename(f.path(name), f.path(aside))
	if errors.Is(err, fs.ErrNotExist) {
		return "", nil
	}
	return aside, err
}

// sweep removes what crashes and earlier opens left: all but the named
// generation, and what was set aside under the names to keep.
func (f folder) sweep(keep ...string) error {
	entries, err := os.ReadDir(string(f))
	if err != nil {
		return err
	}
	var errs []error
	for _, e := range entries {
		if ours(e.Name()) && !slices.Contains(keep, e.Name()) {
			errs = append(errs, os.RemoveAll(f.path(e.Name())))
		}
	}
	return errors.Join(errs...)
}

func ours(name string) bool {
	return strings.HasPrefix(name, generation) || strings.HasPrefix(name, setAside) || strings.HasPrefix(name, builderFolder)
}

func writeSynced(path, text string) error {
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	_, err = f.WriteString(text)
	return errors.Join(err, f.Sync(), f.Close())
}

func syncFolder(path string) error {
	d, err := os.Open(path)
	if err != nil {
		return err
	}
	return errors.Join(d.Sync(), d.Close())
}
