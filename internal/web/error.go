package web

import (
	"net/http"

	"crossbin/internal/httpserver"
)

// trouble is an error as a person reads it: what happened, what to do next, and
// the id under which the log has it.
type trouble struct {
	Message, Hint, ID string
	Ours              bool // a defect or the disk, so the id is worth showing
}

func troubleOf(p httpserver.Problem) *trouble {
	return &trouble{Message: p.Detail, Hint: p.Hint, ID: p.RequestID, Ours: p.Status >= http.StatusInternalServerError}
}

// errorPage is a page that could not be shown.
type errorPage struct {
	Head    head
	Trouble *trouble
}

// ErrorPage tells a browser of a problem; the server calls it.
func (w *Web) ErrorPage(out http.ResponseWriter, r *http.Request, p httpserver.Problem) {
	w.render(out, r, p.Status, "error.html", errorPage{Head: w.head(p.Title, ""), Trouble: troubleOf(p)})
}
