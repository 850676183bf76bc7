package app

import (
	"cmp"
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"crossbin/internal/part"
	"crossbin/internal/statement"
)

// stageRows is how many sheet rows go into one transaction: about 10,000
// statements, the size at which a waiting reader does not notice the writer.
const stageRows = 1000

// maxProblems bounds how many problems a report spells out; all are counted.
const maxProblems = 1000

// ImportRequest asks to bring one file in as the next version of one list.
type ImportRequest struct {
	File      string                        // base name
	Hash      string                        // of the file's bytes
	As        string                        // list name; "" for the one told by the file name
	Standing  statement.Standing            // of the list; "" keeps what it has, own list for a new one
	Standings map[string]statement.Standing // of names in the "where from" column
	// CopiedFrom names the list that this one was copied from: its source then
	// counts as that one, and two copies are one voice.
	CopiedFrom string
	DryRun     bool
	Strict     bool // refuse the whole file when a row is refused
	By         Actor
	Progress   func(rows int) // called now and then; may be nil
}

// ImportReport says what became of a file.
type ImportReport struct {
	File      string    `json:"file"`
	List      string    `json:"list"`
	Batch     string    `json:"batch,omitempty"`
	Version   int64     `json:"version"`
	State     string    `json:"state"` // imported, unchanged, dry_run
	Read      int       `json:"rows_read"`
	Taken     int       `json:"rows_taken"`
	Flagged   int       `json:"rows_flagged"`
	Refused   int       `json:"rows_refused"`
	Skipped   int       `json:"rows_skipped"`
	Added     int       `json:"statements_added"`
	Dropped   int       `json:"statements_dropped"`
	Kept      int       `json:"statements_kept"`
	Moved     int       `json:"statements_moved"`
	Postings  int       `json:"stock_postings"`
	Revision  int64     `json:"revision"`
	Problems  []Problem `json:"problems"`
	MoreProbs int       `json:"problems_left_out"`
}

// Import brings a file in. Nothing of it is read before the one small
// transaction that moves the list's current version; a dry run does all but that.
func (s *Service) Import(ctx context.Context, req ImportRequest, rows Rows) (ImportReport, error) {
	list, known, err := s.listFor(ctx, req)
	if err != nil {
		return ImportReport{}, err
	}
	standing := cmp.Or(req.Standing, list.Standing, statement.OwnList)
	rep := ImportReport{File: req.File, List: list.Name, Problems: []Problem{}}
	if same, ok, err := s.unchanged(ctx, req, list, standing); err != nil || ok {
		return same, err
	}
	batch := Batch{ID: newID(s.Clock()), List: list.Name, File: req.File, Hash: req.Hash, Standing: standing,
		State: Staging, At: s.Clock().UnixMilli(), By: req.By}
	w, err := s.Book.OpenImport(ctx, batch)
	if err != nil {
		return rep, err
	}
	in := &intake{service: s, req: req, list: list.Name, known: known, standing: standing, writer: w, report: &rep,
		numberer: statement.NewNumberer(s.Book.Shop(), list.Name), sources: map[string]bool{}, hashes: map[string]int{}}
	rep.Batch, rep.Version = batch.ID, w.Version()
	if err := in.run(ctx, rows); err != nil {
		// The context may be the reason; what was staged must go all the same.
		if gone := w.Abandon(context.WithoutCancel(ctx)); gone != nil {
			s.Log.Error("staged rows are left for the next start", "list", list.Name, "error", gone)
		}
		return rep, err
	}
	return rep, nil
}

// listFor tells which list a file is a version of.
func (s *Service) listFor(ctx context.Context, req ImportRequest) (List, bool, error) {
	name := cmp.Or(strings.TrimSpace(req.As), ListName(req.File))
	if name == "" {
		return List{}, false, &Error{Code: CodeInvalid, Message: "the file has no name to tell its list by", Hint: "name the list with --as"}
	}
	out, found := List{Name: name}, false
	err := s.Book.Read(ctx, func(r Reader) error {
		lists, err := r.Lists(ctx)
		for _, l := range lists {
			if l.Name == name {
				out, found = l, l.Version > 0
			}
		}
		return err
	})
	return out, found, err
}

