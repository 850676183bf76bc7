package fit

import "crossbin/internal/statement"

// maxHops is how many links a trail may hold.
const maxHops = 3

// link classes of the chaining table: what a link adds to a trail.
type linkClass struct {
	replaced bool // replaced_by, either way
	word     bool // stands in on somebody's word, no change named
	changes  bool // stands in with named changes
	cond     bool // holds only under conditions
	kit      bool // leads to a kit that holds the part
	same     bool
}

func classOf(l statement.Link) linkClass {
	return linkClass{
		replaced: l.Relation == statement.ReplacedBy,
		word:     l.Word(),
		changes:  l.Relation == statement.StandsIn && !l.Word() || len(l.Changes) > 0,
		cond:     len(l.Conditions) > 0,
		kit:      l.Kit,
		same:     l.Relation == statement.Same,
	}
}

// chain is what a trail has taken up so far.
type chain struct {
	linkClass
	hops    int
	starred bool // only suggests: verdict at most check_first
}

// then extends a chain by one link as the chaining table allows; ok is false
// where it stops. The hard stops: two links on somebody's word, two with
// changes, more than three links, and nothing behind a kit. A link on a word
// next to a replacement or beside changes only suggests.
func (c chain) then(l linkClass) (next chain, ok bool) {
	switch {
	case c.hops >= maxHops, c.kit,
		c.word && l.word,
		c.changes && l.changes,
		l.kit && (c.word || c.changes):
		return chain{}, false
	}
	next = chain{hops: c.hops + 1, linkClass: linkClass{
		replaced: c.replaced || l.replaced, word: c.word || l.word, changes: c.changes || l.changes,
		cond: c.cond || l.cond, kit: l.kit, same: true,
	}}
	next.starred = c.starred || next.word && (next.replaced || next.changes) ||
		c.word && l.cond || c.cond && l.word || l.kit && c.cond
	return next, true
}
