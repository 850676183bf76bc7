package web

import (
	"fmt"
	"net/http"
	"strings"

	"crossbin/internal/app"
	"crossbin/internal/httpserver"
	"crossbin/internal/statement"
)

// mostHits is how many hits one page shows; beyond two screens nobody scrolls,
// one more word is faster.
const mostHits = 30

// findPage searches everything by number or words.
type findPage struct {
	Head    head
	Trouble *trouble
	Words   string
	First   bool // nothing typed yet
	Heading string
	Hints   []hintView
	Hits    []hitView
}

// hintView leads on where search is not the question for what was typed.
type hintView struct {
	Say     string
	Address string // "" where no page answers it
}

// hitView is one number that was found.
type hitView struct {
	Number, Maker string
	Others        []numberView
	Name          string // type and description
	For           string // engines and model codes
	Free          int
	Address       string // of the page about this one
}

func (w *Web) find(out http.ResponseWriter, r *http.Request) {
	words := strings.TrimSpace(r.URL.Query().Get("q"))
	page, status := findPage{Head: w.head("Find", "find"), Words: words, First: words == ""}, http.StatusOK
	if !page.First {
		if err := w.search(r, &page); err != nil {
			p := httpserver.Note(r, err)
			page.Trouble, status = troubleOf(p), p.Status
		}
	}
	w.render(out, r, status, "find.html", page)
}

func (w *Web) search(r *http.Request, page *findPage) error {
	if err := checkValue("the search", page.Words); err != nil {
		return err
	}
	found, err := w.ask.Find(r.Context(), page.Words, mostHits)
	if err != nil {
		return err
	}
	page.Heading = countHeading(found)
	for _, h := range found.Hits {
		page.Hits = append(page.Hits, newHit(h))
	}
	for _, h := range found.Hints {
		page.Hints = append(page.Hints, newHint(h))
	}
	return nil
}

func countHeading(found app.FindAnswer) string {
	switch n := len(found.Hits); {
	case n == 0:
		return "Nothing found for " + found.Query
	case found.Count > n:
		return fmt.Sprintf("The best %d of %d", n, found.Count)
	case n == 1:
		return "One part"
	default:
		return fmt.Sprintf("%d parts", n)
	}
}

func newHint(h app.FindHint) hintView {
	v := hintView{Say: upperFirst(h.Say)}
	var q question
	switch h.Looks {
	case "frame_number":
		q.Frame = h.Text
	case "vin":
		q.VIN = h.Text
	default:
		return v
	}
	v.Address = q.address()
	return v
}

func newHit(h app.FindHit) hitView {
	v := hitView{Number: h.Key, Free: h.Free, Name: typeAndName(h.Type, h.Name),
		For: joinWords(", ", strings.Join(h.Engines, ", "), strings.Join(h.ModelCodes, ", "))}
	for i, n := range h.Numbers {
		if i == 0 {
			v.Number, v.Maker = n.Number, n.Maker
			continue
		}
		v.Others = append(v.Others, numberView{n.Number, n.Maker, roleWords[statement.Role(n.Role)]})
	}
	v.Address = partAddress(h.Type, v.Number, v.Maker)
	return v
}

// typeAndName says the type once, also where the description begins with it.
func typeAndName(typ, name string) string {
	if strings.HasPrefix(strings.ToLower(name), strings.ToLower(typ)) {
		return name
	}
	return joinWords(", ", upperFirst(typ), name)
}

// joinWords joins what is not empty.
func joinWords(between string, words ...string) string {
	var out []string
	for _, w := range words {
		if w != "" {
			out = append(out, w)
		}
	}
	return strings.Join(out, between)
}
