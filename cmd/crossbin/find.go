package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"time"

	"crossbin/internal/app"
	"crossbin/internal/sqlite"
)

type findCommand struct {
	Words []string `arg:"" help:"Numbers, words in any language, engines, model codes; type: maker: engine: model: narrow it; dispute: lists what contradicts what."`
	Limit int      `help:"How many hits to print." default:"20"`
}

// Bounds of asking a running server.
const (
	askTime   = 30 * time.Second
	maxAnswer = 8 << 20 // a hundred hits are far below it
)

// Run searches: through the server of the book where one runs, else by owning
// the index for as long as it takes.
func (c *findCommand) Run(ctx context.Context, p *program) (err error) {
	if c.Limit < 1 || c.Limit > 100 {
		return &app.Error{Code: app.CodeInvalid, Message: fmt.Sprintf("a limit of %d", c.Limit), Hint: "give 1 to 100"}
	}
	words := strings.Join(c.Words, " ")
	p.flags.Book = p.book()
	if about, ok := strings.CutPrefix(words, "dispute:"); ok {
		return c.disputes(ctx, p, strings.TrimSpace(about))
	}
	var answer app.FindAnswer
	if address, ok := sqlite.ServerAddress(p.flags.Book); ok {
		answer, err = askServer(ctx, address, words, c.Limit)
	} else {
		answer, err = c.own(ctx, p, words)
	}
	if err != nil {
		return err
	}
	if len(answer.Hits) == 0 {
		p.exit = exitNothing
	}
	if p.flags.JSON {
		return p.printJSON(answer)
	}
	p.printFind(answer)
	return nil
}

func (c *findCommand) own(ctx context.Context, p *program, words string) (answer app.FindAnswer, err error) {
	if err := mustBeThere(p.flags.Book); err != nil {
		return answer, err
	}
	o, err := p.openBook(ctx, toOwn)
	if err != nil {
		return answer, err
	}
	defer func() { err = errors.Join(err, o.close()) }()
	if err := o.withIndex(ctx); err != nil {
		return answer, err
	}
	return o.Find(ctx, words, c.Limit)
}

// askServer asks the server of the book.
func askServer(ctx context.Context, address, words string, limit int) (answer app.FindAnswer, err error) {
	ctx, stop := context.WithTimeout(ctx, askTime)
	defer stop()
	q := url.Values{"q": {words}, "limit": {strconv.Itoa(limit)}}
	req, err := http.NewRequestWithContext(ctx, http.MethodGet, "http://"+address+"/api/v1/search?"+q.Encode(), nil)
	if err != nil {
		return answer, err
	}
	resp, err := http.DefaultClient.Do(req)
	if err != nil {
		return answer, &app.Error{Code: app.CodeUnavailable, Message: "the server of the book at " + address + " does not answer", Hint: "end it, or try again", Cause: err}
	}
	defer resp.Body.Close()
	body, err := io.ReadAll(io.LimitReader(resp.Body, maxAnswer))
	if err != nil {
		return answer, err
	}
	if resp.StatusCode != http.StatusOK {
		return answer, problemOf(resp.StatusCode, body)
	}
	return answer, json.Unmarshal(body, &answer)
}

// problemOf turns the server's problem into an error of ours.
func problemOf(status int, body []byte) error {
	var problem struct{ Title, Detail, Hint string }
	_ = json.Unmarshal(body, &problem) // without a detail the title or the status says it
	code := app.CodeInvalid
	if status >= http.StatusInternalServerError {
		code = app.CodeUnavailable
	}
	message := problem.Detail
	if message == "" {
		message = fmt.Sprintf("the server answers %d %s", status, problem.Title)
	}
	return &app.Error{Code: code, Message: message, Hint: problem.Hint}
}

func (p *program) printFind(a app.FindAnswer) {
	if len(a.Hits) == 0 {
		fmt.Fprintf(p.stdout, "nothing found for %s\n", a.Query)
		return
	}
	for _, h := range a.Hits {
		var numbers []string
		for _, n := range h.Numbers {
			text := n.Number
			if n.Maker != "" {
				text += " (" + n.Maker + ")"
			}
			numbers = append(numbers, text)
		}
		fmt.Fprintf(p.stdout, "%s  %s %s", strings.Join(numbers, " = "), h.Type, h.Name)
		if len(h.ModelCodes) > 0 {
			fmt.Fprintf(p.stdout, "  for %s", strings.Join(h.ModelCodes, ", "))
		}
		if len(h.Engines) > 0 {
			fmt.Fprintf(p.stdout, "  engine %s", strings.Join(h.Engines, ", "))
		}
		fmt.Fprintf(p.stdout, "  %d free\n", h.Free)
	}
	if more := a.Count - len(a.Hits); more > 0 {
		fmt.Fprintf(p.stdout, "and %d more\n", more)
	}
}
