package main

import (
	"cmp"
	"fmt"
	"slices"

	"crossbin/internal/app"
)

// samples is how many problems of one rule are spelled out on the terminal.
const samples = 3

// printImport says in words what became of a file.
func (p *program) printImport(r app.ImportReport) {
	switch r.State {
	case "unchanged":
		fmt.Fprintf(p.stdout, "%s: the same file again, nothing changes in the list %q (version %d, batch %s)\n", r.File, r.List, r.Version, r.Batch)
	case "dry_run":
		fmt.Fprintf(p.stdout, "%s: a dry run, nothing is brought in; this is what would become of the list %q\n", r.File, r.List)
	default:
		fmt.Fprintf(p.stdout, "%s: in the list %q as version %d (batch %s)\n", r.File, r.List, r.Version, r.Batch)
	}
	fmt.Fprintf(p.stdout, "  rows: %d read = %d taken + %d flagged + %d refused + %d skipped (blank, heading, total)\n",
		r.Read, r.Taken, r.Flagged, r.Refused, r.Skipped)
	if r.State != "unchanged" {
		fmt.Fprintf(p.stdout, "  statements: %d new, %d no longer said, %d as before (%d of them at another place); %d stock postings\n",
			r.Added, r.Dropped, r.Kept+r.Moved, r.Moved, r.Postings)
	}
	for _, group := range byRule(r.Problems) {
		fmt.Fprintf(p.stdout, "  %d x %s\n", len(group), group[0].Rule)
		for _, x := range group[:min(samples, len(group))] {
			fmt.Fprintf(p.stdout, "     %s: %q: %s\n", placeOf(x), x.Got, x.Wanted)
		}
	}
	if r.MoreProbs > 0 {
		fmt.Fprintf(p.stdout, "  and %d more\n", r.MoreProbs)
	}
}

// placeOf says where a problem stands.
func placeOf(x app.Problem) string {
	text := cmp.Or(x.Cell, fmt.Sprintf("row %d", x.Row))
	if x.Sheet != "" {
		text = x.Sheet + " " + text
	}
	return text
}

// byRule groups problems by their cause, the most frequent first.
func byRule(problems []app.Problem) [][]app.Problem {
	at := map[string]int{}
	var groups [][]app.Problem
	for _, x := range problems {
		i, ok := at[x.Rule]
		if !ok {
			i = len(groups)
			at[x.Rule] = i
			groups = append(groups, nil)
		}
		groups[i] = append(groups[i], x)
	}
	slices.SortStableFunc(groups, func(a, b []app.Problem) int { return cmp.Or(len(b)-len(a), cmp.Compare(a[0].Rule, b[0].Rule)) })
	return groups
}

// undone is the JSON of an undo.
type undone struct {
	List       string   `json:"list"`
	Version    int64    `json:"version"`
	Revision   int64    `json:"revision"`
	Reversed   int      `json:"stock_reversed"`
	LeftCounts []string `json:"bins_to_count"`
}

func undoAnswer(r app.UndoReport) undone {
	return undone{r.List, r.Version, r.Revision, r.Reversed, append([]string{}, r.LeftCounts...)}
}

func (p *program) printUndo(r app.UndoReport) {
	fmt.Fprintf(p.stdout, "the list %q is at version %d again; %d stock postings reversed\n", r.List, r.Version, r.Reversed)
	for _, bin := range r.LeftCounts {
		fmt.Fprintf(p.stdout, "  count again: %s (moved since)\n", bin)
	}
}
