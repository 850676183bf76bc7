package web

import (
	"context"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"testing"
	"time"

	"golang.org/x/net/html"

	"crossbin/internal/app"
	"crossbin/internal/fit"
	"crossbin/internal/httpserver"
	"crossbin/internal/part"
	"crossbin/internal/statement"
)

const asked = "/?type=alternator&frame=ZQX30-0123456&engine=XQ20D&built=1997-05&option_cold=yes"

// handler gives the pages as a server serves them.
func handler(f *fake) http.Handler {
	w := New(f, partTypes(), time.UTC)
	return httpserver.Wrap(httpserver.NewRouter(w.Register), slog.New(slog.DiscardHandler), nil, w.ErrorPage)
}

func get(h http.Handler, target string) *httptest.ResponseRecorder {
	r := httptest.NewRequest("GET", target, nil)
	r.Header.Set("Accept", "text/html")
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w
}

// every page in every state that it has, by name.
func everyPage() map[string]*httptest.ResponseRecorder {
	full := &fake{result: allVerdicts(), found: foundTwo(), lists: twoLists(), around: bothWays()}
	none, empty, broken := allVerdicts(), allVerdicts(), &fake{err: &app.Error{Code: app.CodeDamaged, Message: "the book is damaged"}}
	none.None = &fit.None{Note: "no alternator, charging by converter", Trails: none.Candidates[0].Trails}
	none.Candidates, none.Stock, none.Looks = nil, nil, nil
	empty.Candidates, empty.Stock, empty.Looks = nil, nil, nil
	return map[string]*httptest.ResponseRecorder{
		"blank": get(handler(full), "/"), "answer": get(handler(full), asked), "no part yet": get(handler(full), "/?frame=ZQX30-0123456"),
		"none": get(handler(&fake{result: none}), asked), "empty": get(handler(&fake{result: empty}), asked), "broken": get(handler(broken), asked),
		"find": get(handler(full), "/find"), "found": get(handler(full), "/find?q=98760"), "find broken": get(handler(broken), "/find?q=98760"),
		"part": get(handler(full), "/part?part=98760-50090"), "part unknown": get(handler(&fake{}), "/part?part=x"), "part broken": get(handler(broken), "/part?part=x"),
		"seen": get(handler(full), asked+"&seen_ribs=5&seen_amps=?"), "lists": get(handler(full), "/lists"), "no lists": get(handler(&fake{}), "/lists"), "lists broken": get(handler(broken), "/lists"),
		"nowhere": get(handler(full), "/nowhere"),
	}
}

func foundTwo() app.FindAnswer {
	return app.FindAnswer{Revision: 12, Query: "98760", Count: 41, Hits: []app.FindHit{
		{Key: "9876050090", Type: "alternator", Name: "12 V 80 A", Engines: []string{"XQ20D"}, ModelCodes: []string{"ZQX30"}, Free: 2,
			Numbers: []app.FindNumber{{Maker: "Toriyama", Number: "98760-50090", Role: "vehicle_maker"}, {Maker: "Denkai", Number: "DA 100/471", Role: "unit_maker"}}},
		{Key: "9876050100", Type: "alternator"}},
		Hints: []app.FindHint{{Text: "ZQX30-0123456", Looks: "frame_number", Say: "ZQX30-0123456 looks like a frame number: ask which parts fit it"},
			{Text: "x", Looks: "part_type", Say: "no part type is called x"}}}
}

func twoLists() []app.List {
	return []app.List{{Name: "alternators", Standing: statement.OwnList, Version: 3, File: "alternators.xlsx", ReadAt: 1_793_616_000_123,
		Counts: app.Counts{Read: 512, Taken: 490, Flagged: 12, Refused: 2, Skipped: 8}}, {Name: "withdrawn", Standing: statement.Hearsay}}
}

