package httpserver

import (
	"context"
	"crypto/rand"
	"encoding/hex"
	"net/http"
)

// state is what one request carries through all handlers: its id, the error
// that it ended with, for the one log line, and how a browser is told.
type state struct {
	id        string
	err       error
	errorPage func(http.ResponseWriter, *http.Request, Problem)
}

type stateKey struct{}

// RequestID gives the id under which the log has a request; "" outside one.
func RequestID(ctx context.Context) string {
	if s, ok := ctx.Value(stateKey{}).(*state); ok {
		return s.id
	}
	return ""
}

// stateOf gives the request's state, an empty one that nobody reads where the
// middleware was left out.
func stateOf(r *http.Request) *state {
	if s, ok := r.Context().Value(stateKey{}).(*state); ok {
		return s
	}
	return &state{}
}

// newID makes a request id: 48 random bits, enough to find one line in a log.
func newID() string {
	var b [6]byte
	_, _ = rand.Read(b[:]) // never fails since Go 1.24
	return hex.EncodeToString(b[:])
}

// recorder remembers what was answered.
type recorder struct {
	http.ResponseWriter
	status int
}

// WriteHeader keeps the first status.
func (w *recorder) WriteHeader(status int) {
	if w.status == 0 {
		w.status = status
	}
	w.ResponseWriter.WriteHeader(status)
}

// Write counts as status 200 where none was set.
func (w *recorder) Write(b []byte) (int, error) {
	if w.status == 0 {
		w.status = http.StatusOK
	}
	return w.ResponseWriter.Write(b)
}

// Unwrap lets http.ResponseController reach the connection.
func (w *recorder) Unwrap() http.ResponseWriter { return w.ResponseWriter }
