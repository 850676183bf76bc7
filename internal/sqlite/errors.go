package sqlite

import (
	"context"
	"errors"

	"crossbin/internal/app"

	sqlite3 "github.com/mattn/go-sqlite3"
)

// explain turns an error of the engine into the one that people see; doing says
// what was tried: "reading the book". Errors that are explained already, and
// those of a context, pass.
func explain(doing string, err error) error {
	var known *app.Error
	if err == nil || errors.As(err, &known) || errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		return err
	}
	var engine sqlite3.Error
	if !errors.As(err, &engine) {
		return &app.Error{Code: app.CodeInternal, Message: doing + ": " + err.Error(), Cause: err}
	}
	e := explainEngine(engine)
	e.Message, e.Cause = doing+": "+e.Message, err
	return e
}

func explainEngine(e sqlite3.Error) *app.Error {
	switch e.Code {
	case sqlite3.ErrBusy, sqlite3.ErrLocked:
		return &app.Error{Code: app.CodeInUse, Message: "another program is writing to the book", Hint: "try again when it has finished"}
	case sqlite3.ErrCorrupt, sqlite3.ErrNotADB:
		return &app.Error{Code: app.CodeDamaged, Message: "the book is damaged", Hint: "run crossbin verify, or put a backup in its place"}
	case sqlite3.ErrFull:
		return &app.Error{Code: app.CodeInternal, Message: "the disk is full, nothing was changed", Hint: "make room and do it again"}
	case sqlite3.ErrIoErr:
		return &app.Error{Code: app.CodeInternal, Message: "the disk reports an error (" + e.Error() + ")", Hint: "check the disk, then do it again; doing it twice does no harm"}
	case sqlite3.ErrCantOpen, sqlite3.ErrPerm, sqlite3.ErrReadonly, sqlite3.ErrAuth:
		return &app.Error{Code: app.CodeUnavailable, Message: "the book cannot be opened for this (" + e.Error() + ")", Hint: "check who may read and write its folder"}
	}
	return &app.Error{Code: app.CodeInternal, Message: e.Error()}
}

// isIO reports an error after which nobody can say whether a commit is on the
// disk: it can be there after reopening.
func isIO(err error) bool {
	var engine sqlite3.Error
	return errors.As(err, &engine) && engine.Code == sqlite3.ErrIoErr
}

func isBusy(err error) bool {
	var engine sqlite3.Error
	return errors.As(err, &engine) && (engine.Code == sqlite3.ErrBusy || engine.Code == sqlite3.ErrLocked)
}

func problem(code app.Code, message, hint string) error {
	return &app.Error{Code: code, Message: message, Hint: hint}
}