// words gives the text of a page as a reader meets it.
func words(body string) string {
	var out []string
	z := html.NewTokenizer(strings.NewReader(body))
	for {
		switch z.Next() {
		case html.ErrorToken:
			return strings.Join(strings.Fields(strings.Join(out, "")), " ")
		case html.TextToken:
			out = append(out, html.UnescapeString(string(z.Raw())))
		case html.StartTagToken, html.EndTagToken:
			if name, _ := z.TagName(); !slices.Contains([]string{"b", "strong", "span", "small", "a"}, string(name)) {
				out = append(out, " ")
			}
		}
	}
}

// Verdict and reason stand in one line on every tag, and the shape of the tag
// is the verdict.
func TestTagsSayVerdictAndReasonInOneLine(t *testing.T) {
	body := get(handler(&fake{result: allVerdicts()}), asked).Body.String()
	text := words(body)
	for _, want := range []string{
		"Tag 1, Fits: your list says so, not tried here",
		"Tag 2, Fits with a change: a rebuilder’s list says so",
		"Tag 3, Check first: same engine in another vehicle: Toriyama Heron ZQX40",
		"Tag 4, Bolts on, but never: no vacuum pump, the brakes lose their assistance",
		"Tag 5, Not known: nothing in the book speaks for it",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("no line %q in\n%s", want, text)
		}
	}
	for _, v := range []fit.Verdict{fit.Fits, fit.FitsWithChange, fit.CheckFirst, fit.RuledOut, fit.NotKnown} {
		if n := strings.Count(body, `<article class="tag `+string(v)+`"`); n != 1 {
			t.Errorf("%s: got %d tags of that shape, want 1", v, n)
		}
		if !strings.Contains(string(styleSheet()), "."+string(v)+" ") && v != fit.Fits {
			t.Errorf("%s has no shape of its own", v)
		}
	}
}

func TestAnswerTellsWhatAPersonNeeds(t *testing.T) {
	text := words(get(handler(&fake{result: allVerdicts()}), asked).Body.String())
	tests := []struct{ name, want string }{
		{"which part for which vehicle", "Alternator for ZQX30-0123456"},
		{"what was understood", "engine XQ20D stamped"},
		{"a change that is near", "1,544 before a change at 0125000: read the last four again"},
		{"where it stands", "On the shelf: bin A-03-2, 2 free"},
		{"every bin, its condition, what is held, when it was seen", "bin A-03-2: 3 on hand, used, tested, 1 held, seen 2026-11-02"},
		{"a core is no stock", "bin C-01: 1 on hand, core"},
		{"what is not there", "Not on the shelf"},
		{"the change with its minutes and pieces", "Move the pulley over from the old unit 20 min, our guess needs N-22 nut"},
		{"what to look at", "Gearbox? Goes in with: automatic or CVT"},
		{"what stands against it", "Against: parts book 1996 says 70 A"},
		{"what differs", "Vacuum pump wanted: yes this one: no"},
		{"the other numbers", "DA 100-471 Denkai unit maker’s number"},
		{"the cautions", "Disconnect the battery before the main cable comes off"},
		{"what goes with the job", "Have ready belt washer of the main cable"},
		{"the trail down to the cell", "alternators.xlsx, sheet Sheet1, row 6, cell C6"},
		{"the arithmetic", "1.992430 + 2.442347 = 4.434777; 1 / (1 + e^−4.434777) = 0.988, rounded down"},
		{"a look with its effort and what it leaves", "count the ribs of the belt a minute or three, torch or mirror 5 leaves tag 1 6 leaves tags 2 and 3"},
		{"what else is unknown", "Driven wheels not known yet two four"},
		{"what was left out", "2 more were left out"},
		{"a warning of reading", "seven digits behind the hyphen"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if !strings.Contains(text, tt.want) {
				t.Errorf("no %q in\n%s", tt.want, text)
			}
		})
	}
}

// What must be said before anything else comes first; the question comes under
// the answer.
func TestOrderOfTheAnswer(t *testing.T) {
	text := words(get(handler(&fake{result: allVerdicts()}), asked).Body.String())
	at := -1
	for _, want := range []string{"1,544 before a change", "Before you begin: 2 cautions", "Tag 1, Fits", "Tag 5, Not known", "To be surer, look", "The question", "Frame number"} {
		i := strings.Index(text, want)
		if i < at {
			t.Errorf("%q comes too early", want)
		}
		at = i
	}
}

