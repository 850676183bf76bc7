package web

import (
	"bytes"
	"context"
	"embed"
	"encoding/hex"
	"hash/fnv"
	"html/template"
	"net/http"
	"strconv"
	"time"

	"github.com/gorilla/mux"

	"crossbin/internal/app"
	"crossbin/internal/httpserver"
	"crossbin/internal/part"
)

// Questions is what the pages ask of the application.
type Questions interface {
	Fit(ctx context.Context, r app.FitRequest) (app.FitResult, error)
	Around(ctx context.Context, r app.FitRequest) (app.AroundResult, error)
	Find(ctx context.Context, words string, limit int) (app.FindAnswer, error)
	Lists(ctx context.Context) ([]app.List, error)
}

//go:embed *.html style.css tag.css
var files embed.FS

// Web serves the pages.
type Web struct {
	ask       Questions
	types     []part.Type
	zone      *time.Location
	pages     map[string]*template.Template
	style     []byte
	styleHash string
}

// New makes the pages over the application, its part types, and the time zone
// of the shop (nil takes the computer's).
func New(ask Questions, types []part.Type, zone *time.Location) *Web {
	if zone == nil {
		zone = time.Local
	}
	w := &Web{ask: ask, types: types, zone: zone, pages: map[string]*template.Template{}, style: styleSheet()}
	h := fnv.New64a()
	_, _ = h.Write(w.style) // a hash never fails
	w.styleHash = hex.EncodeToString(h.Sum(nil))
	layout := template.Must(template.ParseFS(files, "layout.html", "tag.html", "why.html", "ask.html"))
	for _, name := range []string{"fit.html", "part.html", "find.html", "lists.html", "error.html"} {
		w.pages[name] = template.Must(template.Must(layout.Clone()).ParseFS(files, name))
	}
	return w
}

// styleSheet joins the embedded sheets; one request brings them all.
func styleSheet() []byte {
	var out []byte
	for _, name := range []string{"style.css", "tag.css"} {
		css, err := files.ReadFile(name)
		if err != nil { // embedded, so it is there
			panic(err)
		}
		out = append(out, css...)
	}
	return out
}

// Register adds the pages to a router.
func (w *Web) Register(r *mux.Router) {
	for path, h := range map[string]http.HandlerFunc{"/": w.fit, "/part": w.part, "/find": w.find, "/lists": w.lists, "/style.css": w.styleFile} {
		r.HandleFunc(path, h).Methods(http.MethodGet, http.MethodHead)
	}
}

// head is what every page has.
type head struct {
	Title string
	Here  string // which of the pages: fit, find, lists
	Style string // address of the style sheet
}

func (w *Web) head(title, here string) head {
	return head{Title: title, Here: here, Style: "/style.css?v=" + w.styleHash}
}

// render makes the page in memory and sends it whole.
func (w *Web) render(out http.ResponseWriter, r *http.Request, status int, name string, page any) {
	var body bytes.Buffer
	if err := w.pages[name].ExecuteTemplate(&body, "layout", page); err != nil {
		httpserver.WriteProblem(out, r, err)
		return
	}
	out.Header().Set("Content-Type", "text/html; charset=utf-8")
	out.Header().Set("Content-Length", strconv.Itoa(body.Len()))
	out.WriteHeader(status)
	_, _ = body.WriteTo(out) // the reader has gone; there is nobody to tell
}

// styleFile serves the style sheet; its address changes with its content.
func (w *Web) styleFile(out http.ResponseWriter, _ *http.Request) {
	out.Header().Set("Content-Type", "text/css; charset=utf-8")
	out.Header().Set("Cache-Control", "max-age=31536000, immutable")
	_, _ = out.Write(w.style) // the reader has gone; there is nobody to tell
}
