package httpserver

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"crossbin/internal/app"
)

func TestEveryCodeHasOneStatus(t *testing.T) {
	want := map[app.Code]int{
		app.CodeInvalid: 400, app.CodeUnreadable: 422, app.CodeNotFound: 404, app.CodeConflict: 409, app.CodeInUse: 503,
		app.CodeDamaged: 500, app.CodeTooNew: 500, app.CodeUnavailable: 503, app.CodeInternal: 500,
		CodeTooLarge: 413, CodeUnsupported: 415, CodeMethod: 405, CodeForeign: 403,
	}
	if got := len(Kinds()); got != len(want) {
		t.Errorf("got %d kinds, want %d", got, len(want))
	}
	for _, k := range Kinds() {
		if got := ProblemOf(&app.Error{Code: k.Code}, "x").Status; got != want[k.Code] {
			t.Errorf("%s: got %d, want %d", k.Code, got, want[k.Code])
		}
	}
}

func TestProblemTellsAPersonWhatIsMeantForThem(t *testing.T) {
	secret := errors.New("open /home/me/book.db: permission denied")
	tests := []struct {
		name               string
		err                error
		code               app.Code
		detail, hint, deny string
	}{
		{"an error of ours", &app.Error{Code: app.CodeNotFound, Message: "no such type", Hint: "see the list", Cause: secret},
			app.CodeNotFound, "no such type", "see the list", "book.db"},
		{"one wrapped on its way", fmt.Errorf("while asking: %w", &app.Error{Code: app.CodeInUse, Message: "held"}),
			app.CodeInUse, "held", "", "asking"},
		{"any other error", secret, app.CodeInternal, "something went wrong here", "the log has it under 7f", "book.db"},
		{"out of time", fmt.Errorf("read: %w", context.DeadlineExceeded), app.CodeUnavailable, "the answer took too long", "ask again, or ask for less", "read"},
		{"broken off", context.Canceled, app.CodeUnavailable, "the question was broken off", "ask again", "context"},
		{"a code nobody knows", &app.Error{Code: "new", Message: "m"}, app.CodeInternal, "m", "the log has it under 7f", ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := ProblemOf(tt.err, "7f")
			if got.Code != tt.code || got.Detail != tt.detail || got.Hint != tt.hint || got.RequestID != "7f" {
				t.Errorf("got %+v", got)
			}
			if text := fmt.Sprint(got); tt.deny != "" && strings.Contains(text, tt.deny) {
				t.Errorf("%q is for the log only: %s", tt.deny, text)
			}
			if want := "/api#problem-" + string(tt.code); got.Type != want {
				t.Errorf("type: got %s, want %s", got.Type, want)
			}
		})
	}
}

func TestWriteProblemIsRFC9457(t *testing.T) {
	w := httptest.NewRecorder()
	WriteProblem(w, httptest.NewRequest("GET", "/api/v1/fit", nil), &app.Error{Code: app.CodeUnavailable, Message: "busy"})
	if got := w.Header().Get("Content-Type"); got != "application/problem+json" {
		t.Errorf("content type: got %q", got)
	}
	if w.Header().Get("Retry-After") == "" {
		t.Error("a 503 says when to try again")
	}
	var got map[string]any
	if err := json.Unmarshal(w.Body.Bytes(), &got); err != nil {
		t.Fatal(err)
	}
	for _, key := range []string{"type", "title", "status", "detail", "request_id"} {
		if _, ok := got[key]; !ok {
			t.Errorf("no %s in %v", key, got)
		}
	}
	if w.Code != http.StatusServiceUnavailable || got["status"] != float64(w.Code) {
		t.Errorf("status: got %d and %v", w.Code, got["status"])
	}
}
