package importers

import (
	"regexp"
	"strconv"
	"strings"

	"crossbin/internal/statement"
)

// changesOf reads the tasks, minutes and pieces. For a look-alike they say what
// differs. A link that needs a change without naming it is flagged.
func (r *rowReader) changesOf(l *statement.Link, meaning string, relation value) {
	var tasks []string
	col := relation.col
	for _, v := range r.values(ChangeTask) {
		if r.rd.opt.Words.marks.is(v.text, markNo) || r.rd.opt.Words.marks.is(v.text, markNone) {
			continue
		}
		col = v.col
		for _, t := range strings.FieldsFunc(v.text, func(c rune) bool { return c == ';' || c == '\n' }) {
			if t = strings.TrimSpace(t); t != "" {
				tasks = append(tasks, t)
			}
		}
	}
	if l.Relation == statement.LookAlike {
		if l.Reason = strings.Join(tasks, "; "); l.Reason == "" {
			l.Reason = r.text(Notes)
		}
		return
	}
	if len(tasks) == 0 {
		if meaning == relChange {
			r.problem(col, "change_not_named", relation.text, "the change in a column Change needed; until it is named the link rests on somebody's word")
		}
		return
	}
	if l.Relation == statement.Same {
		r.problem(col, "change_on_same", strings.Join(tasks, "; "), "no change between two numbers of one part: if something must be changed write \"fits with change\"; the link was read so")
		l.Relation = statement.StandsIn
	}
	l.Changes = r.withMinutes(tasks)
}

var minutesInside = regexp.MustCompile(`(?i)[,(]?\s*(\d{1,4})\s*(?:min\b\.?|minutes?|minuten|minutos|分)\s*\)?$`)

// withMinutes gives each task its minutes: those written beside it, else the
// row's, where there is one number for each task, or one task.
func (r *rowReader) withMinutes(tasks []string) []statement.Change {
	out := make([]statement.Change, len(tasks))
	for i, t := range tasks {
		out[i].Task = t
		if m := minutesInside.FindStringSubmatchIndex(t); m != nil && m[0] > 0 {
			out[i].Task = strings.TrimSpace(t[:m[0]])
			out[i].Minutes, _ = strconv.Atoi(t[m[2]:m[3]])
		}
	}
	if p := r.text(Pieces); p != "" {
		out[0].Pieces = splitAll(p)
	}
	v, ok := r.first(Minutes)
	if !ok {
		return out
	}
	numbers := strings.FieldsFunc(v.text, func(c rune) bool { return strings.ContainsRune("/;+\n", c) })
	if len(numbers) == 1 && len(out) > 1 {
		out = []statement.Change{{Task: strings.Join(tasks, "; "), Pieces: out[0].Pieces}}
	}
	for i, text := range numbers {
		n, ok := minutesIn(text)
		if !ok || len(numbers) != len(out) {
			r.problem(v.col, "minutes_unread", v.text, "whole minutes, one number for the row or one for each change; they were left out")
			break
		}
		out[i].Minutes = n
	}
	return out
}

var minutesText = regexp.MustCompile(`(?i)^[~≈]?\s*(\d{1,4})(?:[.,]0+)?\s*(?:min\.?|mins|minutes|minuten|minutos|分)?$`)

func minutesIn(text string) (int, bool) {
	m := minutesText.FindStringSubmatch(strings.TrimSpace(text))
	if m == nil {
		return 0, false
	}
	n, err := strconv.Atoi(m[1])
	return n, err == nil
}
