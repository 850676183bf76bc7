package api

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"strconv"

	"github.com/gorilla/mux"

	"crossbin/internal/app"
	"crossbin/internal/httpserver"
	"crossbin/internal/part"
)

// Questions is what the API asks of the application.
type Questions interface {
	Fit(ctx context.Context, r app.FitRequest) (app.FitResult, error)
	Around(ctx context.Context, r app.FitRequest) (app.AroundResult, error)
	Identify(ctx context.Context, r app.IdentifyRequest) (app.IdentifyResult, error)
	Find(ctx context.Context, words string, limit int) (app.FindAnswer, error)
	Disputes(ctx context.Context, partType string, limit int) (app.DisputesAnswer, error)
	Lists(ctx context.Context) ([]app.List, error)
	Imports(ctx context.Context) ([]app.Batch, error)
}

// API answers over HTTP.
type API struct {
	ask   Questions
	types []part.Type
}

// New makes the API over the application and its part types.
func New(ask Questions, types []part.Type) *API { return &API{ask: ask, types: types} }

// Register adds the routes of the API to a router.
func (a *API) Register(r *mux.Router) {
	get := func(path string, h answerer) { r.Handle(path, answer(h)).Methods(http.MethodGet, http.MethodHead) }
	get("/api/v1/fit", a.getFit)
	r.Handle("/api/v1/fit", answer(a.postFit)).Methods(http.MethodPost)
	get("/api/v1/parts", a.getPart)
	r.Handle("/api/v1/identify", answer(a.postIdentify)).Methods(http.MethodPost)
	get("/api/v1/search", a.getSearch)
	get("/api/v1/disputes", a.getDisputes)
	get("/api/v1/lists", a.getLists)
	get("/api/v1/imports", a.getImports)
	get("/api/v1/types", a.getTypes)
	get("/healthz", a.getHealth)
	for path, f := range documents() {
		r.Handle(path, f).Methods(http.MethodGet, http.MethodHead)
	}
}

// answerer decides an answer and writes nothing.
type answerer func(r *http.Request) (any, error)

// answer writes what an answerer decided, whole or not at all.
func answer(h answerer) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		v, err := h(r)
		var body bytes.Buffer
		if err == nil {
			err = Write(&body, v)
		}
		if err != nil {
			httpserver.WriteProblem(w, r, err)
			return
		}
		w.Header().Set("Content-Type", "application/json")
		w.Header().Set("Content-Length", strconv.Itoa(body.Len()))
		w.WriteHeader(http.StatusOK)
		_, _ = body.WriteTo(w) // the asker has gone; there is nobody to tell
	})
}

// Write prints an answer as the API does: one line of JSON, ampersands and angle
// brackets as they are.
func Write(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	return e.Encode(v)
}

// list gives a slice that prints as [] where it is empty.
func list[T any](s []T) []T {
	if s == nil {
		return []T{}
	}
	return s
}

// each makes one slice from another, [] where it is empty.
func each[T, U any](s []T, f func(T) U) []U {
	out := make([]U, len(s))
	for i, t := range s {
		out[i] = f(t)
	}
	return out
}

// thousandths prints a number of thousandths as a decimal with three places.
func thousandths(n int) json.Number { return json.Number(fmt.Sprintf("%d.%03d", n/1000, n%1000)) }

// decimal prints a probability or a log-odds with six places: enough to redo
// the three places of a confidence by hand.
func decimal(f float64) json.Number { return json.Number(strconv.FormatFloat(f, 'f', 6, 64)) }
