// Package sheet reads workbooks (.xlsx) and delimited text (.csv) as rows of
// cells with addresses, within limits. It knows nothing of what the cells mean.
//
// A file is opened with [Open], its sheets are listed by [File.Sheets] and read
// one row at a time by [File.Rows], in the order in which they stand in the file
// and with the numbers that a spreadsheet program shows beside them. What cannot
// be read is refused with an [UnreadableError], which says in one line what is
// wrong, where, and what to do.
//
// Two rules shape the package. Nothing is lost: a sheet that is cut short, cells
// that stand out of order and references that lead nowhere refuse the file
// instead of giving fewer rows. And every input is bounded before the work: the
// claims of the zip directory are checked, the bytes that really come out are
// counted, and parts that are not needed (pictures, charts) are never unpacked.
//
// Workbooks are read by a scanner of our own, because the usual library unpacks
// every part on opening and ends a damaged sheet without an error; the tests hold
// the scanner to that library cell for cell. File format: ECMA-376 part 1
// (SpreadsheetML), ECMA-376 part 2 (packaging), RFC 4180 for csv.
package sheet
