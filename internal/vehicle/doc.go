// Package vehicle holds what is known of a vehicle: its numbers, its dates,
// its facts, and the scopes that a fitment speaks of.
//
// The readers take text as shops, plates and papers write it and are pure
// functions: no clock, no files, no panic on any input.
//
//   - Fold makes one spelling of width, case, spaces and dashes.
//   - ParseDate reads one date as an Interval of months, ParseRange a range of
//     dates; Japanese era years are read in both.
//   - ParseFrame reads the frame number of a Japanese domestic vehicle,
//     ParseDesignation its model designation, DecodePrefix the exhaust-rule
//     symbol in front of it.
//   - ParseVIN reads a 17-character VIN, CheckDigit computes its check digit.
//
// Every reader keeps the text as it was given, returns remarks as Warnings and
// refuses with a ParseError or, where a text has several readings, with an
// AmbiguousError that carries them all: doubt is handed on, never settled by a
// guess.
package vehicle
