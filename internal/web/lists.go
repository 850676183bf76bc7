package web

import (
	"net/http"
	"time"

	"crossbin/internal/app"
	"crossbin/internal/httpserver"
)

// listsPage shows the spreadsheets that the shop keeps.
type listsPage struct {
	Head    head
	Trouble *trouble
	Lists   []listView
}

// listView is one list with the rows of its current version.
type listView struct {
	Name, Standing, File, Day, Time        string
	Version                                int64
	Read, Taken, Flagged, Refused, Skipped int
	Gone                                   bool // nothing of it counts any more
}

func (w *Web) lists(out http.ResponseWriter, r *http.Request) {
	page, status := listsPage{Head: w.head("Lists", "lists")}, http.StatusOK
	lists, err := w.ask.Lists(r.Context())
	if err != nil {
		p := httpserver.Note(r, err)
		page.Trouble, status = troubleOf(p), p.Status
	}
	for _, l := range lists {
		page.Lists = append(page.Lists, w.listView(l))
	}
	w.render(out, r, status, "lists.html", page)
}

func (w *Web) listView(l app.List) listView {
	v := listView{Name: l.Name, Standing: string(l.Standing), File: l.File, Version: l.Version, Read: l.Counts.Read, Taken: l.Counts.Taken,
		Flagged: l.Counts.Flagged, Refused: l.Counts.Refused, Skipped: l.Counts.Skipped, Gone: l.Version == 0}
	if l.ReadAt != 0 {
		at := time.UnixMilli(l.ReadAt).In(w.zone)
		v.Day, v.Time = at.Format(time.DateOnly), at.Format("15:04")
	}
	return v
}