func TestPagesThatHaveNoAnswer(t *testing.T) {
	tests := []struct {
		name, target string
		err          error
		status       int
		want         string
		calls        int
	}{
		{"no part number", "/part", nil, 400, "which part? find it by its number first", 0},
		{"a part that nobody knows", "/part?part=x", &app.Error{Code: app.CodeNotFound, Message: "nothing in the book speaks of x"}, 404, "nothing in the book speaks of x", 1},
		{"a measurement too long", "/?type=a&frame=b&seen_ribs=" + strings.Repeat("x", 201), nil, 413, "what was seen is longer", 0},
		{"nothing asked", "/", nil, 200, "Which part goes in?", 0},
		{"no part yet", "/?frame=ZQX30-0123456", nil, 200, "Which part? Choose one below.", 0},
		{"no vehicle yet", "/?type=alternator", nil, 200, "Which vehicle?", 0},
		{"options alone are no vehicle", "/?type=alternator&option_ac=yes", nil, 200, "Which vehicle?", 0},
		{"an error of the application", asked, &app.Error{Code: app.CodeInvalid, Message: "engine cannot be read", Hint: "read it again"}, 400, "engine cannot be read read it again", 1},
		{"a defect", asked, io.ErrUnexpectedEOF, 500, "something went wrong here", 1},
		{"a value too long", "/?type=a&frame=" + strings.Repeat("x", 201), nil, 413, "frame is longer than 200 characters", 0},
		{"text that is no UTF-8", "/?type=a&frame=%FF", nil, 400, "frame holds characters that cannot be typed", 0},
		{"too many options", "/?type=a&frame=b&with=" + strings.Join(strings.Split(strings.Repeat("abcdefghijklmnopqrstuvwxyz0123456789", 1), ""), ","), nil, 413, "more than 32 options", 0},
		{"an address that is none", "/nowhere", nil, 404, "nothing at /nowhere", 0},
		{"a search that is too long", "/find?q=" + strings.Repeat("x", 201), nil, 413, "the search is longer", 0},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			f := &fake{result: allVerdicts(), err: tt.err}
			w := get(handler(f), tt.target)
			if w.Code != tt.status || !strings.Contains(words(w.Body.String()), tt.want) {
				t.Errorf("got %d, want %d and %q in\n%s", w.Code, tt.status, tt.want, words(w.Body.String()))
			}
			if f.calls != tt.calls {
				t.Errorf("asked %d times, want %d", f.calls, tt.calls)
			}
			if strings.Contains(w.Body.String(), "unexpected EOF") {
				t.Error("the cause is for the log")
			}
		})
	}
}

// What was seen is said again and not asked again, on the page or in a window.
func TestWhatWasSeenIsNotAskedAgain(t *testing.T) {
	r := allVerdicts()
	r.Candidates[2].DependsOn = nil // its window then says what to look at
	r.Request.Observed = []app.Observed{{Attribute: "amps", Value: "70"}, {Attribute: "ribs", Value: cannotSee}}
	text := words(get(handler(&fake{result: r}), asked+"&seen_ribs=%3F&seen_amps=70").Body.String())
	if strings.Contains(text, "count the ribs") || !strings.Contains(text, "Look Gearbox: pedals") {
		t.Errorf("got %s", text)
	}
	if !strings.Contains(text, "rated output 70 A seen") || strings.Contains(text, "pulley ribs ? seen") {
		t.Errorf("got %s", text)
	}
}

func TestNoneBeatsEverything(t *testing.T) {
	text := words(everyPage()["none"].Body.String())
	if !strings.Contains(text, "no alternator, charging by converter") || strings.Contains(text, "Not known: nothing") || strings.Contains(text, "To be surer") {
		t.Errorf("got %s", text)
	}
}

