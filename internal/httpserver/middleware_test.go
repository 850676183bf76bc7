package httpserver

import (
	"bytes"
	"errors"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"crossbin/internal/app"
)

// wrapped gives a handler in its middleware and the log that it writes.
func wrapped(h http.HandlerFunc, guard *Guard) (http.Handler, *bytes.Buffer) {
	var log bytes.Buffer
	logger := slog.New(slog.NewTextHandler(&log, &slog.HandlerOptions{Level: slog.LevelDebug}))
	page := func(w http.ResponseWriter, _ *http.Request, p Problem) {
		w.WriteHeader(p.Status)
		_, _ = io.WriteString(w, "<p>"+p.Detail)
	}
	return Wrap(h, logger, guard, page), &log
}

func ok(w http.ResponseWriter, _ *http.Request) { _, _ = io.WriteString(w, "ok") }

func TestHeadersOfEveryAnswer(t *testing.T) {
	h, _ := wrapped(ok, nil)
	w := httptest.NewRecorder()
	h.ServeHTTP(w, httptest.NewRequest("GET", "/", nil))
	for _, name := range []string{"Request-Id", "Referrer-Policy", "Cross-Origin-Opener-Policy", "Cross-Origin-Resource-Policy", "Permissions-Policy"} {
		if w.Header().Get(name) == "" {
			t.Errorf("no %s", name)
		}
	}
	if got := w.Header().Get("X-Content-Type-Options"); got != "nosniff" {
		t.Errorf("got %q", got)
	}
	policy := w.Header().Get("Content-Security-Policy")
	for _, want := range []string{"default-src 'none'", "style-src 'self'", "form-action 'self'", "base-uri 'none'", "frame-ancestors 'none'"} {
		if !strings.Contains(policy, want) {
			t.Errorf("policy %q lacks %s", policy, want)
		}
	}
	if strings.Contains(policy, "unsafe") || strings.Contains(policy, "script-src") {
		t.Errorf("no page runs a script: %q", policy)
	}
}

func TestRequestIDIsTheOneInTheLog(t *testing.T) {
	var inside string
	h, log := wrapped(func(w http.ResponseWriter, r *http.Request) {
		inside = RequestID(r.Context())
		WriteProblem(w, r, &app.Error{Code: app.CodeInternal, Message: "the disk is full", Cause: errors.New("write book: ENOSPC")})
	}, nil)
	w := httptest.NewRecorder()
	h.ServeHTTP(w, httptest.NewRequest("GET", "/x?frame=ZQX30-0123456", nil))
	if got := w.Header().Get("Request-Id"); got == "" || got != inside || !strings.Contains(w.Body.String(), got) {
		t.Errorf("got %q, inside %q, body %s", got, inside, w.Body)
	}
	if got := log.String(); !strings.Contains(got, inside) || !strings.Contains(got, "ENOSPC") || !strings.Contains(got, "level=ERROR") {
		t.Errorf("log: %s", got)
	}
	if strings.Contains(log.String(), "ZQX30") {
		t.Error("a frame number stands in the log")
	}
}

func TestPanicBecomesAProblem(t *testing.T) {
	h, log := wrapped(func(http.ResponseWriter, *http.Request) { panic("boom at shelf 3") }, nil)
	w := httptest.NewRecorder()
	h.ServeHTTP(w, httptest.NewRequest("GET", "/api/v1/fit", nil))
	if w.Code != http.StatusInternalServerError || w.Header().Get("Content-Type") != "application/problem+json" {
		t.Errorf("got %d %s", w.Code, w.Header().Get("Content-Type"))
	}
	if strings.Contains(w.Body.String(), "boom") {
		t.Errorf("the panic is for the log: %s", w.Body)
	}
	if !strings.Contains(log.String(), "boom at shelf 3") {
		t.Errorf("log: %s", log)
	}
}

func TestPanicAfterHalfAnAnswerBreaksTheConnection(t *testing.T) {
	h, log := wrapped(func(w http.ResponseWriter, _ *http.Request) {
		_, _ = io.WriteString(w, `{"candidates": [`)
		panic("boom")
	}, nil)
	s := httptest.NewServer(h)
	defer s.Close()
	resp, err := s.Client().Get(s.URL)
	if err == nil {
		_, err = io.ReadAll(resp.Body)
		_ = resp.Body.Close()
	}
	if err == nil {
		t.Error("half an answer came as a whole one")
	}
	s.Close()
	if !strings.Contains(log.String(), "boom") {
		t.Errorf("log: %s", log)
	}
}

