package statement

// priorWeight is how many outcomes a start weight is worth: with 20 of its own
// a source's record and its standing weigh the same.
const priorWeight = 20

// Tally is how statements of one source about one part type turned out. Shares
// of an outcome make it fractional.
type Tally struct{ Right, Wrong float64 }

// Learn gives the reliability of a source after its outcomes: the mean of the
// Beta distribution with the prior Beta(20r, 20(1-r)).
func (t Tally) Learn(r float64) float64 {
	return (priorWeight*r + t.Right) / (priorWeight + t.Right + t.Wrong)
}

// TallyKey names a tally: reliability belongs to source and part type.
type TallyKey struct{ Source, Type string }

// Tallies hold what outcomes taught of every source.
type Tallies map[TallyKey]Tally

// Trailed is one source of the strongest trail behind an outcome, with what its
// word was worth then.
type Trailed struct {
	Source      string
	Reliability float64
}

// Proved counts an outcome that proved the answer: one right for each source of
// the strongest trail.
func (t Tallies) Proved(partType string, trail []Trailed) {
	for _, s := range trail {
		k := TallyKey{s.Source, partType}
		tally := t[k]
		tally.Right++
		t[k] = tally
	}
}

// Refuted counts a part that did not go: one wrong, shared over the sources of
// the trail in proportion to how unsure each was.
func (t Tallies) Refuted(partType string, trail []Trailed) {
	doubt := 0.0
	for _, s := range trail {
		doubt += 1 - s.Reliability
	}
	if doubt == 0 {
		return
	}
	for _, s := range trail {
		k := TallyKey{s.Source, partType}
		tally := t[k]
		tally.Wrong += (1 - s.Reliability) / doubt
		t[k] = tally
	}
}
