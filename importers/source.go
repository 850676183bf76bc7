package importers

import (
	"strings"

	"crossbin/internal/statement"
)

// source says who says it, in the row's own words.
func (r *rowReader) source() {
	v, ok := r.first(WhereFrom)
	if ok {
		r.out.From = v.text
		if meaning, known := r.rd.opt.Words.standings.first(v.text); known {
			standing, manner, _ := strings.Cut(meaning, "/")
			r.out.Standing, r.out.Manner = statement.Standing(standing), statement.Manner(manner)
		} else if squash(v.text) == squash(r.rd.opt.Shop) {
			r.out.Standing = statement.OwnList
		}
	}
	if how := r.manner(); how != statement.AnyManner && r.out.Manner == statement.AnyManner {
		r.out.Manner = how
	}
}

// manner is what the column "measured with" says.
func (r *rowReader) manner() statement.Manner {
	meaning, _ := r.rd.opt.Words.standings.first(r.text(HowTaken))
	_, manner, _ := strings.Cut(meaning, "/")
	return statement.Manner(manner)
}
