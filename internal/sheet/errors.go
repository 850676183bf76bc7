package sheet

import (
	"errors"
	"fmt"
)

// Code says in one stable word why a file cannot be read.
type Code string

// The codes of [UnreadableError].
const (
	NotASpreadsheet Code = "not_a_spreadsheet" // neither a workbook nor delimited text
	Empty           Code = "empty"             // a spreadsheet in which no cell holds anything
	Password        Code = "password"          // encrypted, cannot be read without a password
	OldXLS          Code = "old_xls"           // the binary workbook of before 2007
	Damaged         Code = "damaged"           // cut short or altered, rows could be missing
	ZeroBytes       Code = "zero_bytes"        // a file of no bytes
	TooLarge        Code = "too_large"         // over one of the Limits
	NotFound        Code = "not_found"         // no file, or no sheet, of that name
	Unreadable      Code = "unreadable"        // the system does not let it be read (rights, disk)
)

// UnreadableError says that a file, or a sheet of it, is refused whole.
type UnreadableError struct {
	Code    Code
	File    string // the file's name without its folder
	Sheet   string // the sheet's name where one is concerned, else ""
	Row     int    // the row's number where one is concerned, else 0
	Cell    string // the cell's address, "C6", where one is concerned, else ""
	Message string // what is wrong, in the user's words
	Hint    string // what to do next
	Err     error  // the cause underneath, may be nil
}

// Error gives one line: where, what is wrong, what to do.
func (e *UnreadableError) Error() string {
	line := e.File + ": "
	if e.Sheet != "" {
		line += fmt.Sprintf("sheet %q: ", e.Sheet)
	}
	switch {
	case e.Cell != "":
		line += fmt.Sprintf("cell %s: ", e.Cell)
	case e.Row > 0:
		line += fmt.Sprintf("row %d: ", e.Row)
	}
	line += e.Message
	if e.Hint != "" {
		line += "; " + e.Hint
	}
	return line
}

// Unwrap gives the cause underneath.
func (e *UnreadableError) Unwrap() error { return e.Err }

// What to do next, shared by several messages.
const (
	hintSaveAgain = "open it in the spreadsheet program, save it as .xlsx and bring the new file"
	hintCopyAgain = "copy it again from where it came from"
	hintPassword  = "open it with its password, save a copy without one and bring the copy"
	hintSplit     = "split it into smaller files and bring them one after the other"
)

// refusal makes an error whose file is filled in by named.
func refusal(code Code, hint, format string, args ...any) *UnreadableError {
	return &UnreadableError{Code: code, Message: fmt.Sprintf(format, args...), Hint: hint}
}

// damage makes an error of code Damaged.
func damage(format string, args ...any) *UnreadableError {
	return refusal(Damaged, hintSaveAgain, format, args...)
}

// overLimit makes an error of code TooLarge.
func overLimit(hint, format string, args ...any) *UnreadableError {
	return refusal(TooLarge, hint, format, args...)
}

// in puts the sheet into an error that does not name one yet.
func (e *UnreadableError) in(sheet string) *UnreadableError {
	if e.Sheet == "" {
		e.Sheet = sheet
	}
	return e
}

// at puts the place into an error that does not name one yet; col is 0 where the
// whole row is meant.
func (e *UnreadableError) at(col, row int) *UnreadableError {
	if e.Row == 0 {
		e.Row = row
		if col > 0 {
			e.Cell = Address(col, row)
		}
	}
	return e
}

// named puts the file's name (and the sheet's) into an error that lacks it.
// Errors of other kinds pass as they are.
func named(err error, file, sheet string) error {
	var u *UnreadableError
	if errors.As(err, &u) {
		if u.File == "" {
			u.File = file
		}
		return u.in(sheet)
	}
	return err
}
