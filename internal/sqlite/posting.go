package sqlite

import (
	"context"
	"maps"
	"slices"

	"crossbin/internal/shelf"
)

var postingColumns = []string{"pos", "key", "maker", "bin", "condition", "printed", "quantity", "held", "job", "day"}

func putPosting(b *bulk, pos int64, p shelf.Posting) {
	b.int(pos)
	b.text(p.Part.Key)
	b.text(p.Part.Maker)
	b.text(p.Bin)
	b.text(string(p.Condition))
	b.texts(p.Printed)
	if p.Counted {
		b.int(int64(p.Quantity))
	} else {
		b.value(nil)
	}
	b.int(int64(p.Held))
	b.text(p.Job)
	b.texts(p.Day)
}

// binKey is one part in one bin in one condition.
type binKey struct{ key, maker, bin, condition string }

// saidOfBin is what one version of a list says of a bin: the rows that name it
// added up.
type saidOfBin struct {
	rows     int
	counted  bool
	quantity int
	day      string // the latest
	printed  string
	held     map[string]int // by job
}

func (s *saidOfBin) add(rec *record) {
	s.rows++
	if _, ok := rec.cells[7].(int64); ok {
		s.counted = true
		s.quantity += int(rec.num(7))
	}
	if held := int(rec.num(8)); held != 0 {
		if s.held == nil {
			s.held = map[string]int{}
		}
		s.held[rec.text(9)] += held
	}
	s.day = max(s.day, rec.text(10))
	if s.printed == "" {
		s.printed = rec.text(6)
	}
}

// sameCount reports whether two versions count a bin alike.
func (s *saidOfBin) sameCount(o *saidOfBin) bool {
	return s.counted == o.counted && s.quantity == o.quantity && s.day == o.day && (s.rows == 0) == (o.rows == 0)
}

// binChange is a bin of which the next version of a list says something else
// than the current one. A bin of which it says the same is no news: what was
// booked since stays booked.
type binChange struct {
	bin           binKey
	before, after saidOfBin
}

// postingsByBin is what all versions of a list say of the shelf. One import at
// a time makes the rows of a batch one range.
const postingsByBin = `SELECT p.key, p.maker, p.bin, p.condition, r.since, r.until, p.printed, p.quantity, p.held, p.job, p.day
	FROM batch b CROSS JOIN posting p ON p.pos BETWEEN b.first_row << 16 AND
		CASE b.state WHEN 'staging' THEN 9223372036854775807 ELSE (b.last_row << 16) + 65535 END
	CROSS JOIN sheet_row r ON r.id = p.pos >> 16
	WHERE b.list = ? AND b.state <> 'undone' ORDER BY p.key, p.maker, p.bin, p.condition, p.pos`

// binsPerPlan is how many changed bins are planned and booked together.
const binsPerPlan = 1000

// binChanges compares two versions of a list, bin by bin in order, and hands the
// bins that differ over in portions. The slice is used again.
func binChanges(ctx context.Context, q querier, list, current, version int64, yield func([]binChange) error) error {
	var out []binChange
	var c binChange
	flush := func(most int) error {
		if !c.before.sameCount(&c.after) || !maps.Equal(c.before.held, c.after.held) {
			out = append(out, c)
		}
		if len(out) == 0 || len(out) < most {
			return nil
		}
		err := yield(out)
		out = out[:0]
		return err
	}
	err := each(ctx, q, postingsByBin, []any{list}, 11, func(rec *record) error {
		bin := binKey{rec.text(0), rec.text(1), rec.text(2), rec.text(3)}
		if bin != c.bin {
			if err := flush(binsPerPlan); err != nil {
				return err
			}
			c = binChange{bin: bin}
		}
		since, until := rec.num(4), rec.num(5)
		if since <= current && current < until {
			c.before.add(rec)
		}
		if since <= version && version < until {
			c.after.add(rec)
		}
		return nil
	})
	if err != nil {
		return err
	}
	return flush(0)
}

// jobs lists the jobs for which either version holds units, sorted.
func (c *binChange) jobs() []string {
	return slices.Compact(slices.Sorted(func(yield func(string) bool) {
		for _, held := range []map[string]int{c.before.held, c.after.held} {
			for job := range held {
				if !yield(job) {
					return
				}
			}
		}
	}))
}
