package vehicle

import (
	"errors"
	"fmt"
	"strings"
	"testing"
)

// Callers tell problems apart by code, also through wrapping; never by words.
func TestCodeOf(t *testing.T) {
	_, _, parse := ParseDate("nonsense")
	_, _, ambiguous := ParseDate("08/05")
	tests := []struct {
		err  error
		want string
	}{
		{parse, CodeNotADate},
		{fmt.Errorf("row 5: %w", parse), CodeNotADate},
		{fmt.Errorf("row 5: %w", ambiguous), CodeAmbiguous},
		{errors.New("other"), ""},
		{nil, ""},
	}
	for _, tt := range tests {
		if got := CodeOf(tt.err); got != tt.want {
			t.Errorf("%v: got %q, want %q", tt.err, got, tt.want)
		}
	}
}

// A message is one line, names the text, and stays short when a note was pasted.
func TestMessages(t *testing.T) {
	_, _, err := ParseRange("96-01")
	if got, want := err.Error(), `"96-01": can be read as January 1996 or as 1996 to 2001; write months as words (Jan 1996) and ranges with ~ (1996~2001)`; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	_, _, err = ParseRange(strings.Repeat("ask the foreman ", 50))
	if got := err.Error(); len(got) > 200 || !strings.Contains(got, "…") || strings.Contains(got, "\n") {
		t.Errorf("got %q", got)
	}
	if got := (&ParseError{Text: "x", Message: "is wrong"}).Error(); got != `"x": is wrong` {
		t.Errorf("got %q", got)
	}
	if other := errors.New("other"); withText(other, "x") != other {
		t.Error("errors of others pass unchanged")
	}
}
