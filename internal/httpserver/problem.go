package httpserver

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"net/http"
	"strings"

	"crossbin/internal/app"
)

// Codes of errors that only HTTP knows, beside those of app.
const (
	CodeTooLarge    app.Code = "too_large"   // body or query above its limit
	CodeUnsupported app.Code = "unsupported" // a body in another form than JSON
	CodeMethod      app.Code = "method"      // the address is right, the method is not
	CodeForeign     app.Code = "foreign"     // asked by way of another site or another name
)

// Kind is one row of the table of problems: what a code means over HTTP.
type Kind struct {
	Code    app.Code
	Status  int
	Title   string // the same for every problem of this kind
	Meaning string // for people who read the table
}

// problemBase goes before a code in a problem's type; the page of the API
// explains each kind under that anchor.
const problemBase = "/api#problem-"

// Type is the URI reference that names the kind (RFC 9457, 3.1.1).
func (k Kind) Type() string { return problemBase + string(k.Code) }

// Kinds is the whole table, in the order in which it is shown. in_use and
// unavailable pass, so they are 503 and worth another try; damaged and too_new
// do not.
func Kinds() []Kind {
	return []Kind{
		{app.CodeInvalid, http.StatusBadRequest, "the question makes no sense as asked", "wrong use, or a value that cannot be read"},
		{app.CodeNotFound, http.StatusNotFound, "nothing there", "nothing has that name or address"},
		{app.CodeConflict, http.StatusConflict, "the book says otherwise", "the change does not go with what the book holds"},
		{app.CodeUnreadable, http.StatusUnprocessableEntity, "cannot be read", "a file that cannot be read, or is refused whole"},
		{app.CodeInUse, http.StatusServiceUnavailable, "in use", "another process holds it; try again"},
		{app.CodeUnavailable, http.StatusServiceUnavailable, "cannot answer just now", "try again in a moment"},
		{CodeTooLarge, http.StatusRequestEntityTooLarge, "too much at once", "a body or a query above its limit"},
		{CodeUnsupported, http.StatusUnsupportedMediaType, "not in this form", "the body must be JSON"},
		{CodeMethod, http.StatusMethodNotAllowed, "not with this method", "the address exists, the method is another"},
		{CodeForeign, http.StatusForbidden, "not from there", "asked by way of another site, or under a name that is not this computer's"},
		{app.CodeDamaged, http.StatusInternalServerError, "the book is damaged", "the book fails its own checks"},
		{app.CodeTooNew, http.StatusInternalServerError, "the book is too new", "the book was made by a newer program"},
		{app.CodeInternal, http.StatusInternalServerError, "something went wrong here", "a defect of ours, or the disk; the log has it under the request id"},
	}
}

// Problem is an error as RFC 9457 problem details, with three members of ours:
// the code, what to do next, and the id under which the log has it.
type Problem struct {
	Type      string   `json:"type"`
	Title     string   `json:"title"`
	Status    int      `json:"status"`
	Detail    string   `json:"detail"`
	Code      app.Code `json:"code"`
	Hint      string   `json:"hint,omitempty"`
	RequestID string   `json:"request_id"`
}

// ProblemOf gives the problem of an error. What is no app.Error is told to
// nobody but the log.
func ProblemOf(err error, requestID string) Problem {
	e := personal(err)
	k := kindOf(e.Code)
	p := Problem{Type: k.Type(), Title: k.Title, Status: k.Status, Detail: cmp.Or(e.Message, k.Title),
		Code: k.Code, Hint: e.Hint, RequestID: requestID}
	if p.Hint == "" && p.Status == http.StatusInternalServerError {
		p.Hint = "the log has it under " + requestID
	}
	return p
}

// personal gives the part of an error that a person may see.
func personal(err error) *app.Error {
	var e *app.Error
	switch {
	case errors.As(err, &e):
		return e
	case errors.Is(err, context.DeadlineExceeded):
		return &app.Error{Code: app.CodeUnavailable, Message: "the answer took too long", Hint: "ask again, or ask for less"}
	case errors.Is(err, context.Canceled):
		return &app.Error{Code: app.CodeUnavailable, Message: "the question was broken off", Hint: "ask again"}
	}
	return &app.Error{Code: app.CodeInternal}
}

func kindOf(code app.Code) Kind {
	kinds := Kinds()
	for _, k := range kinds {
		if k.Code == code {
			return k
		}
	}
	return kinds[len(kinds)-1]
}

// WriteProblem answers with an error as application/problem+json and leaves the
// error for the request's log line. Nothing may have been written before.
func WriteProblem(w http.ResponseWriter, r *http.Request, err error) {
	writeJSON(w, Note(r, err))
}

// Fail answers with an error in the form that the asker reads: the error page
// for a browser, a problem in JSON for everybody else.
func Fail(w http.ResponseWriter, r *http.Request, err error) {
	p := Note(r, err)
	if page := stateOf(r).errorPage; page != nil && wantsHTML(r) {
		page(w, r, p)
		return
	}
	writeJSON(w, p)
}

// Note makes the problem of an error and keeps the error for the log, for a
// caller that answers in a form of its own.
func Note(r *http.Request, err error) Problem {
	s := stateOf(r)
	s.err = err
	return ProblemOf(err, s.id)
}

func writeJSON(w http.ResponseWriter, p Problem) {
	body, err := json.Marshal(p)
	if err != nil { // strings and one number: cannot fail
		panic(err)
	}
	w.Header().Set("Content-Type", "application/problem+json")
	w.Header().Set("Cache-Control", "no-store")
	if p.Status == http.StatusServiceUnavailable {
		w.Header().Set("Retry-After", "1")
	}
	w.WriteHeader(p.Status)
	_, _ = w.Write(append(body, '\n')) // the asker has gone; there is nobody to tell
}

func wantsHTML(r *http.Request) bool {
	return strings.Contains(r.Header.Get("Accept"), "text/html") && !strings.HasPrefix(r.URL.Path, "/api/")
}