func TestFindShowsHitsAndLeadsOn(t *testing.T) {
	f := &fake{found: foundTwo()}
	body := get(handler(f), "/find?q=+98760+").Body.String()
	if f.words != "98760" {
		t.Errorf("asked for %q", f.words)
	}
	for _, want := range []string{"The best 2 of 41", "98760-50090 Toriyama", "DA 100/471 Denkai", "Alternator, 12 V 80 A", "in lists for XQ20D, ZQX30", "2 free on the shelf",
		"9876050100", "none free on the shelf", "No part type is called x."} {
		if !strings.Contains(words(body), want) {
			t.Errorf("no %q in\n%s", want, words(body))
		}
	}
	for _, want := range []string{`href="/part?part=98760-50090&amp;part_maker=Toriyama&amp;type=alternator"`, `href="/?frame=ZQX30-0123456"`} {
		if !strings.Contains(body, want) {
			t.Errorf("no link %s", want)
		}
	}
	if text := words(get(handler(&fake{found: app.FindAnswer{Query: "zz"}}), "/find?q=zz").Body.String()); !strings.Contains(text, "Nothing found for zz") {
		t.Errorf("got %s", text)
	}
}

func TestListsShowRowsAndTimesOfTheShop(t *testing.T) {
	w := New(&fake{lists: twoLists()}, nil, time.FixedZone("shop", 9*3600))
	text := words(get(httpserver.NewRouter(w.Register), "/lists").Body.String())
	for _, want := range []string{"alternators version 3, alternators.xlsx own list 2026-11-02 19:40 512 490 12 2 8", "withdrawn nothing of it counts"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
}

// What lists and people wrote is text on a page, never a part of it.
func TestForeignTextStaysText(t *testing.T) {
	r := allVerdicts()
	evil := `"><script>alert(1)</script><img src=x onerror=alert(1)>`
	c := &r.Candidates[0]
	c.Name, c.Reason, c.Numbers[0].Number, c.Numbers[0].Maker = evil, evil, evil, evil
	c.Trails[0].Steps[0].Statement.Place.Text = evil + "\t" + evil
	r.Notes, r.Warnings, r.Looks[0].Where, r.Cautions = []string{evil}, []string{evil}, evil, []part.Caution{{Text: evil}}
	target := "/?type=alternator&frame=" + strings.ReplaceAll(strings.ReplaceAll(evil, " ", "+"), `"`, "%22")
	found := app.FindAnswer{Query: evil, Hits: []app.FindHit{{Key: evil, Name: evil, Numbers: []app.FindNumber{{Number: evil, Maker: evil}}}}, Hints: []app.FindHint{{Say: evil}}}
	h := handler(&fake{result: r, found: found, lists: []app.List{{Name: evil, File: evil}}})
	for _, target := range []string{target, "/find?q=x", "/lists", "/" + strings.ReplaceAll(evil, " ", "+")} {
		body := get(h, target).Body.String()
		if strings.Contains(body, "<script") || strings.Contains(body, "<img") {
			t.Errorf("%s holds foreign markup", target)
		}
	}
}

func TestStyleSheetIsKeptByItsContent(t *testing.T) {
	h := handler(&fake{})
	body := get(h, "/").Body.String()
	_, rest, _ := strings.Cut(body, `rel="stylesheet" href="`)
	address, _, _ := strings.Cut(rest, `"`)
	w := get(h, address)
	if w.Code != http.StatusOK || !strings.Contains(w.Header().Get("Cache-Control"), "immutable") || !strings.HasPrefix(w.Header().Get("Content-Type"), "text/css") {
		t.Errorf("%s: got %d %v", address, w.Code, w.Header())
	}
}

// A page is sent whole or not at all.
func TestAPageThatCannotBeMadeIsAProblem(t *testing.T) {
	w := New(&fake{}, nil, nil)
	rec := httptest.NewRecorder()
	w.render(rec, httptest.NewRequest("GET", "/", nil).WithContext(context.Background()), 200, "lists.html", struct{ Head head }{})
	if rec.Code != http.StatusInternalServerError || strings.Contains(rec.Body.String(), "<html") {
		t.Errorf("got %d %s", rec.Code, rec.Body)
	}
}
