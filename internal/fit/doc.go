// Package fit answers which parts go into a vehicle: candidates by fitment, by
// number and by kin, the evidence for each, and a verdict. It is pure: all that
// it knows comes in with the question, and the same question over the same
// knowledge gives the same answer.
package fit
