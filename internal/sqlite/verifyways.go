package sqlite

import (
	"fmt"
	"strings"
)

// wayCheck counts what is wrong with a table of ways in.
type wayCheck struct{ text, query string }

// counting keeps the rows of versions that count: an import that was killed has
// rows that no way leads to yet.
const counting = ` CROSS JOIN sheet_row r ON r.id = x.sheet_row` + thenList + ` WHERE r.since <= l.current AND l.current < r.until AND `

// wayChecks are the checks of the ways in: each leads somewhere, and each row
// that counts is led to. The queries run through the tables once and look the
// other side up, so that they need no room.
func wayChecks() []wayCheck {
	const all = "0 AND 9223372036854775807"
	keys := fill(namedKeys(), all)
	scopes := fill(scopeWays(), all)
	return []wayCheck{
		{"%d keys in row_key do not stand in their row as it says", `SELECT count(*) FROM row_key k WHERE k.kinds <> ` + kindsOfRow()},
		{"%d keys are missing in row_key", `SELECT count(*) FROM (` + keys + `) x` + counting +
			`NOT EXISTS (SELECT 1 FROM row_key k WHERE k.key = x.key AND k.sheet_row = x.sheet_row AND k.kinds & x.bit)`},
		{"%d ways in fitment_way lead to no such fitment", `SELECT count(*) FROM fitment_way k WHERE NOT EXISTS (SELECT 1 FROM fitment s
			WHERE s.pos = k.pos AND coalesce(s.type, '') = k.type AND
			CASE k.way WHEN 1 THEN s.model_code WHEN 2 THEN s.engine WHEN 3 THEN s.model END = k.value)`},
		{"%d ways are missing in fitment_way", `SELECT count(*) FROM (SELECT w.*, w.pos >> 16 AS sheet_row FROM (` + scopes + `) w) x` + counting +
			`NOT EXISTS (SELECT 1 FROM fitment_way k WHERE k.way = x.way AND k.value = x.value AND k.type = x.type AND k.pos = x.pos)`},
		{"%d hashes in row_hash are not those of their rows", `SELECT count(*) FROM row_hash h WHERE NOT EXISTS (SELECT 1 FROM sheet_row r
			WHERE r.id = h.sheet_row AND r.hash = h.hash)`},
		{"%d hashes are missing in row_hash", `SELECT count(*) FROM (SELECT id AS sheet_row, hash FROM sheet_row) x` + counting +
			`NOT EXISTS (SELECT 1 FROM row_hash h WHERE h.hash = x.hash AND h.sheet_row = x.sheet_row)`},
	}
}

// fill puts a range in the place of the parameters of a query for ways in.
func fill(query, all string) string {
	return strings.NewReplacer("?1 AND ?2", all, " AND ?3 <= ?4", "").Replace(query)
}

// kindsOfRow is an expression for the kinds that name a key in a row.
func kindsOfRow() string {
	sum := "(0"
	for _, t := range tables {
		if t.bit == 0 {
			continue
		}
		sum += fmt.Sprintf(" + %d * EXISTS (SELECT 1 FROM %s s WHERE s.pos BETWEEN k.sheet_row << 16 AND (k.sheet_row << 16) + 65535 AND (s.%s = k.key))",
			t.bit, t.name, strings.Join(t.keys, " = k.key OR s."))
	}
	return sum + ")"
}