// ListName gives the list that a file name tells: the name without its ending
// and without the marks that programs put on copies.
func ListName(file string) string {
	name := file
	if i := strings.LastIndex(name, "."); i > 0 {
		name = name[:i]
	}
	if i := strings.LastIndex(name, " ("); i > 0 && strings.HasSuffix(name, ")") {
		name = name[:i]
	}
	return strings.TrimSpace(name)
}

// unchanged recognises the file that the list was last read from.
func (s *Service) unchanged(ctx context.Context, req ImportRequest, list List, standing statement.Standing) (ImportReport, bool, error) {
	rep := ImportReport{File: req.File, List: list.Name, State: "unchanged", Problems: []Problem{}}
	found := false
	err := s.Book.Read(ctx, func(r Reader) error {
		batches, err := r.Batches(ctx)
		for _, b := range batches {
			if b.ID == list.Batch && b.Hash == req.Hash && b.State == Committed && list.Standing == standing && list.File == req.File {
				c := b.Counts
				rep.Batch, rep.Version, rep.Revision = b.ID, list.Version, r.Revision()
				rep.Read, rep.Taken, rep.Flagged, rep.Refused, rep.Skipped = c.Read, c.Taken, c.Flagged, c.Refused, c.Skipped
				rep.Kept, found = c.Kept+c.Added+c.Moved, true
			}
		}
		return err
	})
	return rep, found && len(req.Standings) == 0 && req.CopiedFrom == "", err
}

// intake is one import on its way.
type intake struct {
	service  *Service
	req      ImportRequest
	list     string
	known    bool
	standing statement.Standing
	writer   ImportWriter
	report   *ImportReport
	numberer *statement.Numberer
	sources  map[string]bool
	hashes   map[string]int
	pending  []StagedRow
	rows     int
}

func (in *intake) run(ctx context.Context, rows Rows) error {
	if _, err := in.source(ctx, Row{}); err != nil {
		return err
	}
	if err := rows.Each(ctx, func(r Row) error { return in.take(ctx, r) }); err != nil {
		return err
	}
	if err := in.flush(ctx); err != nil {
		return err
	}
	if err := in.checkIdentity(ctx); err != nil {
		return err
	}
	if in.req.Strict && in.report.Refused > 0 {
		return &Error{Code: CodeUnreadable, Message: fmt.Sprintf("%s: %d rows are refused, so nothing was brought in", in.req.File, in.report.Refused),
			Hint: "mend the rows named in the report, or leave --strict away"}
	}
	return in.finish(ctx)
}

// take counts a row and puts what it says in line for the book.
func (in *intake) take(ctx context.Context, r Row) error {
	in.rows++
	if in.req.Progress != nil && in.rows%500 == 0 {
		in.req.Progress(in.rows)
	}
	in.count(&r)
	if r.State == Skipped || r.State == Refused {
		return nil
	}
	source, err := in.source(ctx, r)
	if err != nil {
		return err
	}
	in.pending = append(in.pending, in.stage(r, source))
	if len(in.pending) >= stageRows {
		return in.flush(ctx)
	}
	return nil
}

func (in *intake) count(r *Row) {
	rep := in.report
	rep.Read++
	switch r.State {
	case Taken:
		rep.Taken++
	case Flagged:
		rep.Flagged++
	case Refused:
		rep.Refused++
	case Skipped:
		rep.Skipped++
	}
	room := maxProblems - len(rep.Problems)
	rep.Problems = append(rep.Problems, r.Problems[:min(room, len(r.Problems))]...)
	rep.MoreProbs += max(0, len(r.Problems)-room)
}

