package httpserver

import (
	"context"
	"fmt"
	"log/slog"
	"net/http"
	"runtime/debug"
	"time"

	"crossbin/internal/app"
)

// Limits of one request, checked before any work. A fit question is under 1 KiB
// in the address and under 4 KiB as a body, so these leave room and no more.
const (
	MaxQuery = 8 << 10  // bytes of the query in the address
	MaxBody  = 64 << 10 // bytes of a body
	// MaxAnswerTime ends a question that nobody waits for any more.
	MaxAnswerTime = 30 * time.Second
)

// contentPolicy lets a page load our own style sheet and nothing else; no page
// needs a script. Content Security Policy Level 3.
const contentPolicy = "default-src 'none'; style-src 'self'; img-src 'self' data:; form-action 'self'; " +
	"base-uri 'none'; frame-ancestors 'none'"

// Wrap puts the middleware around a handler: id and log line outermost, then
// recovery, headers, who may ask, and the bounds.
func Wrap(next http.Handler, logger *slog.Logger, guard *Guard, errorPage func(http.ResponseWriter, *http.Request, Problem)) http.Handler {
	h := bound(next)
	h = sameSite(h)
	if guard != nil {
		h = guard.wrap(h)
	}
	return observe(headers(recovered(h)), logger, errorPage)
}

// observe gives each request its id and writes one log line at its end: no
// query and no body, since they hold frame numbers.
func observe(next http.Handler, logger *slog.Logger, errorPage func(http.ResponseWriter, *http.Request, Problem)) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		begin, s, rec := time.Now(), &state{id: newID(), errorPage: errorPage}, &recorder{ResponseWriter: w}
		w.Header().Set("Request-Id", s.id)
		defer func() {
			logger.LogAttrs(r.Context(), levelOf(rec.status), "request", attributes(r, s, rec.status, time.Since(begin))...)
		}()
		next.ServeHTTP(rec, r.WithContext(context.WithValue(r.Context(), stateKey{}, s)))
	})
}

func levelOf(status int) slog.Level {
	if status >= http.StatusInternalServerError {
		return slog.LevelError
	}
	return slog.LevelDebug
}

func attributes(r *http.Request, s *state, status int, took time.Duration) []slog.Attr {
	out := []slog.Attr{slog.String("id", s.id), slog.String("method", r.Method), slog.String("path", r.URL.Path),
		slog.Int("status", status), slog.Duration("took", took)}
	if s.err != nil {
		out = append(out, slog.String("error", causes(s.err)))
	}
	return out
}

// causes gives an error with all that lies behind it: app.Error shows a person
// its sentence only.
func causes(err error) string {
	text := err.Error()
	for {
		u, ok := err.(interface{ Unwrap() error })
		if !ok || u.Unwrap() == nil {
			return text
		}
		if err = u.Unwrap(); err != nil {
			text += ": " + err.Error()
		}
	}
}

// recovered turns a panic into a problem, or breaks the connection where half
// an answer is out already: a cut answer must not look like a whole one.
func recovered(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		defer func() {
			p := recover()
			if p == nil {
				return
			}
			if p == http.ErrAbortHandler {
				panic(p)
			}
			err := fmt.Errorf("panic: %v\n%s", p, debug.Stack())
			if rec, ok := w.(*recorder); ok && rec.status != 0 {
				stateOf(r).err = err
				panic(http.ErrAbortHandler)
			}
			Fail(w, r, err)
		}()
		next.ServeHTTP(w, r)
	})
}

// headers sets what every answer carries; a handler may set its own caching.
func headers(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", contentPolicy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Permissions-Policy", "camera=(), geolocation=(), microphone=()")
		h.Set("Cache-Control", "no-cache")
		next.ServeHTTP(w, r)
	})
}

// sameSite refuses what another site makes a browser send.
func sameSite(next http.Handler) http.Handler {
	c := http.NewCrossOriginProtection()
	c.SetDenyHandler(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		Fail(w, r, &app.Error{Code: CodeForeign, Message: "another site sent this request",
			Hint: "open the page itself and ask from there"})
	}))
	return c.Handler(next)
}

// bound checks the sizes and sets the time limit.
func bound(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if n := len(r.URL.RawQuery); n > MaxQuery {
			Fail(w, r, &app.Error{Code: CodeTooLarge, Message: fmt.Sprintf("the query is %d bytes long, above the limit of %d", n, MaxQuery),
				Hint: "ask for one vehicle and one part type at a time"})
			return
		}
		r.Body = http.MaxBytesReader(w, r.Body, MaxBody)
		ctx, cancel := context.WithTimeout(r.Context(), MaxAnswerTime)
		defer cancel()
		next.ServeHTTP(w, r.WithContext(ctx))
	})
}
