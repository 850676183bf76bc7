package httpserver

import (
	"context"
	"errors"
	"io"
	"net"
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/gorilla/mux"

	"crossbin/internal/app"
)

// start runs a server on a free port and gives its address and what ends it.
func start(t *testing.T, h http.Handler) (string, func() error) {
	t.Helper()
	s, err := New(Config{Listen: "127.0.0.1:0", Handler: h})
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	done := make(chan error, 1)
	go func() { done <- s.Run(ctx) }()
	return "http://" + s.Address(), func() error { cancel(); return <-done }
}

func get(url string) (int, string, error) {
	resp, err := http.Get(url)
	if err != nil {
		return 0, "", err
	}
	body, err := io.ReadAll(resp.Body)
	return resp.StatusCode, string(body), errors.Join(err, resp.Body.Close())
}

func TestServerAnswersAndEnds(t *testing.T) {
	router := NewRouter(func(r *mux.Router) { r.HandleFunc("/", ok).Methods("GET") })
	url, end := start(t, router)
	if status, body, err := get(url + "/"); err != nil || status != 200 || body != "ok" {
		t.Errorf("got %d %q %v", status, body, err)
	}
	if status, body, err := get(url + "/nowhere"); err != nil || status != 404 || !strings.Contains(body, "nothing at /nowhere") {
		t.Errorf("got %d %q %v", status, body, err)
	}
	resp, err := http.Post(url+"/", "text/plain", nil)
	if err != nil || resp.StatusCode != http.StatusMethodNotAllowed {
		t.Errorf("got %v %v", resp, err)
	} else {
		_ = resp.Body.Close()
	}
	if err := end(); err != nil {
		t.Errorf("an orderly end is no error: %v", err)
	}
	if _, _, err := get(url + "/"); err == nil {
		t.Error("still answers after its end")
	}
}

func TestAnswersUnderWayAreFinished(t *testing.T) {
	entered, leave := make(chan struct{}), make(chan struct{})
	url, end := start(t, http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		close(entered)
		<-leave
		ok(w, r)
	}))
	answer := make(chan string, 1)
	go func() {
		_, body, err := get(url)
		if err != nil {
			body = err.Error()
		}
		answer <- body
	}()
	<-entered
	ended := make(chan error, 1)
	go func() { ended <- end() }()
	waitClosed(t, strings.TrimPrefix(url, "http://"))
	close(leave)
	if got := <-answer; got != "ok" {
		t.Errorf("got %q", got)
	}
	if err := <-ended; err != nil {
		t.Errorf("got %v", err)
	}
}

// waitClosed waits until nobody listens at an address any more.
func waitClosed(t *testing.T, address string) {
	t.Helper()
	for t.Context().Err() == nil {
		c, err := net.DialTimeout("tcp", address, time.Second)
		if err != nil {
			return
		}
		_ = c.Close()
	}
}

func TestNewRefusesWhatItCannotServe(t *testing.T) {
	taken, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = taken.Close() }()
	tests := []struct {
		name, listen string
		code         app.Code
	}{
		{"an address in use", taken.Addr().String(), app.CodeInUse},
		{"no address at all", "the counter", app.CodeInvalid},
		{"every address of the computer", "0.0.0.0:0", app.CodeInvalid},
		{"every address, said shortly", ":0", app.CodeInvalid},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s, err := New(Config{Listen: tt.listen})
			if got := app.CodeOf(err); err == nil || got != tt.code {
				t.Errorf("got %v (%v), want %s", err, s, tt.code)
			}
		})
	}
}

func TestOpenOnPurposeAnswersUnderAnyName(t *testing.T) {
	s, err := New(Config{Listen: "0.0.0.0:0", Handler: http.HandlerFunc(ok), Everywhere: true})
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Error(err)
	}
}
