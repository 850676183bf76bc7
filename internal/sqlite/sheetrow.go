package sqlite

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/binary"
	"errors"
	"slices"
	"strconv"

	"crossbin/internal/app"
)

// rowsByHash finds rows by the hash of what they say as text.
func rowsByHash(n int) string {
	return inList(`SELECT r.list, r.since, r.until, h.hash FROM row_hash h CROSS JOIN sheet_row r ON r.id = h.sheet_row WHERE h.hash IN (%s)`, n)
}

// standingRows finds the rows of one sheet that stand at some lines.
const standingRows = `SELECT id, line, hash, says FROM sheet_row
	WHERE sheet = ? AND line BETWEEN ? AND ? AND until = 9223372036854775807`

// standingRow is a row of the current version.
type standingRow struct {
	id   int64
	hash string
	says string
}

// linePlace is a line of a sheet in the book.
type linePlace struct {
	sheet int64
	line  int
}

// sheetID gives the number of a sheet and makes it when it is new.
func sheetID(ctx context.Context, tx *transaction, list int64, name sheetName) (id int64, err error) {
	err = tx.QueryRowContext(ctx, `SELECT id FROM sheet WHERE list = ? AND file = ? AND name = ?`, list, name.file, name.sheet).Scan(&id)
	if errors.Is(err, sql.ErrNoRows) {
		err = tx.QueryRowContext(ctx, `INSERT INTO sheet (list, file, name) VALUES (?, ?, ?) RETURNING id`, list, name.file, name.sheet).Scan(&id)
	}
	return id, err
}

// saysOf is the hash of all that a row brings into the book: the ids and cells
// of its statements in any order, and its postings in theirs.
func saysOf(row *app.StagedRow) []byte {
	texts := make([]string, 0, 2*len(row.Statements)+16*len(row.Postings))
	for i := range row.Statements {
		texts = append(texts, row.Statements[i].ID+" "+row.Statements[i].Place.Cell)
	}
	slices.Sort(texts)
	for i := range row.Postings {
		p := &row.Postings[i]
		texts = append(texts, "posting", p.Part.Key, p.Part.Maker, p.Printed, p.Bin, string(p.Condition), strconv.FormatBool(p.Counted),
			strconv.Itoa(p.Quantity), strconv.Itoa(p.Held), p.Job, p.Day)
	}
	var joined []byte
	for _, t := range texts { // with their lengths, so that no two lists join alike
		joined = append(binary.AppendUvarint(joined, uint64(len(t))), t...)
	}
	sum := sha256.Sum256(joined)
	return sum[:16]
}