func TestBounds(t *testing.T) {
	echo := func(w http.ResponseWriter, r *http.Request) {
		if _, err := io.ReadAll(r.Body); err != nil {
			var tooLarge *http.MaxBytesError
			if errors.As(err, &tooLarge) {
				err = &app.Error{Code: CodeTooLarge, Message: "too large"}
			}
			WriteProblem(w, r, err)
		}
	}
	tests := []struct {
		name  string
		query string
		body  int
		want  int
	}{
		{"a query at the limit", strings.Repeat("q", MaxQuery), 0, 200},
		{"a query above it", strings.Repeat("q", MaxQuery+1), 0, 413},
		{"a body at the limit", "", MaxBody, 200},
		{"a body above it", "", MaxBody + 1, 413},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			h, _ := wrapped(echo, nil)
			w := httptest.NewRecorder()
			h.ServeHTTP(w, httptest.NewRequest("POST", "/?"+tt.query, strings.NewReader(strings.Repeat("b", tt.body))))
			if w.Code != tt.want {
				t.Errorf("got %d, want %d", w.Code, tt.want)
			}
		})
	}
}

func TestAnswersHaveATimeLimit(t *testing.T) {
	h, _ := wrapped(func(_ http.ResponseWriter, r *http.Request) {
		if _, ok := r.Context().Deadline(); !ok {
			t.Error("no deadline")
		}
	}, nil)
	h.ServeHTTP(httptest.NewRecorder(), httptest.NewRequest("GET", "/", nil))
}

func TestOtherSitesAreRefused(t *testing.T) {
	tests := []struct {
		name, method string
		headers      map[string]string
		want         int
	}{
		{"a program without a browser", "POST", nil, 200},
		{"our own page", "POST", map[string]string{"Sec-Fetch-Site": "same-origin"}, 200},
		{"a form on another site", "POST", map[string]string{"Sec-Fetch-Site": "cross-site"}, 403},
		{"an older browser on another site", "POST", map[string]string{"Origin": "https://elsewhere.example"}, 403},
		{"a link on another site", "GET", map[string]string{"Sec-Fetch-Site": "cross-site"}, 200},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			h, _ := wrapped(ok, nil)
			r := httptest.NewRequest(tt.method, "http://127.0.0.1:8080/api/v1/fit", nil)
			for k, v := range tt.headers {
				r.Header.Set(k, v)
			}
			w := httptest.NewRecorder()
			h.ServeHTTP(w, r)
			if w.Code != tt.want {
				t.Errorf("got %d, want %d", w.Code, tt.want)
			}
		})
	}
}

func TestOnlyLoopbackNamesAreAnswered(t *testing.T) {
	tests := []struct {
		host string
		want bool
	}{
		{"127.0.0.1:8080", true}, {"127.0.0.1", true}, {"127.8.9.1:80", true}, {"localhost:8080", true}, {"LocalHost", true},
		{"localhost.:8080", true}, {"[::1]:8080", true}, {"[::1]", true}, {"[::ffff:127.0.0.1]:80", true},
		{"", false}, {"evil.example:8080", false}, {"127.0.0.1.evil.example", false}, {"localhost.evil.example", false},
		{"192.168.0.7:8080", false}, {"0.0.0.0:8080", false}, {"[::]:8080", false}, {"localhost:80:80", false},
	}
	for _, tt := range tests {
		t.Run(tt.host, func(t *testing.T) {
			h, _ := wrapped(ok, &Guard{})
			r := httptest.NewRequest("GET", "/", nil)
			r.Host = tt.host
			w := httptest.NewRecorder()
			h.ServeHTTP(w, r)
			if got := w.Code == http.StatusOK; got != tt.want {
				t.Errorf("got status %d", w.Code)
			}
		})
	}
}

func TestBrowsersGetAPageOtherAskersJSON(t *testing.T) {
	tests := []struct {
		name, path, accept string
		page               bool
	}{
		{"a browser on a page", "/nowhere", "text/html,*/*", true},
		{"a browser on the API", "/api/nowhere", "text/html,*/*", false},
		{"a program", "/nowhere", "*/*", false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			h, _ := wrapped(NewRouter().ServeHTTP, nil)
			r := httptest.NewRequest("GET", tt.path, nil)
			r.Header.Set("Accept", tt.accept)
			w := httptest.NewRecorder()
			h.ServeHTTP(w, r)
			if got := strings.HasPrefix(w.Body.String(), "<p>"); got != tt.page || w.Code != http.StatusNotFound {
				t.Errorf("got %d %s", w.Code, w.Body)
			}
		})
	}
}
