package sqlite

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"crossbin/internal/app"
)

func TestOwner(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "book")
	if address, ok := ServerAddress(dir); ok {
		t.Errorf("no folder: got the address %q", address)
	}
	owner, err := AcquireOwner(dir)
	if err != nil {
		t.Fatal(err)
	}
	_, err = AcquireOwner(dir)
	wantCode(t, "a second owner", err, app.CodeInUse)
	if address, ok := ServerAddress(dir); ok {
		t.Errorf("nothing published: got the address %q", address)
	}
	if err := owner.Publish("127.0.0.1:4711"); err != nil {
		t.Fatal(err)
	}
	if address, ok := ServerAddress(dir); !ok || address != "127.0.0.1:4711" {
		t.Errorf("got the address %q %v, want the published one", address, ok)
	}
	for range 2 {
		if err := owner.Release(); err != nil {
			t.Errorf("release: %v", err)
		}
	}
	if address, ok := ServerAddress(dir); ok {
		t.Errorf("after the release: got the address %q", address)
	}
	again, err := AcquireOwner(dir)
	if err != nil {
		t.Fatal(err)
	}
	again.Release()
}

// TestAddressOfAKilledServer: an address is believed only while somebody owns
// the book, and an owner removes what a killed one left.
func TestAddressOfAKilledServer(t *testing.T) {
	dir := t.TempDir()
	owner, err := AcquireOwner(dir)
	if err != nil {
		t.Fatal(err)
	}
	if err := owner.Publish("127.0.0.1:4711"); err != nil {
		t.Fatal(err)
	}
	owner.lock.release() // as the kernel does at a kill
	if address, ok := ServerAddress(dir); ok {
		t.Errorf("got the address %q of a dead server", address)
	}
	next, err := AcquireOwner(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer next.Release()
	if address, ok := ServerAddress(dir); ok {
		t.Errorf("got the address %q of the server before", address)
	}
	left, err := filepath.Glob(filepath.Join(dir, addressName+"*"))
	if err != nil || len(left) > 0 {
		t.Errorf("files left: %v %v", left, err)
	}
}

// TestWatchersDoNotDisturb: asking for the address again and again never makes
// an owner fail.
func TestWatchersDoNotDisturb(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, addressName), []byte("127.0.0.1:1\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	stop, ended := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(ended)
		for {
			select {
			case <-stop:
				return
			default:
				ServerAddress(dir)
			}
		}
	}()
	for range 50 {
		owner, err := AcquireOwner(dir)
		if err != nil {
			t.Fatalf("beside somebody who asks: %v", err)
		}
		owner.Release()
		if err := os.WriteFile(filepath.Join(dir, addressName), []byte("127.0.0.1:1\n"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	close(stop)
	<-ended
}

// TestDataVersion: a commit of anybody is seen at once.
func TestDataVersion(t *testing.T) {
	dir := t.TempDir()
	b, other := openBook(t, dir, Options{}), openBook(t, dir, Options{})
	version := func() int64 {
		v, err := b.DataVersion(bg)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	start := version()
	if again := version(); again != start {
		t.Errorf("without a commit the version went from %d to %d", start, again)
	}
	for _, writer := range []*Book{b, other} {
		before := version()
		began := time.Now()
		if err := addOne(writer, "n"); err != nil {
			t.Fatal(err)
		}
		if version() == before {
			t.Errorf("a commit was not seen after %v", time.Since(began))
		}
	}
	mustBring(t, other, "1", "yard", madeSheet("yard", "Q", 3))
	if revision, err := b.Revision(bg); err != nil || revision != 1 {
		t.Errorf("got revision %d %v, want 1", revision, err)
	}
}
