package sqlite

import (
	"strconv"
	"strings"
)

// listSizes are the lengths of value lists in queries: few texts, so that every
// connection keeps them prepared.
var listSizes = []int{1, 4, 16, 64, 256}

// sizeFor is the list length for some values, at most the greatest one.
func sizeFor(values int) int {
	for _, size := range listSizes {
		if size >= values {
			return size
		}
	}
	return listSizes[len(listSizes)-1]
}

// inList puts the parameters ?1 to ?n in the place of %s.
func inList(query string, n int) string {
	names := make([]string, n)
	for i := range names {
		names[i] = "?" + strconv.Itoa(i+1)
	}
	return strings.ReplaceAll(query, "%s", strings.Join(names, ", "))
}

// inShop is inList with the shop behind the list, in the place of ?0.
func inShop(query string, n int) string {
	return strings.Replace(inList(query, n), "?0", "?"+strconv.Itoa(n+1), 1)
}

// selectText is the query for current statements of a table. from names where
// the planner has to begin, as "k", and how it comes to the row as "r" and the
// statement as "s"; each statement comes with its row. Rows of versions that do
// not count are left before anything of them is read.
func selectText(t *table, from, where string) string {
	var b strings.Builder
	b.WriteString("SELECT ")
	for _, c := range commonColumns {
		b.WriteString("s." + c + ", ")
	}
	b.WriteString("r.sheet, r.line, r.text")
	for _, c := range t.own {
		b.WriteString(", s." + c)
	}
	b.WriteString(" FROM " + from + " WHERE r.since <= l.current AND l.current < r.until")
	if where != "" {
		b.WriteString(" AND " + where)
	}
	return b.String()
}

const (
	thenList      = " CROSS JOIN list l ON l.id = r.list"
	ofRow         = "BETWEEN r.id << 16 AND (r.id << 16) + 65535"
	fromStatement = " s CROSS JOIN sheet_row r ON r.id = s.pos >> 16" + thenList
)

// keyText is the query for statements that name any of n part keys. A row that
// names several of them is looked through once.
func keyText(t *table, n int) string {
	keys := inList("(%s)", n)
	rows := "row_key k"
	if n > 1 {
		rows = "(SELECT DISTINCT sheet_row FROM row_key WHERE key IN " + keys + " AND kinds & " + strconv.Itoa(t.bit) + ") k"
	}
	var where []string
	for _, c := range t.keys {
		where = append(where, "s."+c+" IN "+keys)
	}
	condition := "(" + strings.Join(where, " OR ") + ")"
	if n == 1 {
		condition = "k.key = ?1 AND k.kinds & " + strconv.Itoa(t.bit) + " AND " + condition
	}
	return selectText(t, rows+" CROSS JOIN sheet_row r ON r.id = k.sheet_row"+thenList+" CROSS JOIN "+t.name+" s ON s.pos "+ofRow, condition)
}

// wayText is the query for fitments whose scope names any of n values.
func wayText(w fitmentWay, n int, typed bool) string {
	where := "k.way = " + strconv.Itoa(int(w)) + " AND k.value IN " + inList("(%s)", n)
	if typed {
		where += " AND k.type = ?" + strconv.Itoa(n+1)
	}
	return selectText(&fitmentTable, "fitment_way k CROSS JOIN sheet_row r ON r.id = k.pos >> 16"+thenList+
		" CROSS JOIN fitment s ON s.pos = k.pos", where)
}

// prepared are the texts of all queries for statements. They are put together
// once: that would take longer than a short query itself.
var prepared = prepareTexts()

type keyQuery struct {
	table string
	n     int
}

type wayQuery struct {
	way   fitmentWay
	n     int
	typed bool
}

type queryTexts struct {
	keys  map[keyQuery]string
	ways  map[wayQuery]string
	stock map[int]string
}

func prepareTexts() queryTexts {
	q := queryTexts{map[keyQuery]string{}, map[wayQuery]string{}, map[int]string{}}
	for _, n := range listSizes {
		for _, t := range tables {
			if len(t.keys) > 0 {
				q.keys[keyQuery{t.name, n}] = keyText(t, n)
			}
		}
		for _, w := range fitmentWays {
			q.ways[wayQuery{w, n, true}] = wayText(w, n, true)
			q.ways[wayQuery{w, n, false}] = wayText(w, n, false)
		}
		q.stock[n] = inShop(movementsOfKeys, n)
	}
	return q
}