// stage gives statements their sources and ids, and the row its hash: a row is
// known by what it says, not where it stands.
func (in *intake) stage(r Row, source string) StagedRow {
	out := StagedRow{Place: r.Place, Postings: r.Postings}
	says := make([]string, len(r.Statements))
	for i, st := range r.Statements {
		st.Source = ""
		says[i] = statement.Content(st)
		st.Source = source
		if st.Place.Row == 0 {
			st.Place = r.Place
		}
		st.ID = in.numberer.ID(st)
		out.Statements = append(out.Statements, st)
	}
	slices.Sort(says)
	if len(says) == 0 {
		says = []string{r.Place.Text}
	}
	content := statement.Hash(says...)
	out.Hash = fmt.Sprintf("%s.%d", content, in.hashes[content])
	in.hashes[content]++
	return out
}

// source makes sure that the source of a row is known, and gives its id.
func (in *intake) source(ctx context.Context, r Row) (string, error) {
	src := statement.Source{Shop: in.service.Book.Shop(), List: in.list, Name: r.From, Standing: in.standing, Manner: r.Manner}
	if r.From != "" {
		src.Standing = cmp.Or(in.req.Standings[part.FoldMaker(r.From)], r.Standing, statement.OtherShop)
	}
	src.ID = statement.SourceID(src.Shop, src.List, src.Name)
	if r.From == "" && in.req.CopiedFrom != "" {
		src.CopiedFrom = statement.SourceID(src.Shop, in.req.CopiedFrom, "")
	}
	if in.sources[src.ID] {
		return src.ID, nil
	}
	in.sources[src.ID] = true
	return src.ID, in.writer.Source(ctx, src)
}

func (in *intake) flush(ctx context.Context) error {
	if len(in.pending) == 0 {
		return nil
	}
	err := in.writer.Stage(ctx, in.pending)
	in.pending = in.pending[:0]
	return err
}

// checkIdentity stops when the name told the wrong list: a known name whose
// rows are mostly new, or a new name whose rows mostly stand in another list.
func (in *intake) checkIdentity(ctx context.Context) error {
	if in.req.As != "" || len(in.hashes) == 0 {
		return nil
	}
	var hashes []string
	for _, content := range slices.Sorted(maps.Keys(in.hashes)) {
		for i := range in.hashes[content] {
			hashes = append(hashes, fmt.Sprintf("%s.%d", content, i))
		}
	}
	same, other, otherList, err := in.writer.Recurring(ctx, hashes)
	if err != nil {
		return err
	}
	switch {
	case in.known && 2*same < len(hashes):
		return &Error{Code: CodeConflict, Message: fmt.Sprintf("%s: the list %q is known, but only %d of %d rows recur", in.req.File, in.list, same, len(hashes)),
			Hint: fmt.Sprintf("say --as %q if it is a new version of it, or give another name with --as", in.list)}
	case !in.known && 2*other > len(hashes):
		return &Error{Code: CodeConflict, Message: fmt.Sprintf("%s: %d of %d rows already stand in the list %q", in.req.File, other, len(hashes), otherList),
			Hint: fmt.Sprintf("say --as %q if it is a new version of that list, or --as %q if it is another one", otherList, in.list)}
	}
	return nil
}

func (in *intake) finish(ctx context.Context) error {
	counts, err := in.writer.Finish(ctx)
	if err != nil {
		return err
	}
	rep := in.report
	if rep.Read != rep.Taken+rep.Flagged+rep.Refused+rep.Skipped {
		return &Error{Code: CodeInternal, Message: fmt.Sprintf("%s: %d rows read do not add up", in.req.File, rep.Read)}
	}
	counts.Read, counts.Taken, counts.Flagged, counts.Refused, counts.Skipped = rep.Read, rep.Taken, rep.Flagged, rep.Refused, rep.Skipped
	rep.Added, rep.Dropped, rep.Kept, rep.Moved, rep.Postings = counts.Added, counts.Dropped, counts.Kept, counts.Moved, counts.Postings
	if in.req.DryRun {
		rep.State, rep.Batch = "dry_run", ""
		return in.writer.Abandon(ctx)
	}
	rep.State = "imported"
	rep.Revision, err = in.writer.Commit(ctx, counts)
	return err
}

// newID gives a sortable id: the time in milliseconds, then chance.
func newID(now time.Time) string { return fmt.Sprintf("%012x%s", now.UnixMilli(), randomHex(4)) }
