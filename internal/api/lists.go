package api

import (
	"net/http"
	"time"

	"crossbin/internal/app"
)

// Lists is the answer of GET /api/v1/lists.
type Lists struct {
	Lists []List `json:"lists"`
}

// List is one list that the shop keeps, with the rows of its current version.
type List struct {
	Name     string `json:"name"`
	Standing string `json:"standing"`
	Version  int64  `json:"version"` // 0 when nothing of it counts
	File     string `json:"file"`
	Batch    string `json:"batch"`
	ReadAt   string `json:"read_at,omitempty"` // RFC 3339, UTC
	Rows
}

// Rows is the accounting of one import: rows_read is the sum of the next four.
type Rows struct {
	Read    int `json:"rows_read"`
	Taken   int `json:"rows_taken"`
	Flagged int `json:"rows_flagged"`
	Refused int `json:"rows_refused"`
	Skipped int `json:"rows_skipped"`
}

// ListsJSON gives lists as the API prints them.
func ListsJSON(lists []app.List) any {
	return Lists{each(lists, func(l app.List) List {
		return List{Name: l.Name, Standing: string(l.Standing), Version: l.Version, File: l.File, Batch: l.Batch,
			ReadAt: instant(l.ReadAt), Rows: rows(l.Counts)}
	})}
}

func rows(c app.Counts) Rows {
	return Rows{Read: c.Read, Taken: c.Taken, Flagged: c.Flagged, Refused: c.Refused, Skipped: c.Skipped}
}

// instant prints UTC milliseconds as RFC 3339; "" for none.
func instant(ms int64) string {
	if ms == 0 {
		return ""
	}
	return time.UnixMilli(ms).UTC().Format("2006-01-02T15:04:05.000Z")
}

func (a *API) getLists(r *http.Request) (any, error) {
	if _, err := readParams(r, nil); err != nil {
		return nil, err
	}
	lists, err := a.ask.Lists(r.Context())
	if err != nil {
		return nil, err
	}
	return ListsJSON(lists), nil
}
