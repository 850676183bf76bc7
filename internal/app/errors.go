package app

import (
	"errors"
	"strings"
)

// Code says what kind of error a person meets; one table maps it to a status
// and an exit code.
type Code string

// Codes of errors.
const (
	CodeInvalid     Code = "invalid"     // wrong use, or input that makes no sense
	CodeUnreadable  Code = "unreadable"  // a file that cannot be read, or is refused whole
	CodeNotFound    Code = "not_found"   // nothing there by that name
	CodeConflict    Code = "conflict"    // the book says otherwise
	CodeInUse       Code = "in_use"      // another process holds it
	CodeDamaged     Code = "damaged"     // the book fails its own checks
	CodeTooNew      Code = "too_new"     // a book made by a newer program
	CodeUnavailable Code = "unavailable" // cannot answer just now
	CodeInternal    Code = "internal"    // a defect of ours, or the disk
)

// Error is the one error that people see: what happened to which thing in their
// words, and what to do next.
type Error struct {
	Code    Code
	Message string
	Hint    string
	Cause   error
}

// Error gives the sentence, with the hint behind it.
func (e *Error) Error() string {
	if e.Hint == "" {
		return e.Message
	}
	if strings.HasSuffix(e.Message, "?") {
		return e.Message + " " + e.Hint
	}
	return e.Message + "; " + e.Hint
}

// Unwrap gives the cause.
func (e *Error) Unwrap() error { return e.Cause }

// CodeOf gives the code of an error; CodeInternal for one without.
func CodeOf(err error) Code {
	var e *Error
	if errors.As(err, &e) {
		return e.Code
	}
	return CodeInternal
}
