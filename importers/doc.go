// Package importers reads the spreadsheets of a shop into statements.
//
// [Read] opens no file and writes nothing: it takes a workbook that package
// sheet has opened, finds the tables in it by their headings, and gives a
// [Reading] whose rows are handed out one at a time. What the columns mean is
// settled in three steps: the words of a heading name fields ([Words]), a
// heading with several meanings is settled by what its column holds, and the
// fields that a table has say what its rows are.
//
// The rules of the package:
//
//   - Every row that stands in the file ends as exactly one of taken, flagged,
//     refused and skipped, and the row as it was read stays with it.
//   - Nothing is guessed. A cell that could be read in two ways is left out and
//     the row is flagged with what stands there and what to do.
//   - A clause on the vehicle that could not be read takes the whole fitment
//     with it, because a fitment without that clause would speak of more
//     vehicles than the sheet does.
//   - Statements do not depend on where a row stands, except where the sheet
//     itself says "as above" or names a section.
package importers
