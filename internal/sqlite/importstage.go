package sqlite

import (
	"bytes"
	"context"
	"fmt"
	"strings"

	"crossbin/internal/app"
	"crossbin/internal/shelf"
	"crossbin/internal/statement"
)

// staging is one call of Stage: what it changes in the import is taken over
// only when its transaction has been committed.
type staging struct {
	w        *importWriter
	ctx      context.Context
	tx       *transaction
	standing map[linePlace]standingRow
	sheets   map[sheetName]int64
	next     int64
	kept     idSet
	seen     map[sheetName]idSet
	rows     tally
	said     tally
	named    []namedKey
	filled   bool           // the keys gathered before were written
	inRow    map[string]int // keys of one row, with the kinds that name them

	rowBulk     *bulk
	bulks       map[*table]*bulk
	postingBulk *bulk
}

// Stage writes some rows in one transaction. A row that stands at the same
// place with the same hash and says the same is kept as it is. Errors:
// CodeInvalid for a place staged twice, a statement without id or of an unknown
// source or kind, and a negative quantity.
func (w *importWriter) Stage(ctx context.Context, rows []app.StagedRow) error {
	if err := w.in(phaseStaging); err != nil {
		return err
	}
	var s *staging
	err := w.book.write(ctx, "writing rows", func(tx *transaction) error {
		s = w.newStaging(ctx, tx)
		return s.stage(rows)
	})
	if err != nil {
		return err
	}
	s.takeOver()
	return nil
}

func (w *importWriter) newStaging(ctx context.Context, tx *transaction) *staging {
	s := &staging{w: w, ctx: ctx, tx: tx, next: w.next, standing: map[linePlace]standingRow{}, sheets: map[sheetName]int64{},
		kept: idSet{}, seen: map[sheetName]idSet{}, bulks: map[*table]*bulk{}, inRow: map[string]int{}}
	s.rowBulk = newBulk("INSERT", "sheet_row", "id", "list", "sheet", "line", "since", "until", "hash", "says", "text")
	s.postingBulk = newBulk("INSERT", "posting", postingColumns...)
	for _, t := range tables {
		s.bulks[t] = newBulk("INSERT", t.name, append(commonColumns[:len(commonColumns):len(commonColumns)], t.own...)...)
	}
	return s
}

func (s *staging) takeOver() {
	w := s.w
	w.next = s.next
	for name, id := range s.sheets {
		w.sheets[name] = id
	}
	for name, lines := range s.seen {
		if w.seen[name] == nil {
			w.seen[name] = idSet{}
		}
		w.seen[name].addAll(lines)
	}
	w.kept.addAll(s.kept)
	if s.filled {
		w.named = w.named[:0]
	}
	w.named = append(w.named, s.named...)
	w.rows.kept, w.rows.added = w.rows.kept+s.rows.kept, w.rows.added+s.rows.added
	w.said.kept, w.said.added = w.said.kept+s.said.kept, w.said.added+s.said.added
}

func (s *staging) stage(rows []app.StagedRow) error {
	if len(s.w.named) >= s.w.book.portion.gather {
		if err := s.w.fillKeys(s.ctx, s.tx); err != nil {
			return err
		}
		s.filled = true
	}
	if err := s.readStanding(rows); err != nil {
		return err
	}
	for i := range rows {
		if err := s.row(&rows[i]); err != nil {
			return err
		}
	}
	if err := s.rowBulk.flush(s.ctx, s.tx); err != nil {
		return err
	}
	for _, t := range tables {
		if err := s.bulks[t].flush(s.ctx, s.tx); err != nil {
			return err
		}
	}
	return s.postingBulk.flush(s.ctx, s.tx)
}

// readStanding reads what stands at the lines of these rows, a range of lines
// for each sheet.
func (s *staging) readStanding(rows []app.StagedRow) error {
	ranges := map[sheetName]run{}
	for _, r := range rows {
		name, line := sheetName{r.Place.File, r.Place.Sheet}, int64(r.Place.Row)
		g, ok := ranges[name]
		if !ok {
			g = run{line, line}
		}
		ranges[name] = run{min(g.first, line), max(g.last, line)}
	}
	for name, g := range ranges {
		id, ok := s.w.sheets[name]
		if !ok {
			var err error
			if id, err = sheetID(s.ctx, s.tx, s.w.list, name); err != nil {
				return err
			}
		}
		s.sheets[name] = id
		if s.w.current == 0 {
			continue
		}
		err := each(s.ctx, s.tx, standingRows, []any{id, g.first, g.last}, 4, func(r *record) error {
			says, _ := r.cells[3].([]byte)
			s.standing[linePlace{id, int(r.num(1))}] = standingRow{r.num(0), r.id(2), string(says)}
			return nil
		})
		if err != nil {
			return err
		}
	}
	return nil
}

