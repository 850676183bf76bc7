package app

import (
	"context"
	"errors"
	"iter"

	"crossbin/internal/part"
	"crossbin/internal/query"
	"crossbin/internal/shelf"
	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

// Book is the knowledge of one shop. Every implementation passes the suite in
// testkit.
type Book interface {
	// Shop names the shop whose book this is.
	Shop() string
	// Read runs a question on one snapshot; the Reader ends with the call.
	Read(ctx context.Context, question func(Reader) error) error
	// OpenImport begins the next version of a list, which nobody reads until
	// Commit. One import at a time: a second one is refused with CodeInUse.
	OpenImport(ctx context.Context, batch Batch) (ImportWriter, error)
	// Undo takes back the newest version of a list by its batch id.
	Undo(ctx context.Context, batch string, by Actor) (UndoReport, error)
	// Sweep removes what a killed import left; it is called at start.
	Sweep(ctx context.Context) error
}

// Reader answers from one snapshot. All results count only statements that are
// current: since <= current(list) < until. Order: by statement id.
type Reader interface {
	Revision() int64
	Sources(ctx context.Context) (map[string]statement.Source, error)
	Engines(ctx context.Context) (vehicle.Engines, error)
	// Fitments gives fitments and "none" statements of a part type that match
	// any of the query's ways in.
	Fitments(ctx context.Context, q FitmentQuery) ([]statement.Statement, error)
	// Links gives the links that touch any of the keys on either side.
	Links(ctx context.Context, keys []string) ([]statement.Statement, error)
	// Parts gives the part statements with any of the keys.
	Parts(ctx context.Context, keys []string) ([]statement.Statement, error)
	// Values gives the value statements of parts with any of the keys.
	Values(ctx context.Context, keys []string) ([]statement.Statement, error)
	// Stock gives the shelf lines of parts with any of the keys.
	Stock(ctx context.Context, keys []string) ([]shelf.Line, error)
	// OnShelf gives the part references of which units are on hand anywhere, in
	// order.
	OnShelf(ctx context.Context) ([]part.Ref, error)
	// Lists gives every list, by name.
	Lists(ctx context.Context) ([]List, error)
	// Batches gives every committed or undone import, newest first.
	Batches(ctx context.Context) ([]Batch, error)
	// Changes gives the change feed after a revision, oldest first.
	Changes(ctx context.Context, after int64) ([]Change, error)
	// Keys walks all part keys in the book in order, for a rebuild.
	Keys(ctx context.Context, yield func(key string) error) error
}

// FitmentQuery names the ways into the fitments of one part type. Codes are
// folded. Rows that match any of them are given.
type FitmentQuery struct {
	Type       string   // "" for every part type
	ModelCodes []string // scope names one of these model codes
	Engines    []string // scope names one of these engine codes or families
	Makers     []string // scope names this maker or none, and one of Models
	Models     []string // scope names one of these model names
	Keys       []string // fitments of these part keys, whatever the scope
}

// Batch is one import: one file brought in as one version of one list.
type Batch struct {
	ID       string // sortable
	List     string
	Version  int64
	File     string // base name
	Hash     string // of the file's bytes
	Standing statement.Standing
	State    BatchState
	Revision int64 // of the commit; 0 before
	At       int64 // UTC milliseconds
	By       Actor
	Counts   Counts
}

// BatchState is how far an import came.
type BatchState string

// States of a batch.
const (
	Staging   BatchState = "staging"
	Committed BatchState = "committed"
	Undone    BatchState = "undone"
)

// Counts is the row accounting: Read = Taken + Flagged + Refused + Skipped.
type Counts struct {
	Read, Taken, Flagged, Refused, Skipped int
	Added, Dropped, Kept                   int // statements against the version before
	Moved                                  int // statements that only changed their place
	Postings                               int // stock movements
}

// Actor is who did it, and on which device.
type Actor struct{ Who, Device string }

// List is a spreadsheet that the shop keeps.
type List struct {
	Name     string
	Standing statement.Standing
	Version  int64 // current; 0 when nothing of it counts
	File     string
	Batch    string
	ReadAt   int64 // UTC milliseconds of the current version
	Counts   Counts
}

// StagedRow is one row on its way into the book. Statements carry their ids,
// sources and places.
type StagedRow struct {
	Place      statement.Place
	Hash       string // of the row as read, with its running number among equals
	Statements []statement.Statement
	Postings   []shelf.Posting
}

// ImportWriter writes the next version of a list. Nothing of it is read before
// Commit; Abandon leaves nothing behind.
type ImportWriter interface {
	Version() int64
	// Recurring counts how many of these row hashes stand in the list's current
	// version, and how many in the current version of any other list (with the
	// name of the one that holds most).
	Recurring(ctx context.Context, hashes []string) (same, other int, otherList string, err error)
	// Source makes sure that a source is known.
	Source(ctx context.Context, s statement.Source) error
	// Stage writes some rows in one transaction.
	Stage(ctx context.Context, rows []StagedRow) error
	// Finish ends what the new version no longer says, proves the sums and
	// returns what a commit would change.
	Finish(ctx context.Context) (Counts, error)
	// Commit moves the current version, the revision and the change feed in one
	// transaction, and posts the stock. It returns the revision.
	Commit(ctx context.Context, counts Counts) (int64, error)
	// Abandon removes what was staged.
	Abandon(ctx context.Context) error
}

// UndoReport says what an undo did.
type UndoReport struct {
	List       string
	Version    int64 // current again
	Revision   int64
	Reversed   int      // stock movements reversed
	LeftCounts []string // bins with later movements, left for a count
}

// Change is one entry of the change feed: after Revision these part keys say
// something else.
type Change struct {
	Revision int64
	Key      string
}

// Hit is one result of a search. A better hit has a higher score; scores of
// different searches have nothing to do with one another.
type Hit struct {
	Key   string
	Score float64
}

// ErrIndexDamaged is in the chain of an index's errors when it must be rebuilt;
// its revision is 0 from then on.
var ErrIndexDamaged = errors.New("the search index is damaged")

// Index is the full-text index: disposable, fed from the change feed. Every
// implementation passes the suite in testkit/indexsuite.
type Index interface {
	// Revision is the book revision that the index has caught up with; 0 for one
	// that is empty or must be rebuilt.
	Revision() int64
	// Apply writes documents and, with the last of them, the revision; killed
	// before that, the index still stands at the revision before, and applying
	// again does no harm. A document without numbers removes the key; of several
	// with one key the last counts.
	Apply(ctx context.Context, docs []Document, revision int64) error
	// Rebuild replaces everything by these documents, each key once. Searches
	// are answered from the old contents until the new ones are complete; after
	// an error from docs the old contents stay.
	Rebuild(ctx context.Context, docs iter.Seq2[Document, error], revision int64) error
	// Search gives the best hits for a parsed query and how many there are.
	// Every term must be found: as a whole number or its beginning (three
	// characters or more), as an engine or model code, as the part type it names
	// or as words. Only where a query finds nothing in this way are beginnings of
	// codes and words tried. Whole numbers come first, then beginnings of
	// numbers, codes, part types, words; fewer words before many, ties by key.
	// A pattern with a gap is for others to answer and finds nothing here.
	Search(ctx context.Context, q query.Query, limit int) ([]Hit, int, error)
	Close() error
}

// Document is what can be searched of one part key.
type Document struct {
	Key        string
	Makers     []string
	Numbers    []string // as printed
	Types      []string
	Names      []string // descriptions
	Engines    []string
	ModelCodes []string
	Models     []string
}

// Rows is a sheet read into rows of statements: the importers' side of an
// import.
type Rows interface {
	// Each yields every row that stands in the file, in file order.
	Each(ctx context.Context, yield func(Row) error) error
}

// RowState is what became of a row.
type RowState string

// States of a row; each row of a file has exactly one.
const (
	Taken   RowState = "taken"
	Flagged RowState = "flagged" // in the book with a remark, or with one cell left out
	Refused RowState = "refused" // nothing of it could be used
	Skipped RowState = "skipped" // blank, heading, title, total
)

// Row is one row as read. Statements have neither ids nor sources yet: From
// names the source in the row's own words, "" for the list itself.
type Row struct {
	Place      statement.Place
	State      RowState
	Why        string // for skipped rows
	From       string
	Standing   statement.Standing // of From, where its words tell; "" otherwise
	Manner     statement.Manner
	Statements []statement.Statement
	Postings   []shelf.Posting
	Problems   []Problem
}

// Problem is one thing that is wrong in a row: no error, but collected and
// counted.
type Problem struct {
	File   string `json:"file"`
	Sheet  string `json:"sheet,omitempty"`
	Row    int    `json:"row"`
	Cell   string `json:"cell,omitempty"`
	Rule   string `json:"rule"`   // stable word: number_typed, year_as_date, unknown_relation
	Got    string `json:"got"`    // what stands there
	Wanted string `json:"wanted"` // what was expected, and what to do
}

// PartTypes gives part types by name and by the words of sheets.
type PartTypes interface {
	All() []part.Type
	ByName(name string) (part.Type, bool)
	ByWord(word string) (part.Type, bool)
}
