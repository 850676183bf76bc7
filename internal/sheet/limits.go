package sheet

// Limits bound what a file may ask of the machine. A field that is zero has its
// default, see [DefaultLimits]; nothing is ever unlimited.
type Limits struct {
	FileBytes    int64 // size of the file on disk
	Rows         int   // highest row number, and rows of a csv file
	Columns      int   // highest column that holds something
	Cells        int   // cells of one sheet, blank ones with a style too
	CellChars    int   // characters in one cell
	LineBytes    int   // bytes of one line of a csv file, as UTF-8
	Entries      int   // files inside the workbook's zip archive
	Ratio        int64 // how many times a part may grow when it is unpacked
	RatioFrom    int64 // bytes of a part up to which Ratio is not asked
	PartBytes    int64 // unpacked bytes of one sheet, or of the shared texts
	SmallBytes   int64 // unpacked bytes of any other part that is read
	Sheets       int   // sheets in one workbook
	Strings      int   // shared texts in one workbook
	StringBytes  int64 // bytes of all shared texts together
	Styles       int   // cell styles in one workbook
	Merges       int   // merged ranges in one workbook
	MergedFilled int   // cells of one sheet that are filled from merged ranges
}

// DefaultLimits gives the limits that are used where none are named.
func DefaultLimits() Limits {
	return Limits{
		FileBytes:    50 << 20,  // about 340,000 rows of 20 columns; a shop's lists have 200 to 20,000
		Rows:         1_048_576, // what the file format allows
		Columns:      256,       // what the oldest spreadsheets allowed; lists use up to 40
		Cells:        8_000_000, // a 50 MB workbook of plain rows has 7 million; bounds the time
		CellChars:    32_767,    // what the file format allows
		LineBytes:    4 << 20,   // 128 cells filled to the brim; more is no list
		Entries:      10_000,    // a workbook with a picture on every row of a long list has some thousands
		Ratio:        100,       // lists shrink 5 to 20 times when packed, bombs 400 to 1,000 times
		RatioFrom:    100 << 10, // small parts are harmless and may be very repetitive
		PartBytes:    320 << 20, // a 50 MB workbook of plain rows unpacks to about 280 MB
		SmallBytes:   16 << 20,  // the sheet list and the styles are some kilobytes
		Sheets:       1_024,     // one sheet for each day of two years and some more
		Strings:      4_000_000, // 8 bytes each are kept in memory: 32 MB
		StringBytes:  64 << 20,  // all are kept in memory while the file is open
		Styles:       65_536,    // the file format allows 65,490
		Merges:       65_536,    // 32 bytes each in memory; lists have tens to some thousands
		MergedFilled: 1_000_000, // a range can cover a whole sheet, and each filled cell is handed out
	}
}

// withDefaults replaces fields that are zero or negative by their defaults.
func (l Limits) withDefaults() Limits {
	d := DefaultLimits()
	orDefault(&l.FileBytes, d.FileBytes)
	orDefault(&l.Rows, d.Rows)
	orDefault(&l.Columns, d.Columns)
	orDefault(&l.Cells, d.Cells)
	orDefault(&l.CellChars, d.CellChars)
	orDefault(&l.LineBytes, d.LineBytes)
	orDefault(&l.Entries, d.Entries)
	orDefault(&l.Ratio, d.Ratio)
	orDefault(&l.RatioFrom, d.RatioFrom)
	orDefault(&l.PartBytes, d.PartBytes)
	orDefault(&l.SmallBytes, d.SmallBytes)
	orDefault(&l.Sheets, d.Sheets)
	orDefault(&l.Strings, d.Strings)
	orDefault(&l.StringBytes, d.StringBytes)
	orDefault(&l.Styles, d.Styles)
	orDefault(&l.Merges, d.Merges)
	orDefault(&l.MergedFilled, d.MergedFilled)
	return l
}

func orDefault[T int | int64](field *T, value T) {
	if *field <= 0 {
		*field = value
	}
}

// inWords writes a number of bytes for a person: "50 MB".
func inWords(bytes int64) string {
	switch {
	case bytes >= 10<<20:
		return decimal(bytes>>20) + " MB"
	case bytes >= 10<<10:
		return decimal(bytes>>10) + " KB"
	}
	return decimal(bytes) + " bytes"
}

// decimal writes n with commas between groups of three: "1,048,576".
func decimal[T int | int64](n T) string {
	if n < 0 {
		return "-" + decimal(-n)
	}
	if n < 1000 {
		return itoa(int(n))
	}
	rest := itoa(int(n % 1000))
	return decimal(n/1000) + ",000"[:4-len(rest)] + rest
}