func (s *staging) row(row *app.StagedRow) error {
	name := sheetName{row.Place.File, row.Place.Sheet}
	if err := s.once(name, row.Place); err != nil {
		return err
	}
	if err := s.check(row); err != nil {
		return err
	}
	sheet, says := s.sheets[name], saysOf(row)
	if old, ok := s.standing[linePlace{sheet, row.Place.Row}]; ok && old.id < s.w.first && old.hash == row.Hash && bytes.Equal([]byte(old.says), says) {
		s.kept.add(old.id)
		s.rows.kept++
		s.said.kept += int64(len(row.Statements))
		return nil
	}
	id := s.next
	s.next++
	s.rows.added++
	s.said.added += int64(len(row.Statements))
	b := s.rowBulk
	b.int(id)
	b.int(s.w.list)
	b.int(sheet)
	b.int(int64(row.Place.Row))
	b.int(s.w.version)
	b.int(unended)
	b.value(hashOf(row.Hash))
	b.value(says)
	b.texts(row.Place.Text)
	if err := b.end(s.ctx, s.tx); err != nil {
		return err
	}
	s.noteKeys(id, row.Statements)
	if err := s.statements(id, row.Statements); err != nil {
		return err
	}
	return s.postings(id, row.Postings)
}

// hashOf packs a row's hash, which may be empty but not NULL.
func hashOf(h string) any {
	if h == "" {
		return ""
	}
	return packID(h)
}

// once refuses a line that was staged before in this import.
func (s *staging) once(name sheetName, p statement.Place) error {
	if s.seen[name] == nil {
		s.seen[name] = idSet{}
	}
	line := int64(p.Row)
	if s.w.seen[name].has(line) || !s.seen[name].add(line) {
		return problem(app.CodeInvalid, "row "+placeText(p)+" comes twice in one import", "")
	}
	return nil
}

func placeText(p statement.Place) string {
	return strings.TrimSpace(fmt.Sprintf("%d of %s %s", p.Row, p.File, p.Sheet))
}

func (s *staging) check(row *app.StagedRow) error {
	if len(row.Statements) >= 1<<rowShift || len(row.Postings) >= 1<<rowShift {
		return problem(app.CodeInvalid, fmt.Sprintf("row %s says more than %d things", placeText(row.Place), 1<<rowShift-1), "split the row")
	}
	for i := range row.Statements {
		st := &row.Statements[i]
		switch {
		case st.ID == "":
			return problem(app.CodeInvalid, "row "+placeText(row.Place)+" holds a statement without an id", "")
		case tableOf(st.Kind) == nil:
			return problem(app.CodeInvalid, fmt.Sprintf("row %s holds a statement of the unknown kind %q", placeText(row.Place), st.Kind), "")
		case s.w.sources[st.Source] == 0:
			return problem(app.CodeInvalid, fmt.Sprintf("row %s names the unknown source %q", placeText(row.Place), st.Source), "")
		}
	}
	for _, p := range row.Postings {
		if p.Counted && p.Quantity < 0 || p.Held < 0 || p.Part.IsZero() {
			return problem(app.CodeInvalid, "row "+placeText(row.Place)+" holds a posting below zero or without a part", "")
		}
	}
	return nil
}

func (s *staging) statements(row int64, said []statement.Statement) error {
	for i := range said {
		st := &said[i]
		t := tableOf(st.Kind)
		b := s.bulks[t]
		b.int(posOf(row, i))
		b.value(packID(st.ID))
		b.int(s.w.sources[st.Source])
		b.texts(st.Place.Cell, st.Type, st.A.Key, st.A.Maker, st.Note)
		t.put(b, st)
		if err := b.end(s.ctx, s.tx); err != nil {
			return err
		}
	}
	return nil
}

func (s *staging) postings(row int64, postings []shelf.Posting) error {
	for i, p := range postings {
		b := s.postingBulk
		putPosting(b, posOf(row, i), p)
		if err := b.end(s.ctx, s.tx); err != nil {
			return err
		}
	}
	return nil
}
