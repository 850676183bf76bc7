// Package archtest holds the tests that guard the house: which package may know
// which, where each library lives, how long files and functions grow, that all
// that is exported is described, and that the top level holds nothing else.
package archtest
