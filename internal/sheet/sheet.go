package sheet

import (
	"context"
	"time"
)

// Kind is what a file turned out to be, by its bytes and not by its name.
type Kind string

// The kinds of file that are read.
const (
	XLSX Kind = "xlsx"
	CSV  Kind = "csv"
)

// CellType says what a cell holds.
type CellType int

// The types of cells. Every cell of a csv file is Text or Blank.
const (
	Blank          CellType = iota // nothing, or a formula whose result is an empty text
	Text                           // characters
	Number                         // a number
	Date                           // a number that is shown as a date, a time or a duration
	Bool                           // TRUE or FALSE
	ErrorValue                     // #N/A, #REF! and the like, as the Text
	FormulaNoValue                 // a formula whose result is not in the file
)

// String names the type.
func (t CellType) String() string {
	names := [...]string{"blank", "text", "number", "date", "bool", "error", "formula without value"}
	if t < 0 || int(t) >= len(names) {
		return "unknown"
	}
	return names[t]
}

// Row is one row that stands in a file. The cells run from column A without gaps;
// blank ones at the end are left out, so a blank row has none. A Row may be kept.
type Row struct {
	Number int  // from 1, as a spreadsheet program shows it
	Hidden bool // hidden by hand or by a filter
	Cells  []Cell
}

// Cell is one cell.
type Cell struct {
	Text    string    // what the shop sees; for numbers plain digits where that would hide some
	Raw     string    // as it stands in the file
	Type    CellType  // what it holds
	Date    time.Time // for Date: day and time in UTC, as the file has no time zone
	Merged  bool      // filled from the top left cell of its merged range
	Formula bool      // the value is the result of a formula
	Format  string    // the number format's code as 0000000 or yyyy-mm-dd, "" for General
}

// SheetInfo tells of one sheet.
type SheetInfo struct {
	Name          string // "" for a csv file
	Index         int    // from 1
	Hidden        bool
	HiddenColumns []int // columns from 1, rising
}

// Dialect is how a csv file is written, found by looking at it.
type Dialect struct {
	Encoding  string // "UTF-8", "UTF-16LE", "UTF-16BE", "Shift_JIS", "windows-1252"
	Delimiter rune   // ',', ';', tab, '|', or 0 where each line is one cell
	Quote     rune   // '"'
	Why       string // one line for a person, to confirm
}

// File is one opened spreadsheet file. Several calls of Rows may run one after
// another; a File is not for use by several goroutines at once.
type File struct {
	Name    string // without the folder
	Kind    Kind
	Hash    string   // SHA-256 of the bytes, in lower case hexadecimal
	Dialect *Dialect // of a csv file, else nil

	limits Limits
	book   *workbook
	text   *textFile
	close  func() error
}

// Sheets lists the sheets in the order of the workbook, hidden ones too; sheets
// that hold only a chart are left out. A csv file has one sheet without a name.
func (f *File) Sheets() []SheetInfo {
	if f.book == nil {
		return []SheetInfo{{Index: 1}}
	}
	infos := make([]SheetInfo, len(f.book.sheets))
	for i, s := range f.book.sheets {
		infos[i] = SheetInfo{Name: s.name, Index: i + 1, Hidden: s.hidden, HiddenColumns: s.hiddenCols}
	}
	return infos
}

// Rows calls yield for each row that stands in a sheet, blank ones too, in the
// order of the file. It ends with the first error of yield, which it returns as
// it is, with the context's error, or with an *[UnreadableError] where the sheet
// turns out to be damaged or over a limit: rows that were handed out before that
// must not be kept.
func (f *File) Rows(ctx context.Context, sheet string, yield func(Row) error) error {
	if f.book == nil {
		if sheet != "" {
			return named(refusal(NotFound, "a csv file has one sheet, without a name", "there is no sheet %q", sheet), f.Name, "")
		}
		return named(f.text.rows(ctx, yield), f.Name, "")
	}
	s := f.book.sheet(sheet)
	if s == nil {
		return named(refusal(NotFound, "look at the list of its sheets", "there is no sheet %q", sheet), f.Name, "")
	}
	return named(f.book.rows(ctx, s, yield), f.Name, sheet)
}

// Close lets go of the file.
func (f *File) Close() error { return f.close() }
