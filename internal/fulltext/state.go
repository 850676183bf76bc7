package fulltext

// State is how an index was found when it was opened.
type State string

// States of an index against the book.
const (
	Equal          State = "equal"           // stands at the book's revision
	Behind         State = "behind"          // the book has moved on
	Ahead          State = "ahead"           // the book went back: it was restored from a backup
	MappingChanged State = "mapping_changed" // fields are indexed in another way by now
	Version        State = "version"         // documents are made in another way by now
	Missing        State = "missing"         // there is none yet
	Corrupt        State = "corrupt"         // it cannot be opened, or lacks documents
)

// Action is what to do about a state.
type Action string

// Actions. Open itself empties an index that is to be rebuilt; catching up and
// filling it is up to the caller, who has the book.
const (
	Use     Action = "use"
	CatchUp Action = "catch up"
	Rebuild Action = "rebuild"
)

// actions is the whole decision.
var actions = map[State]Action{
	Equal:          Use,
	Behind:         CatchUp,
	Ahead:          Rebuild,
	MappingChanged: Rebuild,
	Version:        Rebuild,
	Missing:        Rebuild,
	Corrupt:        Rebuild,
}

// Action gives what to do about a state.
func (s State) Action() Action { return actions[s] }

// judge compares what an index says of itself with the program and the book.
// The first line that holds counts: an index made in another way is not asked
// for its revision, and one that lacks documents is not caught up.
func judge(found, program header, docs uint64, bookRevision int64) State {
	switch {
	case found.documents != program.documents:
		return Version
	case found.mapping != program.mapping:
		return MappingChanged
	case found.count != unknownCount && found.count != int64(docs):
		return Corrupt
	case found.revision > bookRevision:
		return Ahead
	case found.revision < bookRevision:
		return Behind
	}
	return Equal
}
