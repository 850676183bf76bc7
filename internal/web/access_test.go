package web

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/net/html"
)

// walk calls f for every element of a page.
func walk(n *html.Node, f func(*html.Node)) {
	if n.Type == html.ElementNode {
		f(n)
	}
	for c := n.FirstChild; c != nil; c = c.NextSibling {
		walk(c, f)
	}
}

func attr(n *html.Node, name string) (string, bool) {
	for _, a := range n.Attr {
		if a.Key == name {
			return a.Val, true
		}
	}
	return "", false
}

func has(n *html.Node, name string) bool { _, ok := attr(n, name); return ok }

// Every page can be read and used without eyes, without a pointer, and without
// scripts.
func TestEveryPageIsWellMade(t *testing.T) {
	for name, w := range everyPage() {
		t.Run(name, func(t *testing.T) {
			doc, err := html.Parse(strings.NewReader(w.Body.String()))
			if err != nil {
				t.Fatal(err)
			}
			var p pageCheck
			walk(doc, p.element)
			p.finish()
			for _, problem := range p.problems {
				t.Error(problem)
			}
		})
	}
}

// pageCheck gathers what is wrong with a page.
type pageCheck struct {
	ids, labels, fields, wanted []string
	headings                    []int
	tags                        map[string]int
	problems                    []string
}

func (p *pageCheck) say(format string, args ...any) {
	p.problems = append(p.problems, fmt.Sprintf(format, args...))
}

func (p *pageCheck) element(n *html.Node) {
	if p.tags == nil {
		p.tags = map[string]int{}
	}
	p.tags[n.Data]++
	if id, ok := attr(n, "id"); ok {
		if slices.Contains(p.ids, id) {
			p.say("id %s stands twice", id)
		}
		p.ids = append(p.ids, id)
	}
	for _, a := range n.Attr {
		switch {
		case strings.HasPrefix(a.Key, "on") || a.Key == "style":
			p.say("<%s %s> runs a script or breaks the content policy", n.Data, a.Key)
		case a.Key == "aria-describedby" || a.Key == "aria-labelledby":
			p.wanted = append(p.wanted, a.Val)
		case a.Key == "href" && strings.HasPrefix(a.Val, "#"):
			p.wanted = append(p.wanted, a.Val[1:])
		case a.Key == "tabindex" && a.Val != "0":
			p.say("tabindex %s moves the order of the keyboard", a.Val)
		}
	}
	p.byName(n)
}

func (p *pageCheck) byName(n *html.Node) {
	switch n.Data {
	case "label":
		of, _ := attr(n, "for")
		p.labels = append(p.labels, of)
	case "input", "select":
		if kind, _ := attr(n, "type"); kind != "hidden" {
			id, _ := attr(n, "id")
			p.fields = append(p.fields, id)
		}
	case "h1", "h2", "h3":
		level, _ := strconv.Atoi(n.Data[1:])
		p.headings = append(p.headings, level)
	case "a":
		if textOf(n) == "" {
			p.say("a link says nothing")
		}
	case "fieldset":
		if n.FirstChild == nil || !strings.Contains(render(n), "<legend>") {
			p.say("a group of buttons has no legend")
		}
	case "html":
		if !has(n, "lang") {
			p.say("the page has no language")
		}
	case "script", "iframe", "img":
		p.say("<%s> has no place here", n.Data)
	}
}

func (p *pageCheck) finish() {
	for _, name := range []string{"h1", "title", "main", "header", "nav"} {
		if p.tags[name] != 1 {
			p.say("got %d <%s>, want 1", p.tags[name], name)
		}
	}
	for _, f := range p.fields {
		if !slices.Contains(p.labels, f) {
			p.say("field %q has no label", f)
		}
	}
	for _, id := range p.wanted {
		if !slices.Contains(p.ids, id) {
			p.say("nothing has the id %s", id)
		}
	}
	for i, level := range p.headings {
		if i > 0 && level > p.headings[i-1]+1 {
			p.say("heading %d jumps from level %d to %d", i, p.headings[i-1], level)
		}
	}
}

func textOf(n *html.Node) string { return strings.TrimSpace(words(render(n))) }

func render(n *html.Node) string {
	var b strings.Builder
	if err := html.Render(&b, n); err != nil {
		return err.Error()
	}
	return b.String()
}

// Text stands out from what it lies on by 4.5 to 1 at least, outlines by 3 to 1
// (WCAG 2.2, 1.4.3 and 1.4.11).
func TestContrastOfEveryPairOfColours(t *testing.T) {
	colour := colours(t)
	text, outline := 4.5, 3.0
	tests := []struct {
		front, back string
		least       float64
	}{
		{"ink", "bench", text}, {"ink", "bench-low", text}, {"ink", "manila", text}, {"ink", "kraft", text}, {"ink", "strip", text}, {"ink", "tape", text},
		{"soft", "bench", text}, {"soft", "manila", text}, {"soft", "strip", text}, {"soft", "tape", text},
		{"pen", "bench", text}, {"pen", "manila", text}, {"pen", "kraft", text}, {"pen", "strip", text}, {"pen", "tape", text},
		{"strip", "ink", text}, {"manila", "ink", text}, {"ink", "hazard", outline}, {"ink", "ring", outline},
	}
	for _, tt := range tests {
		if got := contrast(colour[tt.front], colour[tt.back]); got < tt.least {
			t.Errorf("%s on %s: got %.2f, want %.1f", tt.front, tt.back, got, tt.least)
		}
	}
	if got := contrast([3]float64{}, [3]float64{1, 1, 1}); math.Abs(got-21) > 0.001 { // black on white, as the definition says
		t.Errorf("black on white: got %f", got)
	}
}

var colourPattern = regexp.MustCompile(`--([a-z-]+): #([0-9a-f]{6});`)

// colours reads the colours that the style sheet names.
func colours(t *testing.T) map[string][3]float64 {
	t.Helper()
	out := map[string][3]float64{}
	for _, m := range colourPattern.FindAllStringSubmatch(string(styleSheet()), -1) {
		if _, again := out[m[1]]; again {
			continue // the white bench of a print
		}
		var c [3]float64
		for i := range c {
			n, err := strconv.ParseUint(m[2][2*i:2*i+2], 16, 8)
			if err != nil {
				t.Fatal(err)
			}
			c[i] = float64(n) / 255
		}
		out[m[1]] = c
	}
	if len(out) < 10 {
		t.Fatalf("found %d colours", len(out))
	}
	return out
}

// contrast is the ratio of relative luminances (WCAG 2.2, definitions).
func contrast(a, b [3]float64) float64 {
	la, lb := luminance(a), luminance(b)
	return (max(la, lb) + 0.05) / (min(la, lb) + 0.05)
}

func luminance(c [3]float64) float64 {
	linear := func(v float64) float64 {
		if v <= 0.04045 {
			return v / 12.92
		}
		return math.Pow((v+0.055)/1.055, 2.4)
	}
	return 0.2126*linear(c[0]) + 0.7152*linear(c[1]) + 0.0722*linear(c[2])
}

// The style sheet asks nobody else for anything.
func TestStyleSheetStaysAtHome(t *testing.T) {
	css := string(styleSheet())
	for _, outside := range []string{"@import", "url(http", "url(//", "@font-face"} {
		if strings.Contains(css, outside) {
			t.Errorf("the style sheet holds %s", outside)
		}
	}
}
