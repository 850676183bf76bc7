package api

import (
	"bytes"
	"io"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/getkin/kin-openapi/openapi3filter"
	"github.com/getkin/kin-openapi/routers"
	"github.com/getkin/kin-openapi/routers/gorillamux"
	"github.com/gorilla/mux"

	"crossbin/internal/httpserver"
	"crossbin/internal/part"
)

// document loads the document and checks it against OpenAPI 3.1.
func document(t *testing.T) *openapi3.T {
	t.Helper()
	l := openapi3.NewLoader()
	doc, err := l.LoadFromData(Document())
	if err != nil {
		t.Fatal(err)
	}
	if err := doc.Validate(t.Context()); err != nil {
		t.Fatal(err)
	}
	return doc
}

// contract asks the API and holds question and answer to the document.
type contract struct {
	t       *testing.T
	router  routers.Router
	handler http.Handler
}

func newContract(t *testing.T, f *fake) contract {
	t.Helper()
	router, err := gorillamux.NewRouter(document(t))
	if err != nil {
		t.Fatal(err)
	}
	return contract{t, router, httpserver.NewRouter(New(f, []part.Type{alternator()}).Register)}
}

// ask sends one request; good says that the document allows the request, and
// then the answer must be as it says. A request that the document does not
// allow must be refused by the program as well.
func (c contract) ask(good bool, method, target, body string) *httptest.ResponseRecorder {
	c.t.Helper()
	w := httptest.NewRecorder()
	c.handler.ServeHTTP(w, request(method, target, body))
	r := request(method, target, body)
	route, pathParams, err := c.router.FindRoute(r)
	if err != nil {
		c.t.Fatalf("%s %s is not in the document: %v", method, target, err)
	}
	in := &openapi3filter.RequestValidationInput{Request: r, PathParams: pathParams, Route: route}
	if err := openapi3filter.ValidateRequest(c.t.Context(), in); (err == nil) != good {
		c.t.Errorf("%s %s: the document allows it: %v, want %v (%v)", method, target, err == nil, good, err)
	}
	if good == (w.Code == http.StatusBadRequest) {
		c.t.Errorf("%s %s: got status %d %s", method, target, w.Code, w.Body)
	}
	out := &openapi3filter.ResponseValidationInput{RequestValidationInput: in, Status: w.Code, Header: w.Header(),
		Body: io.NopCloser(bytes.NewReader(w.Body.Bytes())), Options: &openapi3filter.Options{IncludeResponseStatus: true}}
	if err := openapi3filter.ValidateResponse(c.t.Context(), out); err != nil {
		c.t.Errorf("%s %s: the answer is not as the document says: %v\n%s", method, target, err, w.Body)
	}
	return w
}

func request(method, target, body string) *http.Request {
	r := httptest.NewRequest(method, target, strings.NewReader(body))
	if body != "" {
		r.Header.Set("Content-Type", "application/json")
	}
	return r
}

// Routes and document say the same, both ways.
func TestRoutesAndDocumentAgree(t *testing.T) {
	var routes []string
	r := mux.NewRouter()
	New(&fake{}, nil).Register(r)
	err := r.Walk(func(route *mux.Route, _ *mux.Router, _ []*mux.Route) error {
		path, err := route.GetPathTemplate()
		if err != nil {
			return err
		}
		methods, err := route.GetMethods()
		for _, m := range methods {
			if m != http.MethodHead && !slices.Contains([]string{"/api", "/api/page.css"}, path) { // for people, not for programs
				routes = append(routes, m+" "+path)
			}
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	var written []string
	for path, item := range document(t).Paths.Map() {
		for method := range item.Operations() {
			written = append(written, method+" "+path)
		}
	}
	slices.Sort(routes)
	slices.Sort(written)
	if !slices.Equal(routes, written) {
		t.Errorf("routes   %v\ndocument %v", routes, written)
	}
}

// The check itself notices answers that are not as the document says.
func TestContractNoticesWrongAnswers(t *testing.T) {
	doc := document(t)
	schema := doc.Components.Schemas["Fit"].Value
	good := map[string]any{"revision": 1, "vehicle": map[string]any{"unknown": []any{}}, "type": "x", "reference": map[string]any{},
		"warnings": []any{}, "notes": []any{}, "candidates": []any{}, "candidates_left_out": 0, "looks": []any{}, "cautions": []any{}}
	check := func() error { return schema.VisitJSON(good, openapi3.EnableJSONSchema2020()) }
	if err := check(); err != nil {
		t.Fatal(err)
	}
	good["looks"] = []any{map[string]any{"attribute": "a", "where": "b", "effort": 1, "tells_apart": []any{[]any{[]any{0}, "5"}}}}
	if check() == nil {
		t.Error("a pair the wrong way round passed")
	}
	good["looks"], good["surplus"] = []any{}, 1
	if check() == nil {
		t.Error("a key that is not in the document passed")
	}
	delete(good, "surplus")
	good["candidates"] = nil
	if check() == nil {
		t.Error("null in place of a list passed")
	}
}
