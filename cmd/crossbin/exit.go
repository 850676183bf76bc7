package main

import "crossbin/internal/app"

// Exit codes are a contract: scripts rely on them.
const (
	exitAnswered    = 0
	exitNothing     = 1 // nothing found, or a question of one part answered no
	exitUse         = 2 // wrong use
	exitInput       = 3 // input that cannot be read, or is refused whole
	exitBook        = 4 // book damaged, locked or too new
	exitDefect      = 5 // anything else: the disk, a defect of ours
	exitInterrupted = 130
)

// exitOf is the one table from error codes to exit codes.
func exitOf(code app.Code) int {
	switch code {
	case app.CodeNotFound:
		return exitNothing
	case app.CodeInvalid:
		return exitUse
	case app.CodeUnreadable, app.CodeConflict:
		return exitInput
	case app.CodeInUse, app.CodeDamaged, app.CodeTooNew, app.CodeUnavailable:
		return exitBook
	}
	return exitDefect
}
