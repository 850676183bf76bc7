package api

import (
	"net/http"

	"crossbin/internal/app"
)

// Imports is the answer of GET /api/v1/imports, newest first.
type Imports struct {
	Imports []Import `json:"imports"`
}

// Import is one file brought in as one version of one list.
type Import struct {
	Batch    string `json:"batch"`
	List     string `json:"list"`
	Version  int64  `json:"version"`
	File     string `json:"file"`
	Hash     string `json:"hash"`
	Standing string `json:"standing"`
	State    string `json:"state"`
	Revision int64  `json:"revision"` // of the commit; 0 before
	At       string `json:"at,omitempty"`
	Who      string `json:"who"`
	Device   string `json:"device"`
	Rows
	Added    int `json:"statements_added"`
	Dropped  int `json:"statements_dropped"`
	Kept     int `json:"statements_kept"`
	Moved    int `json:"statements_moved"`
	Postings int `json:"postings"`
}

// ImportsJSON gives imports as the API prints them.
func ImportsJSON(batches []app.Batch) any {
	return Imports{each(batches, func(b app.Batch) Import {
		return Import{Batch: b.ID, List: b.List, Version: b.Version, File: b.File, Hash: b.Hash, Standing: string(b.Standing),
			State: string(b.State), Revision: b.Revision, At: instant(b.At), Who: b.By.Who, Device: b.By.Device,
			Rows: rows(b.Counts), Added: b.Counts.Added, Dropped: b.Counts.Dropped, Kept: b.Counts.Kept,
			Moved: b.Counts.Moved, Postings: b.Counts.Postings}
	})}
}

func (a *API) getImports(r *http.Request) (any, error) {
	if _, err := readParams(r, nil); err != nil {
		return nil, err
	}
	batches, err := a.ask.Imports(r.Context())
	if err != nil {
		return nil, err
	}
	return ImportsJSON(batches), nil
}
